package job

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"evenload/sequence"
)

// source is one file being read: its tables, lines and faults.
type source struct {
	file   string
	lines  lines
	faults *Faults
	inputs *[]sequence.Input
	origin string
}

func (s *source) fault(path, format string, a ...any) {
	*s.faults = append(*s.faults, Fault{File: s.file, Line: s.line(path), Text: fmt.Sprintf(format, a...)})
}

// line is that of a key, or of the nearest table that holds it.
func (s *source) line(path string) int {
	for path != "" {
		if n := s.lines[path]; n > 0 {
			return n
		}
		path = path[:max(0, strings.LastIndexByte(path, '.'))]
	}
	return 1
}

// table is a TOML table whose keys are taken one by one; what was not asked
// for in the end is unknown.
type table struct {
	*source
	path  string
	name  string // for messages and inputs
	has   map[string]any
	asked []string
	given bool
}

func (t *table) at(key string) string { return join(t.path, key) }

// first is where the first of some keys that is given stands.
func (t *table) first(keys ...string) string {
	for _, key := range keys {
		if t.has[key] != nil {
			return t.at(key)
		}
	}
	return t.path
}

func (t *table) key(key string) string { return join(t.name, key) }

// take gives a key's value, nil when it is silent.
func (t *table) take(key string) any {
	t.asked = append(t.asked, key)
	return t.has[key]
}

// sub gives a table of a table; a silent one is empty.
func (t *table) sub(key string) *table {
	v := t.take(key)
	sub := &table{source: t.source, path: t.at(key), name: t.key(key), asked: make([]string, 0, 8)}
	switch m := v.(type) {
	case nil:
	case map[string]any:
		sub.has, sub.given = m, true
	default:
		t.fault(t.at(key), "%s is %s, a table [%s] is wanted", t.key(key), typeName(v), t.key(key))
	}
	return sub
}

// end names the keys that nothing asked for.
func (t *table) end() {
	var unknown []string
	for key := range t.has {
		if !slices.Contains(t.asked, key) {
			unknown = append(unknown, key)
		}
	}
	slices.Sort(unknown)
	for _, key := range unknown {
		text := fmt.Sprintf("unknown key %q in %s", clean(key), orTop(t.name))
		if near := nearest(key, t.asked); near != "" {
			text += fmt.Sprintf(", did you mean %q?", near)
		} else {
			text += ", known are " + strings.Join(slices.Sorted(slices.Values(t.asked)), ", ")
		}
		t.fault(t.at(key), "%s", text)
	}
}

func orTop(name string) string {
	if name == "" {
		return "the file"
	}
	return "[" + name + "]"
}

func typeName(v any) string {
	switch v.(type) {
	case string:
		return "text"
	case int64:
		return "a whole number"
	case float64:
		return "a number"
	case bool:
		return "true or false"
	case time.Time:
		return "a date"
	case []any, []map[string]any:
		return "a list"
	case map[string]any:
		return "a table"
	}
	return "something else"
}

// note puts a value on the list of inputs.
func (t *table) note(key, value, origin string) {
	*t.inputs = append(*t.inputs, sequence.Input{Key: t.key(key), Value: value, Origin: origin})
}

// need says that a key is missing; an empty text counts as that.
func (t *table) need(key, example string) {
	if v := t.has[key]; v == nil || v == "" {
		t.fault(t.path, "%s is missing, such as %s = %s", t.key(key), key, example)
	}
}

// list reads an array of most entries at most; nil when it is silent or no array.
func (t *table) list(key string, most int) []any {
	switch v := t.take(key).(type) {
	case nil:
	case []any:
		if len(v) <= most {
			return v
		}
		t.fault(t.at(key), "%s has %d entries, %d at most are read", t.key(key), len(v), most)
	case []map[string]any:
		if len(v) > most {
			t.fault(t.at(key), "%s has %d entries, %d at most are read", t.key(key), len(v), most)
			return nil
		}
		all := make([]any, len(v))
		for i := range v {
			all[i] = v[i]
		}
		return all
	case map[string]any:
		t.fault(t.at(key), "%s is one table, write [[%s]] or a list in [ ]", t.key(key), t.key(key))
	default:
		t.fault(t.at(key), "%s is %s, a list in [ ] is wanted", t.key(key), typeName(v))
	}
	return nil
}
