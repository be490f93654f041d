// Package reckon holds the bench calculators: one question, one answer with its source. The command
// pawl reckon and the bench of the full-screen program ask the same questions here and differ only
// in how they take the inputs and show the answer.
//
// A question is made anew for every use: its flags hold what was given. An input is text; a bare
// number takes the unit of its place, decimals have a point or a comma. An answer holds the figures
// in order, sentences, sources, and where there is one the picture as numbers.
//
// The package draws nothing, writes nothing and knows no terminal. It imports job and the flag
// library; it must not import store, ui/draw or ui/bay.
package reckon
