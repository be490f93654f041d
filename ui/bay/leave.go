package bay

import "bay.example/pawl/job/phrase"

// leaveName marks the dialog that asks whether to leave the program.
const leaveName = "leave"

// leave asks before the program ends. There is nothing to save: all that was entered is recorded,
// and half-typed text is kept.
func leave() Action {
	return Ask{Name: leaveName, Dialog: newYesNo(phrase.Of("bay.leave.leave-pawl"), phrase.Of("bay.leave.everything-entered-is-recorded-text-half-typed"))}
}
