package draw

import "strings"

// bigRows is the height of the shapes below in dots.
const bigRows = 5

// bigShapes are the characters of a reading in dots, row by row. They are told
// apart at two metres by their gaps, so none has a slanted or thin stroke.
var bigShapes = map[rune][bigRows]string{
	'0': {".##.", "#..#", "#..#", "#..#", ".##."},
	'1': {".#.", "##.", ".#.", ".#.", "###"},
	'2': {"###.", "...#", ".##.", "#...", "####"},
	'3': {"###.", "...#", ".##.", "...#", "###."},
	'4': {"#..#", "#..#", "####", "...#", "...#"},
	'5': {"####", "#...", "###.", "...#", "###."},
	'6': {".##.", "#...", "###.", "#..#", ".##."},
	'7': {"####", "...#", "..#.", "..#.", "..#."},
	'8': {".##.", "#..#", ".##.", "#..#", ".##."},
	'9': {".##.", "#..#", ".###", "...#", ".##."},
	'.': {".", ".", ".", ".", "#"},
	',': {"..", "..", "..", ".#", "#."},
	'-': {"...", "...", "###", "...", "..."},
	'+': {"...", ".#.", "###", ".#.", "..."},
	' ': {"..", "..", "..", "..", ".."},
}

// bigStrokes are the same characters in three lines of ASCII.
var bigStrokes = map[rune][3]string{
	'0': {" _ ", "| |", "|_|"}, '1': {"  ", " |", " |"}, '2': {" _ ", " _|", "|_ "}, '3': {"_ ", "_|", "_|"},
	'4': {"   ", "|_|", "  |"}, '5': {" _ ", "|_ ", " _|"}, '6': {" _ ", "|_ ", "|_|"}, '7': {"_ ", " |", " |"},
	'8': {" _ ", "|_|", "|_|"}, '9': {" _ ", "|_|", " _|"}, '.': {" ", " ", "."}, ',': {" ", " ", ","}, '-': {"  ", "__", "  "},
	'+': {"   ", "_|_", " | "}, ' ': {" ", " ", " "},
}

// BigText writes a number so that it is readable from two metres, in five or
// three lines of w cells. Where there is no room, or a character has no big
// shape, it takes the next smaller size and at last plain text, which ends in the
// cut mark if it is too long even then.
func (t *Theme) BigText(r Role, text string, w, lines int) string {
	text = t.Plain(strings.ReplaceAll(text, "−", "-"))
	var rows []string
	if lines >= 5 {
		rows = t.dots(text, w)
	}
	if rows == nil && lines >= 3 {
		rows = t.halves(text, w)
	}
	if rows == nil {
		rows = []string{t.Truncate(text, w)}
	}
	for i, row := range rows {
		rows[i] = t.styled(r, row)
	}
	return t.Fit(strings.Join(rows, "\n"), w, lines)
}

// dots is the size of five lines, two cells to a dot; nil if it does not fit.
func (t *Theme) dots(text string, w int) []string {
	rows := make([]string, bigRows)
	for i, c := range text {
		shape, known := bigShapes[c]
		if !known {
			return nil
		}
		for y := range rows {
			if i > 0 {
				rows[y] += "  "
			}
			for _, dot := range shape[y] {
				if dot == '#' {
					rows[y] += t.Glyphs.BigOn + t.Glyphs.BigOn
				} else {
					rows[y] += "  "
				}
			}
		}
	}
	if Width(rows[0]) > w {
		return nil
	}
	return rows
}

// halves is the size of three lines: half cells, or strokes in ASCII; nil if it
// does not fit.
func (t *Theme) halves(text string, w int) []string {
	rows := make([]string, 3)
	for i, c := range text {
		shape, known := bigShapes[c]
		if !known {
			return nil
		}
		for y := range rows {
			if i > 0 {
				rows[y] += " "
			}
			if t.ascii {
				rows[y] += bigStrokes[c][y]
				continue
			}
			for x := range shape[0] {
				upper := shape[2*y][x] == '#'
				lower := 2*y+1 < bigRows && shape[2*y+1][x] == '#'
				switch {
				case upper && lower:
					rows[y] += t.Glyphs.BigOn
				case upper:
					rows[y] += t.Glyphs.BigTop
				case lower:
					rows[y] += t.Glyphs.BigFoot
				default:
					rows[y] += " "
				}
			}
		}
	}
	if Width(rows[0]) > w {
		return nil
	}
	return rows
}
