// Package draw turns plain data and a width into text for a terminal: the
// theme, the fitting of text into cells, and the pictures of the bay (gauge,
// disc ring, run-out curve, stud positions, pad points, wear line, big digits,
// phases, table, key bar).
//
// Everything here is pure. It knows numbers, words and widths, no job and no
// program loop: it must import neither bubbletea nor any package of job/,
// procedures/ or store/. Floating point serves only to find a cell; whether a
// value is inside a limit is decided elsewhere and handed in as a State.
//
// Three rules hold for all of it. A state is a word first, a marker second, a
// colour third. Text from people, files and scanners passes Clean before it
// reaches a cell. A drawing is never wider or taller than it was asked to be,
// and says so where it had to leave something out.
package draw

import (
	// The start must not wait for an answer of the terminal.
	_ "bay.example/pawl/ui/draw/quiet"
)
