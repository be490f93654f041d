package draw

import "bay.example/pawl/job/phrase"

// State is a verdict or a standing that is shown as a word with a marker. The
// zero value shows nothing.
type State uint8

// The states.
const (
	NoState      State = iota
	Inside             // within the limits, proven
	Outside            // beyond a limit
	NotProven          // within the limits, but the instrument cannot tell
	Stale              // was in order, but later work disturbed it
	Open               // opened, hung, raised or borrowed and not yet put back
	Missing            // no reading yet
	Done               // signed
	Now                // being worked on
	Waiting            // not begun
	Blocked            // cannot go on before something else
	Permitted          // a position the parts allow
	NotPermitted       // a position the parts do not allow
	stateCount
)

var stateWords = [stateCount]string{
	Inside: phrase.Of("draw.state.inside"), Outside: phrase.Of("draw.state.outside"), NotProven: phrase.Of("draw.state.not-proven"), Stale: phrase.Of("draw.state.stale"), Open: phrase.Of("draw.state.open"), Missing: phrase.Of("draw.state.missing"),
	Done: phrase.Of("draw.state.done"), Now: phrase.Of("draw.state.now"), Waiting: phrase.Of("draw.state.waiting"), Blocked: phrase.Of("draw.state.blocked"), Permitted: phrase.Of("draw.state.permitted"), NotPermitted: phrase.Of("draw.state.not-permitted"),
}

var stateRoles = [stateCount]Role{
	Inside: Good, Outside: Bad, NotProven: Warn, Stale: Warn, Open: Standing, Missing: Warn,
	Done: Good, Now: Selected, Waiting: Faint, Blocked: Bad, Permitted: Text, NotPermitted: Bad,
}

// Word is the state in words, "" for NoState.
func (s State) Word() string {
	if s >= stateCount {
		return ""
	}
	return stateWords[s]
}

// Role is the role the state's word is written in.
func (s State) Role() Role {
	if s >= stateCount {
		return Text
	}
	return stateRoles[s]
}

// Mark is the state's marker, one cell, "" for NoState.
func (t *Theme) Mark(s State) string {
	if s >= stateCount {
		return ""
	}
	return t.Glyphs.states[s]
}

// Badge is marker and word in the state's role, such as "✓ INSIDE".
func (t *Theme) Badge(s State) string {
	return t.styled(s.Role(), t.badge(s))
}

// badge is the text of Badge. A role with a background gets a blank on either
// side in every role, so that words stand in line whatever the state.
func (t *Theme) badge(s State) string {
	if s.Word() == "" {
		return ""
	}
	return " " + t.Mark(s) + " " + t.Plain(s.Word()) + " "
}
