//go:build ignore

// Shots turns a terminal's screen with its colour sequences, on standard input, into a page of the
// same look on standard output. Arguments: columns, rows.
package main

import (
	"bufio"
	"fmt"
	"html"
	"os"
	"strconv"
	"strings"
)

// look is how the next characters are drawn.
type look struct {
	ink, ground                      string
	bold, faint, under, back, italic bool
}

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "shots: expected columns and rows")
		os.Exit(2)
	}
	fmt.Printf(`<!doctype html><meta charset="utf-8"><style>
body{margin:0;background:#14161a;padding:12px}
pre{margin:0;color:#d8dade;font:15px/18px "DejaVu Sans Mono",monospace;width:%sch;height:calc(%s * 18px)}
span{display:inline-block;height:18px;vertical-align:top}
</style><pre>`, os.Args[1], os.Args[2])
	in := bufio.NewScanner(os.Stdin)
	in.Buffer(nil, 1<<20)
	var now look
	for in.Scan() {
		row(&now, in.Text())
		fmt.Println()
	}
	if err := in.Err(); err != nil {
		fmt.Fprintln(os.Stderr, "shots:", err)
		os.Exit(1)
	}
	fmt.Print("</pre>")
}

// row writes one row, changing the look as its sequences say.
func row(now *look, text string) {
	for text != "" {
		i := strings.Index(text, "\x1b[")
		if i < 0 {
			i = len(text)
		}
		if i > 0 {
			fmt.Printf(`<span style="%s">%s</span>`, now.style(), html.EscapeString(text[:i]))
			text = text[i:]
			continue
		}
		codes, rest, ok := strings.Cut(text[2:], "m")
		if !ok {
			return
		}
		now.change(strings.Split(strings.ReplaceAll(codes, ":", ";"), ";"))
		text = rest
	}
}

func (l look) style() string {
	ink, ground := l.ink, l.ground
	if l.back {
		if ink == "" {
			ink = "#d8dade"
		}
		if ground == "" {
			ground = "#14161a"
		}
		ink, ground = ground, ink
	}
	out := ""
	for _, s := range []struct {
		on   bool
		text string
	}{{ink != "", "color:" + ink}, {ground != "", "background:" + ground}, {l.bold, "font-weight:bold"}, {l.faint, "opacity:.6"},
		{l.under, "text-decoration:underline"}, {l.italic, "font-style:italic"}} {
		if s.on {
			out += s.text + ";"
		}
	}
	return out
}

// change takes the codes of one SGR sequence (ECMA-48 8.3.117; 38 and 48 as xterm has them).
func (l *look) change(codes []string) {
	for i := 0; i < len(codes); i++ {
		n, _ := strconv.Atoi(codes[i]) // an empty code is 0
		switch {
		case n == 0:
			*l = look{}
		case n == 1:
			l.bold = true
		case n == 2:
			l.faint = true
		case n == 3:
			l.italic = true
		case n == 4:
			l.under = true
		case n == 7:
			l.back = true
		case n == 22:
			l.bold, l.faint = false, false
		case n == 23:
			l.italic = false
		case n == 24:
			l.under = false
		case n == 27:
			l.back = false
		case n == 39:
			l.ink = ""
		case n == 49:
			l.ground = ""
		case n >= 30 && n <= 37:
			l.ink = indexed(n - 30)
		case n >= 90 && n <= 97:
			l.ink = indexed(n - 82)
		case n >= 40 && n <= 47:
			l.ground = indexed(n - 40)
		case n >= 100 && n <= 107:
			l.ground = indexed(n - 92)
		case n == 38 || n == 48:
			colour, used := long(codes[i+1:])
			i += used
			if n == 38 {
				l.ink = colour
			} else {
				l.ground = colour
			}
		}
	}
}

// long reads the rest of a 38 or 48: 5;index or 2;red;green;blue.
func long(codes []string) (colour string, used int) {
	num := func(i int) int { n, _ := strconv.Atoi(codes[i]); return n }
	switch {
	case len(codes) >= 2 && codes[0] == "5":
		return indexed(num(1)), 2
	case len(codes) >= 4 && codes[0] == "2":
		return fmt.Sprintf("#%02x%02x%02x", num(1), num(2), num(3)), 4
	}
	return "", len(codes)
}

var first = [16]string{"#000000", "#cd3131", "#3fa34d", "#c9a227", "#3b78ff", "#b14bb1", "#2ca3a3", "#d8dade",
	"#666666", "#f14c4c", "#5fd068", "#f5d442", "#6ea0ff", "#d670d6", "#4ad6d6", "#ffffff"}

// indexed is a colour of the 256 of xterm: 16 named, a cube of 6×6×6, 24 greys.
func indexed(n int) string {
	switch {
	case n < 16:
		return first[max(n, 0)]
	case n < 232:
		step := func(v int) int {
			if v == 0 {
				return 0
			}
			return 55 + 40*v
		}
		n -= 16
		return fmt.Sprintf("#%02x%02x%02x", step(n/36), step(n/6%6), step(n%6))
	}
	grey := 8 + 10*(n-232)
	return fmt.Sprintf("#%02x%02x%02x", grey, grey, grey)
}
