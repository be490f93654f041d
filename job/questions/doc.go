// Package questions answers what is asked months later: which vehicles had that wrench, who signed,
// what was corrected, what repeats. It works on cards, one job after the other, and on what the
// register says; it imports job and what lies below it, knows no file, no clock and no terminal, and
// judges nothing anew but what a recall asks it to.
//
// Every answer says the span it covers, how many records were searched and which could not be
// judged: none found is not the same as cannot tell.
package questions
