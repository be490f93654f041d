package bay

// leaveName marks the dialog that asks whether to leave the program.
const leaveName = "leave"

// leave asks before the program ends. There is nothing to save: all that was entered is recorded,
// and half-typed text is kept.
func leave() Action {
	return Ask{Name: leaveName, Dialog: newYesNo("Leave pawl?", "Everything entered is recorded. Text half typed is kept and comes back at the next start.")}
}
