package job

import (
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"evenload/joint"
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

func (t *table) key(key string) string { return join(t.name, key) }

// take gives a key's value, nil when it is silent.
func (t *table) take(key string) any {
	t.asked = append(t.asked, key)
	return t.has[key]
}

// sub gives a table of a table; a silent one is empty.
func (t *table) sub(key string) *table {
	v := t.take(key)
	sub := &table{source: t.source, path: t.at(key), name: t.key(key)}
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
	for _, key := range slices.Sorted(maps.Keys(t.has)) {
		if slices.Contains(t.asked, key) {
			continue
		}
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

// text reads a string; silent takes the default, where there is one.
func (t *table) text(key, silent string) string {
	switch v := t.take(key).(type) {
	case nil:
		if silent != "" {
			t.note(key, silent, "default")
		}
		return silent
	case string:
		if t.checkText(key, v) {
			t.note(key, v, t.origin)
			return v
		}
	default:
		t.fault(t.at(key), "%s is %s, text in quotes is wanted", t.key(key), typeName(v))
	}
	return silent
}

// longestText is the most characters of a string.
const longestText = 500

func (t *table) checkText(key, v string) bool {
	for _, r := range v {
		if hostile(r) || r == '\n' || r == '\t' || r == '\r' {
			t.fault(t.at(key), "%s holds the character U+%04X, only visible characters on one line are allowed", t.key(key), r)
			return false
		}
	}
	if len([]rune(v)) > longestText {
		t.fault(t.at(key), "%s has more than %d characters", t.key(key), longestText)
		return false
	}
	return true
}

// need says that a key is missing.
func (t *table) need(key, example string) {
	if t.has[key] == nil {
		t.fault(t.path, "%s is missing, such as %s = %s", t.key(key), key, example)
	}
}

// choice reads one of a few words.
func choice[T ~string](t *table, key string, silent T, all ...T) T {
	v := T(t.text(key, string(silent)))
	if v == "" || slices.Contains(all, v) {
		return v
	}
	var words []string
	for _, w := range all {
		words = append(words, string(w))
	}
	t.fault(t.at(key), "%s is %q, it can be %s", t.key(key), clean(string(v)), strings.Join(words, ", "))
	return silent
}

// quantity reads a value with a unit, above zero.
func quantity[T ~float64](t *table, key, silent string, parse func(string) (T, error)) T {
	text, isText := "", true
	switch v := t.take(key).(type) {
	case nil:
		if silent == "" {
			return 0
		}
		t.note(key, silent, "default")
		q, _ := parse(silent)
		return q
	case string:
		text = v
	case int64, float64:
		_, err := parse(fmt.Sprint(v))
		t.fault(t.at(key), "%s: %v, in quotes", t.key(key), err)
		return 0
	default:
		isText = false
		t.fault(t.at(key), "%s is %s, a quantity in quotes is wanted", t.key(key), typeName(v))
	}
	if !isText || !t.checkText(key, text) {
		return 0
	}
	return positive(t, key, text, parse)
}

// positive parses a quantity above zero and lists it.
func positive[T ~float64](t *table, key, text string, parse func(string) (T, error)) T {
	q, err := parse(text)
	switch {
	case err != nil:
		t.fault(t.at(key), "%s: %v", t.key(key), err)
		return 0
	case !(q > 0):
		t.fault(t.at(key), "%s is %q, it has to be above zero", t.key(key), clean(text))
		return 0
	}
	t.note(key, text, t.origin)
	return q
}

// whole reads a whole number between least and most; silent 0 means none.
func (t *table) whole(key string, silent, least, most int) int {
	switch v := t.take(key).(type) {
	case nil:
		if silent != 0 {
			t.note(key, strconv.Itoa(silent), "default")
		}
		return silent
	case int64:
		if v >= int64(least) && v <= int64(most) {
			t.note(key, strconv.FormatInt(v, 10), t.origin)
			return int(v)
		}
		t.fault(t.at(key), "%s is %d, it can be %d to %d", t.key(key), v, least, most)
	default:
		t.fault(t.at(key), "%s is %s, a whole number is wanted", t.key(key), typeName(v))
	}
	return silent
}

// plain reads a number without a unit, above zero and at most most; 0 when silent.
func (t *table) plain(key string, most float64) float64 {
	var f float64
	switch v := t.take(key).(type) {
	case nil:
		return 0
	case int64:
		f = float64(v)
	case float64:
		f = v
	case string:
		if strings.Contains(v, ",") {
			t.fault(t.at(key), "%s is %q, a decimal point and no quotes are wanted: %s", t.key(key), clean(v), clean(strings.ReplaceAll(v, ",", ".")))
			return 0
		}
		t.fault(t.at(key), "%s is text %q, a number without quotes is wanted", t.key(key), clean(v))
		return 0
	default:
		t.fault(t.at(key), "%s is %s, a number is wanted", t.key(key), typeName(v))
		return 0
	}
	if math.IsNaN(f) || math.IsInf(f, 0) || f <= 0 || f > most {
		t.fault(t.at(key), "%s is %v, a number above 0 and at most %v is wanted", t.key(key), f, most)
		return 0
	}
	t.note(key, strconv.FormatFloat(f, 'f', -1, 64), t.origin)
	return f
}

func (t *table) truth(key string) bool {
	switch v := t.take(key).(type) {
	case nil:
		t.note(key, "false", "default")
	case bool:
		t.note(key, strconv.FormatBool(v), t.origin)
		return v
	default:
		t.fault(t.at(key), "%s is %s, true or false is wanted, without quotes", t.key(key), typeName(v))
	}
	return false
}

func (t *table) date(key string) joint.Date {
	switch v := t.take(key).(type) {
	case nil:
	case time.Time:
		d := joint.DateOf(v)
		t.note(key, d.String(), t.origin)
		return d
	case string:
		t.fault(t.at(key), "%s is text %q, a date without quotes is wanted: 2036-06-02", t.key(key), clean(v))
	default:
		t.fault(t.at(key), "%s is %s, a date is wanted: 2036-06-02", t.key(key), typeName(v))
	}
	return joint.Date{}
}

var spanPart = regexp.MustCompile(`^(\d{1,4}) ?(h|min|s)( |$)`)

// span reads a length of time such as "4 h", "30 min" or "1 h 30 min".
func (t *table) span(key, silent string) time.Duration {
	text := t.text(key, silent)
	units := map[string]time.Duration{"h": time.Hour, "min": time.Minute, "s": time.Second}
	var d time.Duration
	for rest := strings.TrimSpace(text); rest != ""; {
		m := spanPart.FindStringSubmatch(rest)
		if m == nil {
			t.fault(t.at(key), "%s is %q, a time such as \"4 h\", \"30 min\" or \"1 h 30 min\" is wanted", t.key(key), clean(text))
			return 0
		}
		n, _ := strconv.Atoi(m[1])
		d += time.Duration(n) * units[m[2]]
		rest = strings.TrimSpace(rest[len(m[0]):])
	}
	return d
}

// list reads an array.
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
	default:
		t.fault(t.at(key), "%s is %s, a list in [ ] is wanted", t.key(key), typeName(v))
	}
	return nil
}
