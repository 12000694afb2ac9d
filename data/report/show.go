package report

import (
	"fmt"
	"io"
	"strings"

	"evenload/data/reference"
)

// Show prints the tables of a kind, or the rows that a name stands for, with
// their sources. An unknown kind or name is an error that says what there is.
func Show(out io.Writer, kind, name string) error {
	var kinds []string
	for _, k := range reference.Kinds() {
		if k.Name == kind && name == "" {
			return showTables(out, k)
		}
		if k.Name == kind {
			return showEntries(out, k, name)
		}
		kinds = append(kinds, k.Name)
	}
	return fmt.Errorf("there is no table of %q, there is %s", kind, strings.Join(kinds, ", "))
}

func showTables(out io.Writer, k reference.Kind) error {
	for i, table := range k.Tables() {
		t := newTable(out)
		if i > 0 {
			t.row("")
		}
		t.row(strings.ToUpper(table.Title))
		for _, s := range table.Sources {
			t.row("source: " + s)
		}
		if err := t.w.Flush(); err != nil {
			return err
		}
		t.head(table.Columns...)
		for _, r := range table.Rows {
			t.row(r.Cells...)
		}
		if err := t.w.Flush(); err != nil {
			return err
		}
	}
	return nil
}

func showEntries(out io.Writer, k reference.Kind, name string) error {
	entries, err := k.Entries(name)
	if err != nil {
		return err
	}
	for i, e := range entries {
		t := newTable(out)
		if i > 0 {
			t.row("")
		}
		t.row(strings.ToUpper(e.Name))
		if e.Mark != "" {
			t.row("DOUBT", string(e.Mark)+": check it before it matters")
		}
		for i, c := range e.Columns {
			if e.Cells[i] != "" {
				t.row(c, e.Cells[i])
			}
		}
		for _, s := range e.Sources {
			t.row("source", s)
		}
		if err := t.w.Flush(); err != nil {
			return err
		}
	}
	return nil
}
