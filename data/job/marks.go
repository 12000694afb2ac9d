package job

import "strings"

// marks are where the keys and values of a text stand, in bytes. A nil marks
// keeps nothing: only one who changes a text needs them.
type marks struct {
	pairs   map[string]pairMark
	headers map[string]int    // where the header of a table ends
	last    map[string]string // the last pair of each table
}

// pairMark is where a key and its value stand.
type pairMark struct {
	key      int // the first part of a dotted one
	leaf     int // its last part
	keyEnd   int
	value    int
	end      int
	inBraces bool // it stands in a table written in { }
}

// marked scans a text that the library could decode.
func marked(text string) *marks {
	m := &marks{pairs: map[string]pairMark{}, headers: map[string]int{}, last: map[string]string{}}
	s := &scanner{text: text, line: 1, count: map[string]int{}, lines: lines{}, marks: m}
	s.all()
	return m
}

func (m *marks) header(table string, end int) {
	if m != nil {
		m.headers[table] = end
	}
}

func (m *marks) pair(name, text string, p pairMark) {
	if m == nil {
		return
	}
	p.keyEnd = p.key + len(strings.TrimRight(text[p.key:p.keyEnd], " \t"))
	p.end = p.value + len(strings.TrimRight(text[p.value:max(p.value, p.end)], " \t\r\n"))
	p.leaf = p.key + 1 + strings.LastIndexByte(text[p.key:p.keyEnd], '.')
	m.pairs[name] = p
	m.last[parent(name)] = name
}

// parent is the table of a key, leaf the key in it.
func parent(key string) string { return key[:max(0, strings.LastIndexByte(key, '.'))] }

func leaf(key string) string { return key[strings.LastIndexByte(key, '.')+1:] }
