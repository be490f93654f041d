package bay

import (
	"strings"
	"time"
	"unicode"

	"bay.example/pawl/job/quantity"
)

// Times of the input layer. People press keys further apart than burstGap; scanners and gauges send
// closer together. A held key repeats every 25 to 40 ms. Common practice, no source.
const (
	burstGap  = 30 * time.Millisecond // closer characters belong to one burst
	crlfGap   = 50 * time.Millisecond // an empty commit so soon after one is its second half
	againGap  = 60 * time.Millisecond // the same key so soon is the key held down,
	queueGap  = 15 * time.Millisecond // unless it is sooner still: then it waited behind another
	keypadGap = 50 * time.Millisecond // between the two halves of an application-mode keypad key
)

const (
	leastScan      = 4  // characters that make a burst a scan
	mostNumber     = 8  // characters of a burst that can still be a bare number
	mostReading    = 14 // the same for a number with its unit
	groupSeparator = '\x1d'
)

// keypad maps the second half of a keypad key in application mode (ESC O x) to what is printed on
// the key; the first half reaches us as alt+O. Source: the keypad table of xterm's control
// sequences (from memory), checked against tmux.
var keypad = map[rune]rune{'p': '0', 'q': '1', 'r': '2', 's': '3', 't': '4', 'u': '5', 'v': '6', 'w': '7', 'x': '8', 'y': '9',
	'n': '.', 'l': ',', 'k': '+', 'm': '-', 'j': '*', 'o': '/', 'M': '\r'}

// layer turns key messages into inputs. It is pure: the time comes with the message. A character is
// held back until it is clear whether it belongs to a burst.
type layer struct {
	held    []rune
	times   []time.Time
	commit  time.Time // the last commit
	last    Key
	lastAt  time.Time
	keypadO time.Time // when alt+O came; zero when the next rune is an ordinary one
}

// waiting reports whether characters are held back; settle must be called burstGap later.
func (l *layer) waiting() bool { return len(l.held) > 0 }

// take handles one message and returns the inputs that are clear by now.
func (l *layer) take(r raw, at time.Time, f Focus) []Input {
	var out []Input
	if r.sym != Enter { // what comes after anything else is no second half of a line end
		l.commit = time.Time{}
	}
	if l.waiting() && at.Sub(l.times[len(l.times)-1]) > burstGap {
		out = l.release(f)
	}
	if r.paste {
		out = append(out, l.release(f)...)
		l.last = Key{}
		return append(out, Paste(onOneLine(string(r.runes))))
	}
	runes := r.runes
	if !l.keypadO.IsZero() && len(runes) > 0 && !r.alt {
		if c, ok := keypad[runes[0]]; ok && at.Sub(l.keypadO) <= keypadGap {
			if c == '\r' {
				out = append(out, l.enter(at, f)...)
			} else {
				l.hold(c, at)
			}
			runes = runes[1:]
			if len(runes) == 0 {
				l.keypadO = time.Time{}
				return out
			}
		}
	}
	l.keypadO = time.Time{}
	switch {
	case r.alt && string(runes) == "O":
		out = append(out, l.release(f)...)
		l.keypadO = at
	case r.alt:
		out = append(append(out, l.release(f)...), l.key(Key{Sym: Other}, at))
	case len(runes) > 0:
		for _, c := range runes {
			l.hold(c, at)
		}
	case r.sym == Enter, r.sym == Tab && len(l.held) >= leastScan:
		out = append(out, l.enter(at, f)...)
	default:
		out = append(append(out, l.release(f)...), l.key(Key{Sym: r.sym}, at))
	}
	return out
}

// settle gives out what was held back, when no character followed within burstGap.
func (l *layer) settle(at time.Time, f Focus) []Input {
	if !l.waiting() || at.Sub(l.times[len(l.times)-1]) < burstGap {
		return nil
	}
	return l.release(f)
}

func (l *layer) hold(c rune, at time.Time) {
	l.held, l.times = append(l.held, c), append(l.times, at)
}

// enter is a commit: the end of a burst, or a key of its own.
func (l *layer) enter(at time.Time, f Focus) []Input {
	last := l.commit
	l.commit = at
	if len(l.held) >= leastScan {
		text := string(l.held)
		l.held, l.times = nil, nil
		if f == FocusNumber && isReading(text) {
			return []Input{Reading(strings.TrimSpace(text))}
		}
		return []Input{Scan(strings.TrimSpace(text))}
	}
	if !l.waiting() && !last.IsZero() && at.Sub(last) < crlfGap {
		return nil
	}
	return append(l.release(f), l.key(Key{Sym: Enter}, at))
}

// release gives out the held characters: as keys, or as a scan without an end where they would
// otherwise be commands.
func (l *layer) release(f Focus) []Input {
	if !l.waiting() {
		return nil
	}
	held, times := l.held, l.times
	l.held, l.times = nil, nil
	if len(held) >= leastScan && f != FocusText && f != FocusCode && !(f == FocusNumber && isReading(string(held))) {
		return []Input{Scan(strings.TrimSpace(string(held)))}
	}
	out := make([]Input, len(held))
	for i, c := range held {
		out[i] = l.key(Key{Rune: c}, times[i])
		if c == groupSeparator {
			out[i] = l.key(Key{Sym: Other}, times[i])
		}
	}
	return out
}

func (l *layer) key(k Key, at time.Time) Key {
	gap := at.Sub(l.lastAt)
	same := k == l.last && gap >= queueGap && gap < againGap
	l.last, l.lastAt = k, at
	k.Again = same
	return k
}

// isReading reports whether a burst is a value rather than a code: a short number, or a number with
// a unit that is one.
func isReading(text string) bool {
	text = strings.TrimSpace(text)
	if strings.ContainsFunc(text, unicode.IsLetter) {
		q, err := quantity.Parse(text, quantity.Count)
		return err == nil && q.Unit != quantity.Count && len([]rune(text)) <= mostReading
	}
	_, err := quantity.ParseNumber(text)
	return err == nil && len([]rune(text)) <= mostNumber
}

// onOneLine is pasted text fit for a field: line ends and tabs become blanks, the ends are trimmed.
func onOneLine(text string) string { return strings.Join(strings.Fields(text), " ") }
