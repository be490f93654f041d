package bay

func newRegister() Screen { return newPlace("Register") }

// place is an empty screen under a title.
type place struct{ title string }

func newPlace(title string) *place          { return &place{title} }
func (p *place) Head(*Env) string           { return p.title }
func (p *place) Focus() Focus               { return FocusNone }
func (p *place) Keys(*Env) []Binding        { return []Binding{{Key: "Esc", Word: "back", Bar: true}} }
func (p *place) View(*Env, int, int) string { return "" }
func (p *place) Update(_ *Env, in Input) Action {
	if k, ok := in.(Key); ok && k.Sym == Esc {
		return Pop{}
	}
	return ignore(in)
}
