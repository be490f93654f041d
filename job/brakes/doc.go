// Package brakes holds the measuring calculations of the brake bay: disc
// thickness and run-out, indexing, pad patterns, wear forecasts, brake fluid,
// the roller tester, vehicle identification numbers, decision rules under
// measurement uncertainty and the wheel re-torque.
//
// Everything here is a pure function of its arguments: no clock, no disk, no
// terminal, no randomness. It imports the standard library and job/quantity
// only, and must never import job, procedures, store or ui.
//
// Exact rationals decide limits. Floating point serves geometry (harmonics,
// prediction bands, piston volumes, probabilities) and never decides a limit.
// A calculation proposes and asks; it never changes what was typed.
//
// Left and right are seen facing forward from the driver's seat.
package brakes
