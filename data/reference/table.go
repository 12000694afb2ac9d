// Package reference has the tables that a job's names stand for: flanges,
// hubs, pipe, bolt grades, lubricants, gaskets, nuts, scatter by method. Every
// table names its sources, and a row that is from memory or from one source
// only says so wherever it is shown.
package reference

import (
	"embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
)

//go:embed tables/*.csv
var files embed.FS

// Table is one embedded table. The lines that begin with # in its file are its
// title and its sources.
type Table struct {
	Title   string
	Sources []string
	Columns []string
	Rows    []Row
}

// Row is one line of a table.
type Row struct {
	Name  string // what the row is called in a job
	Cells []string
	table *Table
}

// table is a file that is read once, when it is first asked for.
type table struct {
	mark  string // the column that says how the row is known; empty: whole says it
	all   Mark   // of every row of a table that has no such column
	get   func() *Table
	names func() []string   // of its rows, each once, in order
	words func() [][]string // that count, of each name
}

// Mark is a doubt about a row, empty where there is none.
type Mark string

// The doubts.
const (
	FromMemory Mark = "from memory"
	OneSource  Mark = "one source"
)

// newTable reads a file when it is first asked for; name says what a row is
// called.
func newTable(file, mark string, all Mark, name func(Row) string) table {
	t := table{mark: mark, all: all, get: sync.OnceValue(func() *Table {
		text, err := files.ReadFile("tables/" + file)
		if err != nil {
			panic(err) // part of the program, no input: a test reads them all
		}
		return parse(file, string(text), name)
	})}
	t.names = sync.OnceValue(func() []string {
		var names []string
		seen := map[string]bool{}
		for _, r := range t.get().Rows {
			if !seen[r.Name] {
				names = append(names, r.Name)
			}
			seen[r.Name] = true
		}
		return names
	})
	t.words = sync.OnceValue(func() [][]string {
		var words [][]string
		for _, name := range t.names() {
			words = append(words, counting(name))
		}
		return words
	})
	return t
}

func parse(file, text string, name func(Row) string) *Table {
	t := &Table{}
	for strings.HasPrefix(text, "#") {
		line, rest, _ := strings.Cut(text, "\n")
		line = strings.TrimSpace(strings.TrimPrefix(line, "#"))
		if t.Title == "" {
			t.Title = line
		} else {
			t.Sources = append(t.Sources, line)
		}
		text = rest
	}
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil || len(all) < 2 {
		panic(fmt.Sprintf("%s: %v", file, err)) // part of the program, no input
	}
	t.Columns = all[0]
	t.Rows = make([]Row, len(all)-1)
	for i, cells := range all[1:] {
		t.Rows[i] = Row{Cells: cells, table: t}
		t.Rows[i].Name = name(t.Rows[i])
	}
	return t
}

// text gives a cell of a row, empty where the column is not there.
func (r Row) text(column string) string {
	if i := slices.Index(r.table.Columns, column); i >= 0 {
		return r.Cells[i]
	}
	return ""
}

// number gives a cell as a number, 0 where it is empty or no number.
func (r Row) number(column string) float64 {
	v, err := strconv.ParseFloat(r.text(column), 64)
	if err != nil {
		return 0
	}
	return v
}

// markOf says how well a row is known.
func (t table) markOf(r Row) Mark {
	if t.mark == "" {
		return t.all
	}
	status := strings.ToLower(r.text(t.mark))
	switch {
	case strings.Contains(status, "memory"):
		return FromMemory
	case strings.Contains(status, "1 source"), strings.Contains(status, "1 page"), strings.Contains(status, "one source"),
		strings.Contains(status, "second-hand"), strings.Contains(status, "low"):
		return OneSource
	}
	return ""
}

// Kind is a name of show: the tables that it prints.
type Kind struct {
	Name   string
	tables []table
	find   func(name string) ([]found, error)
}

// found is a row with the table that it stands in.
type found struct {
	table table
	row   Row
}

// Tables of a kind, whole.
func (k Kind) Tables() []*Table {
	var all []*Table
	for _, t := range k.tables {
		all = append(all, t.get())
	}
	return all
}

// Entry is one row for people: its values by column, what it rests on.
type Entry struct {
	Name    string
	Mark    Mark
	Columns []string
	Cells   []string
	Sources []string
}

// Entries looks up a name as people write it. A near miss is an error that
// names the nearest.
func (k Kind) Entries(name string) ([]Entry, error) {
	rows, err := k.find(name)
	if err != nil {
		return nil, err
	}
	var all []Entry
	for _, f := range rows {
		t := f.table.get()
		all = append(all, Entry{Name: f.row.Name, Mark: f.table.markOf(f.row), Columns: t.Columns, Cells: f.row.Cells, Sources: t.Sources})
	}
	return all, nil
}

// Kinds are what show can print, in the order of its help.
func Kinds() []Kind {
	return []Kind{
		{"flange", []table{asmeFlanges, hubs, enFlanges}, findFlange},
		{"grade", []table{grades}, words(grades)},
		{"lubricant", []table{lubricants}, words(lubricants)},
		{"gasket", []table{gaskets}, words(gaskets)},
		{"seal", []table{seals}, findSeal},
		{"nut", []table{nuts}, findNuts},
		{"pipe", []table{pipes}, findPipe},
		{"scatter", []table{scatters}, words(scatters)},
		{"finding", []table{findings}, words(findings)},
	}
}
