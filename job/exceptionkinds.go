package job

// ExceptionKinds lists the kinds of exception, in the order of the foreman's page.
func ExceptionKinds() []string {
	return []string{ExOutsideInside, ExFailed, ExAgain, ExSlip, ExCorrection, ExSwap, ExDeviation, ExEvidence, ExLate, ExAllAtOnce, ExAlike, ExOrder, ExBroken,
		ExNoSecond, ExUnsure, ExWithheld, ExQuestion, ExTrait, ExSheet}
}
