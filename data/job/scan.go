package job

import (
	"fmt"
	"strconv"
	"strings"
)

// lines maps each key of a TOML text to its line, the first being 1. Keys are
// joined by dots, places in arrays are numbers: tools.0.curve.3.pressure. The
// library's decoder gives no lines for keys that it could decode, and only the
// last entry's for a fault in an array of tables.
type lines map[string]int

type scanner struct {
	text  string
	at    int
	line  int
	table string
	count map[string]int // entries of arrays of tables
	lines lines
	stop  string // why the text is not worth decoding
	parts []string

	braces int    // how many tables in { } are open
	marks  *marks // where keys and values stand, for one who changes the text
}

// positions scans a text for the lines of its keys. It runs before the library
// decodes the text, and on any text: what is longer or deeper than the bounds
// of a job file ends the scan, with the line and why. In a text that is not
// TOML the lines are good up to the place where the library stops.
func positions(text string) (at lines, line int, why string) {
	s := &scanner{text: text, line: 1, count: map[string]int{}, lines: make(lines, usualInputs)}
	s.all()
	return s.lines, s.line, s.stop
}

func (s *scanner) all() {
	for s.at < len(s.text) && s.stop == "" {
		s.blank(true)
		if s.at >= len(s.text) {
			break
		}
		if s.text[s.at] == '[' {
			s.header()
		} else {
			s.pair(s.table)
		}
	}
}

// refuse ends the scan.
func (s *scanner) refuse(format string, a ...any) {
	s.stop, s.at = fmt.Sprintf(format, a...), len(s.text)
}

// blank passes spaces and comments, and line feeds too where they mean nothing.
func (s *scanner) blank(feeds bool) {
	for s.at < len(s.text) {
		switch c := s.text[s.at]; {
		case c == '\n' && feeds:
			s.line++
			s.at++
		case c == ' ' || c == '\t' || c == '\r':
			s.at++
		case c == '#':
			for s.at < len(s.text) && s.text[s.at] != '\n' {
				s.at++
			}
		default:
			return
		}
	}
}

func (s *scanner) header() {
	line := s.line
	array := strings.HasPrefix(s.text[s.at:], "[[")
	s.at++
	if array {
		s.at++
	}
	name := ""
	parts := s.key(0)
	for i, part := range parts {
		name = join(name, part)
		n, entries := s.count[name]
		last := array && i == len(parts)-1
		if last && n >= mostEntries {
			s.refuse("more than %d tables [[%s]], a job file is a page of text", mostEntries, clean(name))
		}
		if s.lines[name] == 0 {
			s.lines[name] = line
		}
		switch {
		case last:
			s.count[name] = n + 1
			name = join(name, strconv.Itoa(n))
		case entries:
			// A table below an array of tables belongs to its last entry.
			name = join(name, strconv.Itoa(n-1))
		}
	}
	s.table = name
	if s.lines[name] == 0 {
		s.lines[name] = line
	}
	for s.at < len(s.text) && s.text[s.at] == ']' {
		s.at++
	}
	s.marks.header(name, s.at)
}

func join(table, key string) string {
	if table == "" {
		return key
	}
	return table + "." + key
}

// key reads a key, dotted or not, quoted or not, in a table of some depth. The
// parts are good until the next key is read.
func (s *scanner) key(deep int) []string {
	parts := s.parts[:0]
	defer func() { s.parts = parts }()
	for s.at < len(s.text) {
		if deep+len(parts) >= mostDepth {
			s.refuse("keys nest more than %d deep, a job file needs 5", mostDepth)
			return nil
		}
		s.blank(false)
		if s.at >= len(s.text) {
			return parts
		}
		switch c := s.text[s.at]; c {
		case '"', '\'':
			from := s.at
			s.str()
			part := s.text[from+1 : max(from+1, s.at-1)]
			if c == '"' {
				if un, err := strconv.Unquote(s.text[from:s.at]); err == nil {
					part = un
				}
			}
			parts = append(parts, part)
		default:
			from := s.at
			for s.at < len(s.text) && strings.IndexByte(" \t\r\n.=]#\"'", s.text[s.at]) < 0 {
				s.at++
			}
			if s.at == from {
				return parts
			}
			parts = append(parts, s.text[from:s.at])
		}
		switch n := len(parts[len(parts)-1]); {
		case n == 0: // it would not make a name longer, and so nest without end
			s.refuse("a key is empty, take it out")
			return nil
		case n > longestKey:
			s.refuse("a key has more than %d bytes", longestKey)
			return nil
		}
		s.blank(false)
		if s.at >= len(s.text) || s.text[s.at] != '.' {
			return parts
		}
		s.at++
	}
	return parts
}

func (s *scanner) pair(table string) {
	line, from := s.line, s.at
	name := table
	for _, part := range s.key(levels(table)) {
		name = join(name, part)
		if s.lines[name] == 0 {
			s.lines[name] = line
		}
	}
	keyEnd := s.at
	s.blank(false)
	if s.at >= len(s.text) || s.text[s.at] != '=' {
		s.at = len(s.text) // not TOML, the library says so
		return
	}
	s.at++
	s.blank(false)
	value := s.at
	s.value(name)
	s.marks.pair(name, s.text, pairMark{key: from, keyEnd: keyEnd, value: value, end: s.at, inBraces: s.braces > 0})
}

// levels is how many parts a name has; dots in quoted keys count too, which
// only makes the bound tighter.
func levels(name string) int {
	if name == "" {
		return 0
	}
	return 1 + strings.Count(name, ".")
}

func (s *scanner) value(name string) {
	s.blank(false)
	if levels(name) > mostDepth {
		s.refuse("lists nest more than %d deep, a job file needs 3", mostDepth)
	}
	if s.at >= len(s.text) {
		return
	}
	switch s.text[s.at] {
	case '"', '\'':
		s.str()
	case '[':
		s.at++
		for i := 0; s.more(']'); i++ {
			if i >= mostEntries {
				s.refuse("%s has more than %d entries", clean(name), mostEntries)
				return
			}
			entry := join(name, strconv.Itoa(i))
			s.lines[entry] = s.line
			s.value(entry)
		}
	case '{':
		s.at++
		s.braces++
		for s.more('}') {
			s.pair(name)
		}
		s.braces--
	default:
		for s.at < len(s.text) && strings.IndexByte(",]}#\r\n", s.text[s.at]) < 0 {
			s.at++
		}
	}
}

// more passes commas and says whether another entry comes before the end.
func (s *scanner) more(end byte) bool {
	for {
		s.blank(true)
		if s.at >= len(s.text) {
			return false
		}
		switch s.text[s.at] {
		case end:
			s.at++
			return false
		case ',':
			s.at++
		case ']', '}', '=':
			s.at++ // not TOML: pass it, so that the scan ends
		default:
			return true
		}
	}
}

// str passes a string of any of the four kinds.
func (s *scanner) str() {
	quote := s.text[s.at]
	three := strings.Repeat(string(quote), 3)
	if strings.HasPrefix(s.text[s.at:], three) {
		s.at += 3
		for s.at < len(s.text) && !strings.HasPrefix(s.text[s.at:], three) {
			s.step(quote)
		}
		s.at = min(len(s.text), s.at+3)
		for s.at < len(s.text) && s.text[s.at] == quote {
			s.at++ // up to two quotes may stand before the closing three
		}
		return
	}
	s.at++
	for s.at < len(s.text) && s.text[s.at] != quote && s.text[s.at] != '\n' {
		s.step(quote)
	}
	s.at = min(len(s.text), s.at+1)
}

func (s *scanner) step(quote byte) {
	if s.text[s.at] == '\\' && quote == '"' {
		s.at++
	}
	if s.at < len(s.text) {
		if s.text[s.at] == '\n' {
			s.line++
		}
		s.at++
	}
}
