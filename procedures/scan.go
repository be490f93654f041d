package procedures

import (
	"reflect"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"bay.example/pawl/job/phrase"
)

// scanner goes once through a file before it is decoded. It knows the line of everything that
// messages point to, and refuses what the decoder would take too long over: keys that mean nothing
// and tables without end.
type scanner struct {
	file   string
	root   reflect.Type
	lines  map[string]int // "stage:ID", "stage:ID.check:ID", "window:ID" and the like
	faults Faults

	includes []int // the line of each [[include]]

	parser unstable.Parser
	data   []byte
	line   int // the line of offset
	offset int

	count map[string]int // tables by name
	table string
	rows  reflect.Type // what the present table holds; nil when its name is unknown
	stage string
}

// scan stops at broken syntax without a fault: the decoder words that better.
func scan(file string, data []byte, root reflect.Type) *scanner {
	s := &scanner{file: file, root: root, data: data, line: 1, lines: map[string]int{}, count: map[string]int{}, rows: root}
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
	for table, most := range map[string]int{"stage": maxStages, "stage.": maxTables} {
		if n := s.count[table]; n > most {
			s.faults = append(s.faults, Fault{File: file, Text: phrase.Of("procedures.scan.s-at-most-are-taken", n, strings.TrimSuffix(table, "."), most)})
		}
	}
	return s
}

func (s *scanner) header(e *unstable.Node) {
	var path []string
	at := s.root
	for it := e.Key(); it.Next(); {
		path = append(path, string(it.Node().Data))
		if at = below(at, path[len(path)-1]); at == nil {
			s.unknown(it.Node(), path)
			break
		}
	}
	s.table, s.rows = strings.Join(path, "."), at
	if s.table == "include" {
		it := e.Key()
		it.Next()
		s.includes = append(s.includes, s.lineOf(it.Node()))
	}
	if strings.HasPrefix(s.table, "stage.") || strings.HasPrefix(s.table, "include.") {
		s.count["stage."]++
	} else {
		s.count[s.table]++
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
		path = append(path, string(it.Node().Data))
		if in = below(in, path[len(path)-1]); in == nil {
			s.unknown(it.Node(), path)
			return
		}
	}
	s.value(e.Value(), in, strings.Join(path, "."))
}

func (s *scanner) value(v *unstable.Node, in reflect.Type, where string) {
	if v == nil || len(s.faults) >= maxFaults {
		return
	}
	for it := v.Children(); it.Next(); {
		switch n := it.Node(); {
		case v.Kind == unstable.InlineTable && n.Kind == unstable.KeyValue:
			s.keyValue(n, in, where)
		case v.Kind == unstable.Array:
			s.value(n, in, where)
		}
	}
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
