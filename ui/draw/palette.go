package draw

import (
	"strings"

	"bay.example/pawl/job/phrase"
)

// Role is the part a piece of text plays on the screen; the palette gives it
// its colours. No role is dimmed: what is worth drawing is worth reading.
type Role uint8

// The roles of text.
const (
	Text     Role = iota // running text
	Title                // headings and the value that matters now
	Faint                // second in rank, still at full legibility
	Caution              // the caution that stands before the step it belongs to
	Good                 // a state that lets work go on
	Bad                  // a state that stops it
	Warn                 // a state that needs a decision
	Selected             // the row or field that has the focus
	Key                  // the name of a key
	Frame                // lines, axes and boxes
	Standing             // what was opened, hung or raised and is not yet put back
	roleCount
)

// ink is how one role looks: 24-bit colours as "#rrggbb", the nearest choice
// among the 16 basic colours made by hand (-1 is the terminal's own), and the
// attributes that stay when colour goes.
type ink struct {
	fg, bg     string
	fg16, bg16 int
	bold       bool
	underline  bool
	reverse    bool
}

// palette is one complete set of inks. A painted palette sets its background on
// every cell, because a screen that is half white glares more than either.
type palette struct {
	painted bool
	inks    [roleCount]ink
}

// Palettes names the palettes in the order they are offered.
func Palettes() []string { return []string{"bright", "dark", "mono"} }

func paletteByName(name string) (palette, error) {
	switch name {
	case "bright":
		return bright, nil
	case "dark":
		return dark, nil
	case "mono":
		return mono, nil
	}
	return palette{}, phrase.Error("draw.palette.is-not-a-palette-choose", Clean(name), strings.Join(Palettes(), ", "))
}

// bright is black on white for a bay with the door open.
var bright = palette{painted: true, inks: [roleCount]ink{
	Text:     {fg: "#000000", bg: "#ffffff", fg16: 0, bg16: 15},
	Title:    {fg: "#00284d", bg: "#ffffff", fg16: 4, bg16: 15, bold: true},
	Faint:    {fg: "#3d4852", bg: "#ffffff", fg16: 0, bg16: 15},
	Caution:  {fg: "#000000", bg: "#ffe39a", fg16: 0, bg16: 11, bold: true},
	Good:     {fg: "#00582a", bg: "#ffffff", fg16: 0, bg16: 15, bold: true},
	Bad:      {fg: "#ffffff", bg: "#a8001c", fg16: 15, bg16: 1, bold: true},
	Warn:     {fg: "#000000", bg: "#ffb52e", fg16: 0, bg16: 3, bold: true},
	Selected: {fg: "#ffffff", bg: "#00417a", fg16: 15, bg16: 4, bold: true},
	Key:      {fg: "#ffffff", bg: "#2b333b", fg16: 15, bg16: 0, bold: true},
	Frame:    {fg: "#4f5b66", bg: "#ffffff", fg16: 0, bg16: 15},
	Standing: {fg: "#ffffff", bg: "#5a2382", fg16: 15, bg16: 5, bold: true},
}}

// dark is light on black for the pit and the night shift.
var dark = palette{painted: true, inks: [roleCount]ink{
	Text:     {fg: "#f2f2f2", bg: "#000000", fg16: 15, bg16: 0},
	Title:    {fg: "#bfe3ff", bg: "#000000", fg16: 15, bg16: 0, bold: true},
	Faint:    {fg: "#c3cad1", bg: "#000000", fg16: 7, bg16: 0},
	Caution:  {fg: "#000000", bg: "#ffe39a", fg16: 0, bg16: 11, bold: true},
	Good:     {fg: "#6fe89b", bg: "#000000", fg16: 10, bg16: 0, bold: true},
	Bad:      {fg: "#000000", bg: "#ff7a7a", fg16: 15, bg16: 1, bold: true},
	Warn:     {fg: "#000000", bg: "#ffb52e", fg16: 0, bg16: 3, bold: true},
	Selected: {fg: "#000000", bg: "#8ecbff", fg16: 0, bg16: 14, bold: true},
	Key:      {fg: "#000000", bg: "#d7dde3", fg16: 0, bg16: 7, bold: true},
	Frame:    {fg: "#9fabb7", bg: "#000000", fg16: 7, bg16: 0},
	Standing: {fg: "#000000", bg: "#d9a8ff", fg16: 15, bg16: 5, bold: true},
}}

// mono uses no colour at all, only weight, line and reverse video.
var mono = palette{inks: [roleCount]ink{
	Text:     {fg16: -1, bg16: -1},
	Title:    {fg16: -1, bg16: -1, bold: true},
	Faint:    {fg16: -1, bg16: -1},
	Caution:  {fg16: -1, bg16: -1, bold: true, underline: true},
	Good:     {fg16: -1, bg16: -1, bold: true},
	Bad:      {fg16: -1, bg16: -1, bold: true, reverse: true},
	Warn:     {fg16: -1, bg16: -1, reverse: true},
	Selected: {fg16: -1, bg16: -1, reverse: true},
	Key:      {fg16: -1, bg16: -1, bold: true, reverse: true},
	Frame:    {fg16: -1, bg16: -1},
	Standing: {fg16: -1, bg16: -1, bold: true, underline: true},
}}
