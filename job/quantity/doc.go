// Package quantity holds exact decimal quantities with their units, the
// windows they are judged against, and the verdicts.
//
// A quantity is the decimal that was typed, kept as text, and its unit. Every
// conversion and comparison is exact rational arithmetic (math/big.Rat), so
// 33.6 N·m is inside 35 N·m ± 4 % and so is its exact equal in lbf·ft. A
// floating point number never decides anything here.
//
// The package is pure: it must not import any other package of this module,
// and it has no clock, no disk, no terminal and no randomness.
package quantity
