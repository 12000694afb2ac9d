package job

import (
	"strconv"
	"strings"
)

// lines maps each key of a TOML text to its line, the first being 1. Keys are
// joined by dots, places in arrays are numbers: tools.0.curve.3.pressure. The
// library's decoder gives no lines for keys that it could decode, and only the
// last entry's for a fault in an array of tables. The text must be TOML that
// the library accepts.
type lines map[string]int

type scanner struct {
	text  string
	at    int
	line  int
	table string
	count map[string]int // entries of arrays of tables
	lines lines
}

// positions scans a text for the lines of its keys.
func positions(text string) lines {
	s := &scanner{text: text, line: 1, count: map[string]int{}, lines: lines{}}
	for s.at < len(s.text) {
		s.blank(true)
		if s.at >= len(s.text) {
			break
		}
		before := s.at
		if s.text[s.at] == '[' {
			s.header()
		} else {
			s.pair(s.table)
		}
		if s.at == before {
			s.at++ // never stuck, whatever the text
		}
	}
	return s.lines
}

// blank passes spaces and comments, and line feeds too where they mean nothing.
func (s *scanner) blank(feeds bool) {
	for s.at < len(s.text) {
		switch c := s.text[s.at]; {
		case c == '\n' && feeds:
			s.line++
			s.at++
		case c == ' ' || c == '\t' || c == '\r' || c == 0xEF || c == 0xBB || c == 0xBF:
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
	parts := s.key()
	for i, part := range parts {
		name = join(name, part)
		n, entries := s.count[name]
		switch {
		case array && i == len(parts)-1:
			if s.lines[name] == 0 {
				s.lines[name] = line
			}
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
}

func join(table, key string) string {
	if table == "" {
		return key
	}
	return table + "." + key
}

// key reads a key, dotted or not, quoted or not.
func (s *scanner) key() []string {
	var parts []string
	for s.at < len(s.text) {
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
		s.blank(false)
		if s.at >= len(s.text) || s.text[s.at] != '.' {
			return parts
		}
		s.at++
	}
	return parts
}

func (s *scanner) pair(table string) {
	line := s.line
	name := table
	for _, part := range s.key() {
		name = join(name, part)
		if s.lines[name] == 0 {
			s.lines[name] = line
		}
	}
	s.blank(false)
	if s.at < len(s.text) && s.text[s.at] == '=' {
		s.at++
		s.value(name)
	}
}

func (s *scanner) value(name string) {
	s.blank(false)
	if s.at >= len(s.text) {
		return
	}
	switch s.text[s.at] {
	case '"', '\'':
		s.str()
	case '[':
		s.at++
		for i := 0; s.more(']'); i++ {
			entry := join(name, strconv.Itoa(i))
			s.lines[entry] = s.line
			s.value(entry)
		}
	case '{':
		s.at++
		for s.more('}') {
			s.pair(name)
		}
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

// depth is how deep brackets nest outside strings and comments: it is bounded
// before the text is decoded.
func depth(text string) int {
	deepest, now := 0, 0
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case '#':
			for i < len(text) && text[i] != '\n' {
				i++
			}
		case '"', '\'':
			s := scanner{text: text, at: i}
			s.str()
			i = s.at - 1
		case '[', '{':
			now++
			deepest = max(deepest, now)
		case ']', '}':
			now--
		}
	}
	return deepest
}
