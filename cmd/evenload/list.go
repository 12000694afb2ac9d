package main

import (
	"fmt"
	"path/filepath"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/data/visible"
	"evenload/sequence"
	"evenload/sequence/practice"
	"evenload/tui"
	"evenload/tui/desk"
)

// entry is one thing to open, with how to open it: a walk, or a practice.
type entry struct {
	desk.Item
	open     tui.Load
	practise func() error
}

// list shows job files, open cards and practice joints here; Enter opens one.
func list(dir string) error {
	entries, err := entries(dir)
	if err != nil {
		return err
	}
	var items []desk.Item
	for _, e := range entries {
		items = append(items, e.Item)
	}
	can := here()
	if can.Lines {
		if !desk.HasWork(items) {
			fmt.Println(desk.NoWork)
		}
		for _, it := range items {
			fmt.Printf("%-9s %-34s %s\n", it.Kind, visible.Text(it.Name), visible.Text(it.Text))
		}
		return nil
	}
	theme, err := themeOf("", false, can)
	if err != nil {
		return err
	}
	at, err := desk.Choose(items, theme)
	if err != nil || at < 0 {
		return err
	}
	if entries[at].practise != nil {
		return entries[at].practise()
	}
	return walkOn(entries[at].open, walkFlags{keyRest: walkRest}, nil)
}

func entries(dir string) ([]entry, error) {
	var all []entry
	cards, err := card.Find(dir)
	if err != nil {
		return nil, err
	}
	var closed []card.Card
	readable, begun := true, map[string]bool{} // by job file of an open card
	for _, path := range cards {
		c, err := card.Read(path)
		if err != nil || len(c.Entries) == 0 {
			readable = false
			all = append(all, entry{Item: desk.Item{Kind: "card", Name: filepath.Base(path), Text: "cannot be read: evenload verify says why"}, open: func() (*card.Session, string, error) { return nil, "", err }})
			continue
		}
		if isPractice(c) {
			continue // a practice is begun again, not gone on with
		}
		if c.IsClosed() {
			closed = append(closed, c)
			continue
		}
		begun[c.Opened().JobFile] = true
		last := c.Entries[len(c.Entries)-1].Event
		text := "last " + last.At.Local().Format("2006-01-02 15:04") + " " + last.By
		if f := c.Opened().Follows; f != nil {
			text += ", follows " + f.Card
		}
		all = append(all, entry{Item: desk.Item{Kind: "open card", Name: filepath.Base(path), Text: text},
			open: func() (*card.Session, string, error) { return session(path, walkFlags{}) }})
	}
	files, err := filepath.Glob(filepath.Join(dir, "*.toml"))
	if err != nil {
		return nil, err
	}
	for _, path := range files {
		if job.IsJob(path) {
			name := filepath.Base(path)
			text := doneOf(closed, name)
			if text == "" && readable && !begun[name] {
				text = "no card of it here" // one may be kept elsewhere
			}
			all = append(all, entry{Item: desk.Item{Kind: "job", Name: name, Text: text},
				open: func() (*card.Session, string, error) { return session(path, walkFlags{}) }})
		}
	}
	for _, l := range practice.Levels {
		f := practiceFlags{walkFlags: walkFlags{keyRest: practiceRest, cards: dir}, level: l.Number, seed: anySeed()}
		all = append(all, entry{Item: desk.Item{Kind: "practice", Name: fmt.Sprintf("level %d, %s", l.Number, l.Name), Text: l.Teaches}, practise: func() error { return practise(f) }})
	}
	return all, nil
}

// doneOf says what the last closed card of a job file says: when it was closed, or
// where the joint leaked. Empty where there is none.
func doneOf(closed []card.Card, jobFile string) string {
	var of []card.Card
	for _, c := range closed {
		if c.Opened().JobFile == jobFile {
			of = append(of, c)
		}
	}
	last := lastOf(of)
	switch {
	case last == nil:
		return ""
	case len(last.Leaked()) > 0:
		return "LEAKED beside bolt " + sequence.BoltList(last.Leaked()) + ", " + filepath.Base(last.Path)
	}
	at, _ := last.ClosedAt()
	return "closed " + at.Local().Format("2006-01-02 15:04") + ", " + filepath.Base(last.Path)
}
