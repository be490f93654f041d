package bay

import (
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// Screen is one full-screen place of the program. It keeps only what is on its own face (the
// selected row, half-typed text, what the last Result brought) and asks the store only through Call.
type Screen interface {
	// Head is what stands at the left of the first row, such as the job and its vehicle.
	Head(e *Env) string
	// Update takes one input and says what should happen; nil is nothing.
	Update(e *Env, in Input) Action
	// View draws the part between the first row and the status line, w by h cells.
	View(e *Env, w, h int) string
	// Keys declares every letter and named key that does something now, the most useful first.
	Keys(e *Env) []Binding
	// Focus says what takes typed characters.
	Focus() Focus
}

// Dialog is a question or a pane over a screen. It ends with Done or Cancel.
type Dialog interface {
	Screen
	// Height is the number of lines the dialog would like inside its frame of that inner width.
	Height(e *Env, w int) int
}

// footed is a screen with rows at its foot that stay in view under a dialog.
type footed interface{ Foot() int }

// Env is what the root lends to a screen for one call. Screens only read it.
type Env struct {
	Theme *draw.Theme
	Now   time.Time
	// Started is when the program was started.
	Started time.Time
	// Person is who is signed in; the zero Person when nobody is.
	Person register.Person
	// Facts is what the workshop file says about itself, read anew with every Call.
	Facts
	// Notice is shown where people sign in; mostly empty.
	Notice string
	// W and H are the size of the whole terminal.
	W, H int
}

// SignedIn reports whether somebody is signed in.
func (e *Env) SignedIn() bool { return e.Person.ID != "" }

// Context is the context for asking the gates of a job without writing.
func (e *Env) Context() job.Context {
	return job.Context{At: e.Now, Station: e.Station, By: e.Person, Register: e.Register, Cycles: e.Cycles}
}

// Actor is the person signed in, without a code given.
func (e *Env) Actor() store.Actor { return store.Actor{Person: e.Person} }

// Facts is what every screen may need of the workshop file.
type Facts struct {
	Workshop store.Workshop
	Known    bool // the workshop has been set up
	Register register.Register
	Cycles   map[string]int // torque actions of each wrench since its calibration
	Station  string
	Path     string
}

func readFacts(f *store.File) Facts {
	w, known := f.Workshop()
	return Facts{Workshop: w, Known: known, Register: f.Register(), Cycles: f.Context(store.Actor{}).Cycles, Station: f.Station(), Path: f.Path()}
}

// Focus is what takes typed characters.
type Focus uint8

// The kinds of focus.
const (
	FocusNone   Focus = iota // letters are commands
	FocusNumber              // digits and signs go to the field, letters are commands
	FocusText                // everything goes to the field
	FocusCode                // digits go to the field and show as dots
)

// Action is what a screen wants to happen. The set is closed: the types of this file.
type Action interface{ action() }

// Push puts a screen on top of this one, which gets Shown when it is uncovered.
type Push struct{ Screen Screen }

// Pop takes the screen away. The last one asks whether to leave the program instead.
type Pop struct{}

// Replace puts another screen in the place of this one.
type Replace struct{ Screen Screen }

// Restart takes every screen away and begins again with this one.
type Restart struct{ Screen Screen }

// SignIn makes that person the one who acts; the zero Person signs out.
type SignIn struct{ Person register.Person }

// Look changes the palette.
type Look struct{ Palette string }

// Letters draws with ASCII characters only, or with all there are.
type Letters struct{ ASCII bool }

// Call asks the store. Do runs outside the loop of the program and must touch nothing but the file
// and what it captured by value. Until its Result comes back no key reaches any screen, unless the
// call is Quiet.
type Call struct {
	Name  string // comes back in the Result
	Do    func(*store.File) (any, error)
	Quiet bool
	Doing string // said while it takes long; empty: writing
}

// Ask puts a dialog over the screen. What the dialog ends with comes back as Answer with this name.
type Ask struct {
	Name   string
	Dialog Dialog
}

// Done ends a dialog with a value for the screen below.
type Done struct {
	Value any
	Err   error
}

// Cancel ends a dialog with nothing.
type Cancel struct{}

// Say puts a sentence on the status line; one too long for it opens as a pane.
type Say struct {
	Text string
	Role draw.Role
}

// Unknown says that the screen has no use for the key: the root says so in words.
type Unknown struct{}

// Quit ends the program.
type Quit struct{}

// Many is several actions in a row.
type Many []Action

func (Push) action()    {}
func (Pop) action()     {}
func (Replace) action() {}
func (Restart) action() {}
func (SignIn) action()  {}
func (Look) action()    {}
func (Letters) action() {}
func (Call) action()    {}
func (Ask) action()     {}
func (Done) action()    {}
func (Cancel) action()  {}
func (Say) action()     {}
func (Unknown) action() {}
func (Quit) action()    {}
func (Many) action()    {}

// Input is what reaches a screen. The set is closed: Key, Reading, Scan, Paste, Tick, Resize,
// Result, Answer, Shown.
type Input interface{ input() }

// Reading is a whole value with its end, sent by a gauge or typed faster than fingers can; only
// screens with a number field in focus get it.
type Reading string

// Scan is what a scanner sent.
type Scan string

// Paste is pasted text, trimmed. It never ends an entry.
type Paste string

// Tick comes once a second.
type Tick struct{}

// Resize says that the terminal has another size.
type Resize struct{ W, H int }

// Result is what a Call of this screen came to.
type Result struct {
	Name  string
	Value any
	Err   error
}

// Answer is what a dialog of this screen ended with.
type Answer struct {
	Name  string
	Value any
	Err   error
}

// Shown comes when the screen is put on top or uncovered: the time to read what it shows.
type Shown struct{}

func (Key) input()     {}
func (Reading) input() {}
func (Scan) input()    {}
func (Paste) input()   {}
func (Tick) input()    {}
func (Resize) input()  {}
func (Result) input()  {}
func (Answer) input()  {}
func (Shown) input()   {}
