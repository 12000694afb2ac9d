package job

import (
	"errors"
	"fmt"
	"maps"
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"evenload/data/visible"
	"evenload/joint"
)

// Change is one value of a job file to be changed. A key that the file does not
// have yet goes to the end of its table.
type Change struct {
	Key     string // such as "joint.tag", "tools.0.file": entries of lists count from 0
	Value   any    // string, int, float64, joint.Date or []string; nil takes the key out
	PlaceOf string // a key that this one takes the place of, such as another kind of target
}

// Edit changes values in the text of a job file and leaves every other byte as
// it is: comments, order, spaces, line ends and the byte order mark. A value
// that is the same already stays as it is written. The outcome is read back and
// held against what it should be, so that an error is all that an unusual way
// of writing can bring.
func Edit(text []byte, changes ...Change) ([]byte, error) {
	for _, c := range changes {
		next, err := edit(string(text), c)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", visible.Text(c.Key), err)
		}
		text = []byte(next)
	}
	if len(text) > mostBytes {
		return nil, fmt.Errorf("the file would be larger than %d MiB, a job file is a page of text", mostBytes>>20)
	}
	return text, nil
}

// errByHand is said of what cannot be changed here.
var errByHand = errors.New("it is written in a way that cannot be changed here, change it in the file itself")

func edit(file string, c Change) (string, error) {
	if _, why := foreign([]byte(file)); why != "" {
		return "", errors.New(why)
	}
	text := strings.TrimPrefix(file, "\ufeff")
	mark := file[:len(file)-len(text)]
	if _, _, why := positions(text); why != "" {
		return "", errors.New(why)
	}
	has, err := decoded(text)
	if err != nil {
		return "", err
	}
	literal, err := Written(c.Value)
	if err != nil {
		return "", err
	}
	value, err := read(literal)
	if err != nil {
		return "", err
	}
	if old, ok := valueAt(has, c.Key); reflect.DeepEqual(old, value) && ok == (c.Value != nil) && c.PlaceOf == "" {
		return file, nil
	}
	m := marked(text)
	var next string
	p, given := m.pairs[c.Key]
	was, other := m.pairs[c.PlaceOf]
	switch {
	case c.Value == nil && !given:
		return "", errByHand
	case c.Value == nil:
		next = without(text, p)
	case given && other:
		return "", fmt.Errorf("%s is given beside it, take one out", c.PlaceOf)
	case given:
		next = text[:p.value] + literal + text[p.end:]
	case other:
		next = text[:was.leaf] + leaf(c.Key) + text[was.keyEnd:was.value] + literal + text[was.end:]
	default:
		next = m.with(text, c.Key, literal)
	}
	// What is read back decides, whatever the text looked like.
	after, err := decoded(next)
	if err != nil {
		return "", errByHand
	}
	if other {
		put(has, c.PlaceOf, nil)
	}
	if !put(has, c.Key, value) || !reflect.DeepEqual(pruned(has), pruned(after)) {
		return "", errByHand
	}
	return mark + next, nil
}

func decoded(text string) (map[string]any, error) {
	var has map[string]any
	if _, err := toml.Decode(text, &has); err != nil {
		return nil, fmt.Errorf("not readable as TOML: %s", clean(err.Error()))
	}
	if has == nil {
		has = map[string]any{}
	}
	return has, nil
}

// without takes a pair out: its whole line, where it has one to itself.
func without(text string, p pairMark) string {
	from := strings.LastIndexByte(text[:p.key], '\n') + 1
	rest := text[p.end:]
	tail := strings.IndexByte(rest, '\n') + 1
	if tail == 0 {
		tail = len(rest)
	}
	if !p.inBraces {
		return text[:from] + rest[tail:]
	}
	before, after := strings.TrimRight(text[:p.key], " \t"), strings.TrimLeft(rest, " \t")
	if strings.HasSuffix(before, ",") {
		return strings.TrimRight(strings.TrimSuffix(before, ","), " \t") + rest
	}
	return text[:p.key] + strings.TrimLeft(strings.TrimPrefix(after, ","), " \t")
}

// with puts a new pair behind the last one of its table, written as that one
// is; behind the header of a table without any; else with a table of its own at
// the end of the text.
func (m *marks) with(text, key, literal string) string {
	table := parent(key)
	if p, ok := m.pairs[m.last[table]]; ok {
		name := text[p.key:p.leaf] + leaf(key)
		if p.inBraces {
			return text[:p.end] + ", " + name + " = " + literal + text[p.end:]
		}
		from := strings.LastIndexByte(text[:p.key], '\n') + 1
		gap := text[p.keyEnd:p.value] // " = ", or more where the signs are in a column
		if i := strings.IndexByte(gap, '='); i >= 0 {
			column := utf8.RuneCountInString(text[from:p.keyEnd] + gap[:i])
			indent := text[from:p.key]
			name = indent + name
			if pad := column - utf8.RuneCountInString(name); pad > 0 && i > 0 {
				name += strings.Repeat(" ", pad)
			} else if i > 0 {
				name += " "
			}
			return newLine(text, p.end, name+gap[i:]+literal)
		}
	}
	if end, ok := m.headers[table]; ok {
		return newLine(text, end, leaf(key)+" = "+literal)
	}
	eol := lineEnd(text, len(text))
	if text != "" && !strings.HasSuffix(text, "\n") {
		text += eol
	}
	if table == "" {
		return leaf(key) + " = " + literal + eol + text
	}
	if text != "" {
		text += eol
	}
	header := "[" + table + "]"
	if leaf(table) == "0" { // the first of a list
		header = "[[" + parent(table) + "]]"
	}
	return text + header + eol + leaf(key) + " = " + literal + eol
}

// newLine puts a line behind the one that at is in.
func newLine(text string, at int, line string) string {
	eol := lineEnd(text, at)
	i := strings.IndexByte(text[at:], '\n')
	if i < 0 {
		return text + eol + line
	}
	return text[:at+i+1] + line + eol + text[at+i+1:]
}

// lineEnd is how the line at a place ends, or where it is the last, how the
// first one does.
func lineEnd(text string, at int) string {
	i := strings.IndexByte(text[at:], '\n')
	if i < 0 {
		at, i = 0, strings.IndexByte(text, '\n')
	}
	if i > 0 && text[at+i-1] == '\r' || i == 0 && at > 0 && text[at-1] == '\r' {
		return "\r\n"
	}
	return "\n"
}

// read is a value as the library reads it.
func read(literal string) (any, error) {
	if literal == "" {
		return nil, nil
	}
	has, err := decoded("v = " + literal)
	return has["v"], err
}

// Written gives a value as TOML, "" for nil, or says why it may not stand in a
// job file.
func Written(v any) (string, error) {
	switch v := v.(type) {
	case nil:
		return "", nil
	case string:
		return Quote(v)
	case int:
		return strconv.Itoa(v), nil
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64), nil
	case joint.Date:
		return v.String(), nil
	case []string:
		parts := make([]string, len(v))
		for i := range v {
			var err error
			if parts[i], err = Quote(v[i]); err != nil {
				return "", err
			}
		}
		return "[" + strings.Join(parts, ", ") + "]", nil
	}
	return "", fmt.Errorf("a value of the kind %T cannot be written", v)
}

var escapes = strings.NewReplacer(`\`, `\\`, `"`, `\"`)

// Quote writes a text as TOML, or says why it may not stand in a job file.
func Quote(text string) (string, error) {
	if !utf8.ValidString(text) {
		return "", errors.New("the text is not UTF-8")
	}
	if n := utf8.RuneCountInString(text); n > longestText {
		return "", fmt.Errorf("the text has %d characters, %d are the most", n, longestText)
	}
	for i, r := range text {
		if visible.Hides(r) || hostile(r) || r == '\t' || r == '\n' || r == '\r' {
			return "", fmt.Errorf("the text holds the character U+%04X at its place %d, only visible characters on one line are allowed", r, utf8.RuneCountInString(text[:i])+1)
		}
	}
	return `"` + escapes.Replace(text) + `"`, nil
}

// valueAt finds the value of a key.
func valueAt(has map[string]any, key string) (any, bool) {
	var here any = has
	for part := range strings.SplitSeq(key, ".") {
		next, ok := below(here, part)
		if !ok {
			return nil, false
		}
		here = next
	}
	return here, true
}

// below is an entry of a table or of a list.
func below(v any, part string) (any, bool) {
	i, err := strconv.Atoi(part)
	switch v := v.(type) {
	case map[string]any:
		next, ok := v[part]
		return next, ok
	case []map[string]any:
		if err == nil && i >= 0 && i < len(v) {
			return v[i], true
		}
	case []any:
		if err == nil && i >= 0 && i < len(v) {
			return v[i], true
		}
	}
	return nil, false
}

// put sets a key, or takes it out where the value is nil. Tables that are not
// there yet are made.
func put(has map[string]any, key string, value any) bool {
	var here any = has
	parts := strings.Split(key, ".")
	for i, part := range parts[:len(parts)-1] {
		next, ok := below(here, part)
		if m, is := here.(map[string]any); !ok && is {
			next = map[string]any{}
			if parts[i+1] == "0" {
				next = []map[string]any{{}}
			}
			m[part] = next
		}
		here = next
	}
	m, ok := here.(map[string]any)
	if !ok {
		return false
	}
	if value == nil {
		delete(m, parts[len(parts)-1])
	} else {
		m[parts[len(parts)-1]] = value
	}
	return true
}

// pruned leaves empty tables out: one without keys says nothing.
func pruned(has map[string]any) map[string]any {
	all := maps.Clone(has)
	for key, v := range all {
		if sub, ok := v.(map[string]any); ok {
			if all[key] = pruned(sub); len(sub) == 0 || len(all[key].(map[string]any)) == 0 {
				delete(all, key)
			}
		}
	}
	return all
}
