package questions

// all is every question, by its number.
var all = []*question{
	wrenchActions, batch, signatures, tightened, firstTimeRight, onStands, openStates, longestStates, retorques, retorqueMoved,
	corrections, deviations, weakEvidence, wrenchesDue, inCalibration, repeated, wearsOut, wearRate, unevenAgain, runOutFitted,
	comebacks, refusedAdvice, withheld, withoutSecond, specRevision, lateCountersigns, oddHours, personDid, expired, oldFluid,
	roller, quarantined, whole, interrupted, replacedNew, asReleased, stageTimes, traits,
}
