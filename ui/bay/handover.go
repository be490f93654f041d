package bay

import "bay.example/pawl/ui/draw"

const handOverName = "hand over"

// handOver asks who goes on from here.
func handOver(e *Env) Action {
	return Ask{Name: handOverName, Dialog: newWho("Hand over", []line{{text: "Who goes on? That person signs in with the own code; nothing is recorded by it."}},
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
	return Many{SignIn{v.Person}, Say{Text: v.Person.Name + " is signed in now", Role: draw.Good}}
}
