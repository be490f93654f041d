// Package fastening holds the calculations of tightening: whether a wrench can
// prove a torque window, the setting with an adapter, torque plus angle, the
// tightening order and its passes, what a thread can carry, and the hints for a
// value that looks like a slip.
//
// Everything here is pure: no clock, no disk, no terminal. The package may
// import the standard library and job/quantity, nothing else of this program.
//
// Limits are always decided in exact rational arithmetic. Floating point is
// used for the geometry of threads only, and its results are advice, never a
// verdict.
package fastening
