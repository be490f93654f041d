package draw

// Glyphs are the characters a theme draws with. Each is one cell wide, except
// Cut, which may be wider. No braille, no emoji, nothing that has an emoji form:
// terminals disagree about their width.
type Glyphs struct {
	Across, Down                               string // frame lines
	TopLeft, TopRight, BottomLeft, BottomRight string // frame corners
	TeeLeft, TeeRight, TeeUp                   string // branches off a left edge, a right edge, a lower edge
	Track, PostLow, PostHigh, Post, Aim        string // the gauge: window, its two limits, a limit in a bar, the target
	Value, Below, Above                        string // the value, and the arrows for one outside
	Solid, Bar, Shade, Light                   string // block, bar in a row of bars, what is in doubt or past a limit, what is empty
	Reading, High, Middle, Low                 string // a reading and a fitted line in three heights of a cell
	Rim                                        string // the edge of a disc
	Ahead                                      string // goes on without a limit
	Marker                                     string // the selected row
	Cut                                        string // something was cut here
	BigOn, BigTop, BigFoot                     string // big digits: whole cell, upper half, lower half
	states                                     [stateCount]string
}

var unicodeGlyphs = Glyphs{
	Across: "─", Down: "│",
	TopLeft: "╭", TopRight: "╮", BottomLeft: "╰", BottomRight: "╯",
	TeeLeft: "├", TeeRight: "┤", TeeUp: "┴",
	Track: "━", PostLow: "┣", PostHigh: "┫", Post: "┃", Aim: "┿",
	Value: "◆", Below: "◂", Above: "▸",
	Solid: "█", Bar: "▆", Shade: "▒", Light: "·",
	Reading: "●", High: "˙", Middle: "·", Low: ".",
	Rim: "∙", Ahead: "→", Marker: ">", Cut: "…",
	BigOn: "█", BigTop: "▀", BigFoot: "▄",
	states: [stateCount]string{
		Inside: "✓", Outside: "✗", NotProven: "?", Stale: "≈", Open: "◇", Missing: "□",
		Done: "■", Now: "►", Waiting: "○", Blocked: "╳", Permitted: "+", NotPermitted: "−",
	},
}

var asciiGlyphs = Glyphs{
	Across: "-", Down: "|",
	TopLeft: "+", TopRight: "+", BottomLeft: "+", BottomRight: "+",
	TeeLeft: "+", TeeRight: "+", TeeUp: "+",
	Track: "=", PostLow: "[", PostHigh: "]", Post: "|", Aim: "+",
	Value: "O", Below: "<", Above: ">",
	Solid: "#", Bar: "#", Shade: "%", Light: ".",
	Reading: "o", High: "'", Middle: "-", Low: ".",
	Rim: ".", Ahead: ">", Marker: ">", Cut: "..",
	BigOn: "#", BigTop: "#", BigFoot: "#",
	states: [stateCount]string{
		Inside: "=", Outside: "X", NotProven: "?", Stale: "~", Open: "!", Missing: "_",
		Done: "*", Now: "@", Waiting: "o", Blocked: "#", Permitted: "+", NotPermitted: "-",
	},
}
