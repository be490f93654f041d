package procedures

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"bay.example/pawl/job/phrase"
)

// scanner goes once through a file before it is decoded. It knows the line of everything that
// messages point to, and refuses what the decoder would take too long over or say in its own words:
// keys that mean nothing, values of another kind, texts that steer a screen, lists without end.
type scanner struct {
	file   string
	root   reflect.Type
	lines  map[string]int // "stage:ID", "stage:ID.check:ID", "window:ID", "key:title", "traits:ID" and the like
	faults Faults

	includes []int    // the line of each [[include]]
	braced   []braced // texts with a brace, in the order of the file

	parser unstable.Parser
	data   []byte
	line   int // the line of offset
	offset int

	count  map[string]int // tables by name
	excess map[string]int // the line of the first table of a name that is one too many
	table  string
	rows   reflect.Type // what the present table holds; nil when its name is unknown
	stage  string       // the stage the present table belongs to
	entry  string       // the id of the present table, as far as it has been read
	at     int          // the line of the last key
}

// scan stops at broken syntax without a fault: the decoder words that better.
func scan(file string, data []byte, root reflect.Type) *scanner {
	s := &scanner{file: file, root: root, data: data, line: 1, lines: map[string]int{}, count: map[string]int{}, excess: map[string]int{}, rows: root}
	s.parser.Reset(data)
	for len(s.faults) < maxFaults && s.parser.NextExpression() {
		e := s.parser.Expression()
		switch e.Kind {
		case unstable.ArrayTable, unstable.Table:
			s.header(e)
		case unstable.KeyValue:
			s.keyValue(e, s.rows, s.table)
			s.id(e)
		}
	}
	for _, table := range sortedKeys(s.excess) {
		n, most := s.count[table], mostTables(table)
		f := Fault{File: file, Line: s.excess[table], Text: phrase.Of("procedures.texts.lists-entries-at-most-are-taken", table, n, most)}
		if strings.HasPrefix(table, "stage") {
			f.Text = phrase.Of("procedures.scan.s-at-most-are-taken", n, strings.TrimSuffix(table, "."), most)
		}
		s.faults = append(s.faults, f)
	}
	return s
}

// mostTables is how many tables of a name are taken; "stage." stands for all those below stages.
func mostTables(table string) int {
	switch table {
	case "stage":
		return maxStages
	case "stage.":
		return maxTables
	}
	return maxList
}

func (s *scanner) header(e *unstable.Node) {
	var path []string
	at := s.root
	for it := e.Key(); it.Next(); {
		s.at = s.lineOf(it.Node())
		path = append(path, string(it.Node().Data))
		if at = below(at, path[len(path)-1]); at == nil {
			s.unknown(it.Node(), path)
			break
		}
	}
	s.table, s.rows, s.entry = strings.Join(path, "."), at, ""
	if s.table == "stage" || s.table == "include" || s.table == "include.change" || !strings.Contains(s.table, ".") {
		s.stage = ""
	}
	if _, ok := s.lines["table:"+s.table]; !ok {
		s.lines["table:"+s.table] = s.at
	}
	s.headerFits(e.Kind, at, path)
	if s.table == "include" {
		it := e.Key()
		it.Next()
		s.includes = append(s.includes, s.lineOf(it.Node()))
	}
	name := s.table
	if strings.HasPrefix(name, "stage.") || strings.HasPrefix(name, "include.") {
		name = "stage."
	}
	if s.count[name]++; s.count[name] == mostTables(name)+1 {
		s.excess[name] = s.at
	}
}

// keyValue checks the key of e, and the keys inside its value, against what in holds.
func (s *scanner) keyValue(e *unstable.Node, in reflect.Type, where string) {
	if in == nil {
		return
	}
	path := []string{}
	if where != "" {
		path = append(path, where)
	}
	for it := e.Key(); it.Next(); {
		s.at = s.lineOf(it.Node())
		path = append(path, string(it.Node().Data))
		if in = below(in, path[len(path)-1]); in == nil {
			s.unknown(it.Node(), path)
			return
		}
		s.text(string(it.Node().Data), path)
	}
	switch {
	case len(path) == 1:
		s.lines["key:"+path[0]] = s.at
	case path[0] == "traits":
		s.lines["traits:"+path[len(path)-1]] = s.at
	}
	s.value(e.Value(), in, path)
}

func (s *scanner) value(v *unstable.Node, in reflect.Type, path []string) {
	if v == nil || len(s.faults) >= maxFaults {
		return
	}
	if v.Raw.Length > 0 {
		s.at = s.lineOf(v)
	}
	if !s.fits(v.Kind, in, path) {
		return
	}
	if v.Kind == unstable.String {
		s.text(string(v.Data), path)
		return
	}
	n := 0
	for it := v.Children(); it.Next(); {
		switch child := it.Node(); {
		case v.Kind == unstable.InlineTable && child.Kind == unstable.KeyValue:
			s.keyValue(child, in, strings.Join(path, "."))
		case v.Kind == unstable.Array:
			if n++; n <= maxList {
				s.value(child, in.Elem(), path)
			}
		}
	}
	if n > maxList {
		s.fault(phrase.Of("procedures.texts.lists-entries-at-most-are-taken", s.named(path), n, maxList))
	}
}

// text refuses what steers a screen, and keeps the line of a brace: what braces mean is the block's.
func (s *scanner) text(text string, path []string) {
	if strings.ContainsFunc(text, steers) {
		s.fault(phrase.Of("procedures.texts.holds-a-control-character-a-text-is", s.named(path), text))
	}
	if strings.ContainsAny(text, "{}") {
		s.braced = append(s.braced, braced{text, s.stage, s.at})
	}
}

// braced is a text with a brace.
type braced struct {
	text, stage string
	line        int
}

// named is a key with the id of the table it stands in; that of a stage the fault has itself.
func (s *scanner) named(path []string) string {
	key := strings.TrimPrefix(strings.Join(path, "."), s.table+".")
	if s.entry == "" || s.table == "" || s.table == "stage" || s.inCheck() {
		return key
	}
	return fmt.Sprintf("%s %+q %s", s.table[strings.LastIndex(s.table, ".")+1:], s.entry, key)
}

func (s *scanner) inCheck() bool { return strings.HasSuffix(s.table, ".check") }

func (s *scanner) fault(text string) {
	if len(s.faults) >= maxFaults {
		return
	}
	stage := s.stage
	if stage != "" && s.entry != "" && s.inCheck() {
		stage += "." + s.entry
	}
	s.faults = append(s.faults, Fault{File: s.file, Line: s.at, Stage: stage, Text: text})
}

// below returns the type of the values under a key, or nil when there is no such key. A list
// stands for what it lists.
func below(t reflect.Type, key string) reflect.Type {
	for t != nil && t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	switch {
	case t == nil:
		return nil
	case t.Kind() == reflect.Map:
		return t.Elem()
	case t.Kind() != reflect.Struct:
		return nil
	}
	for i := range t.NumField() {
		if name, _, _ := strings.Cut(t.Field(i).Tag.Get("toml"), ","); name == key {
			return t.Field(i).Type
		}
	}
	return nil
}

func (s *scanner) unknown(n *unstable.Node, path []string) {
	s.faults = append(s.faults, Fault{File: s.file, Line: s.lineOf(n), Text: phrase.Of("procedures.scan.unknown-key", strings.Join(path, "."))})
}

// lineOf counts lines forward from the last answer; nodes come in the order of the file.
func (s *scanner) lineOf(n *unstable.Node) int {
	at := int(n.Raw.Offset)
	if at < s.offset {
		s.offset, s.line = 0, 1
	}
	for ; s.offset < at; s.offset++ {
		if s.data[s.offset] == '\n' {
			s.line++
		}
	}
	return s.line
}

// id notes the line of an id under the table it stands in.
func (s *scanner) id(e *unstable.Node) {
	it := e.Key()
	if !it.Next() || !it.IsLast() || string(it.Node().Data) != "id" || e.Value() == nil || e.Value().Kind != unstable.String {
		return
	}
	id, line := string(e.Value().Data), s.lineOf(e.Value())
	s.entry = id
	switch sub, ok := strings.CutPrefix(s.table, "stage."); {
	case s.table == "stage":
		s.stage = id
		s.lines["stage:"+id] = line
	case s.table == "include.change":
		s.stage = id
		s.lines[s.change(id)] = line
	case s.table == "include.change.check":
		s.lines[s.change(s.stage)+".check:"+id] = line
	case ok:
		s.lines["stage:"+s.stage+"."+sub+":"+id] = line
	default:
		s.lines[s.table+":"+id] = line
	}
}

// change is the key of a change to a stage in the present include: a block may stand twice.
func (s *scanner) change(stage string) string { return changeKey(len(s.includes)-1, stage) }

func changeKey(include int, stage string) string {
	return "change:" + strconv.Itoa(include) + ":" + stage
}
