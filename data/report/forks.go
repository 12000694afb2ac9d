package report

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"evenload/data/card"
	"evenload/data/visible"
)

// Fork is another file that begins as a card does and goes on otherwise: one card was
// gone on with twice.
type Fork struct {
	File string `json:"file"`
	Line int    `json:"line"` // the first that differs, 0 where that could not be read
}

// Words say it of the card.
func (f Fork) Words() string {
	from := ""
	if f.Line > 0 {
		from = fmt.Sprintf(" from line %d on", f.Line)
	}
	return fmt.Sprintf("it begins as %s and differs%s: one card was gone on with twice, the foreman looks which is what was done", f.File, from)
}

// short is the same for a line at the head of a page.
func (f Fork) short() string { return fmt.Sprintf("%s differs from line %d on", f.File, f.Line) }

// ForkWords name all forks of a card shortly; empty where there is none.
func (d *AsDone) ForkWords() string {
	var all []string
	for _, f := range d.Forks {
		all = append(all, f.short())
	}
	return strings.Join(all, "; ")
}

// ForkError means that a record is whole, and of a card that another file went on with.
type ForkError struct{ Forks []Fork }

func (e ForkError) Error() string { return "FORK: " + e.Forks[0].Words() }

// Forked is a ForkError where the card has forks.
func (d *AsDone) Forked() error {
	if len(d.Forks) == 0 {
		return nil
	}
	return ForkError{d.Forks}
}

// DoneBeside puts a card together as DoneOf does, and looks for its forks in the folder
// that it lies in.
func DoneBeside(c card.Card, damage error) (AsDone, error) {
	d, err := DoneOf(c, damage)
	if err == nil {
		d.Forks = forksBeside(c)
	}
	return d, err
}

// forksBeside are the cards in the folder of a card that begin as it does and go on
// otherwise. Where the folder cannot be read none is known.
func forksBeside(c card.Card) []Fork {
	paths, err := card.Find(filepath.Dir(c.Path))
	if err != nil {
		return nil
	}
	var all []Fork
	for _, path := range paths {
		if filepath.Base(path) == filepath.Base(c.Path) {
			continue
		}
		if line := parted(c, path); line > 1 {
			all = append(all, Fork{visible.Text(filepath.Base(path)), line})
		}
	}
	return all
}

// parted is the first line of a file that differs from that of a card, as far as both
// go: 1 for a file of another card, 0 for a copy or the beginning of one.
func parted(c card.Card, path string) (line int) {
	// What is wrong with that file is said of it, not here.
	_, _ = card.StreamFile(path, func(e card.Entry) error {
		switch {
		case e.N > len(c.Entries):
			return errEnough
		case e.Hash != c.Entries[e.N-1].Hash:
			line = e.N
			return errEnough
		}
		return nil
	})
	return line
}

var errEnough = errors.New("enough was read")
