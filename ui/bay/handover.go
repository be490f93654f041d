package bay

import (
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

const handOverName = "hand-over"

// handOver asks who goes on from here.
func handOver(e *Env) Action {
	return Ask{Name: handOverName, Dialog: newWho(phrase.Of("bay.handover.hand-over"), []line{{text: phrase.Of("bay.handover.who-goes-on-that-person-signs-in")}},
		working(e.Register, e.Person.ID), nil)}
}

// handedOver signs the person in who took over.
func handedOver(a Answer) Action {
	v, ok := a.Value.(vouched)
	switch {
	case a.Err != nil:
		return Say{Text: a.Err.Error(), Role: draw.Bad}
	case !ok:
		return nil
	}
	return Many{SignIn{v.Person}, Say{Text: phrase.Of("bay.handover.is-signed-in-now", v.Person.Name), Role: draw.Good}}
}
