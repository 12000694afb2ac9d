package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"time"

	"evenload/data/card"
	"evenload/sequence"
)

// lastOf is the card that the next one of a joint follows: of the closed ones
// that no other follows, the one that was closed last. The names of two cards
// of one day do not say which is the later. Nil where there is none.
func lastOf(closed []card.Card) *card.Card {
	var last *card.Card
	var closedLast time.Time
	for i, c := range closed {
		followed := slices.ContainsFunc(closed, func(other card.Card) bool {
			f := other.Opened().Follows
			return f != nil && f.Card == filepath.Base(c.Path) && f.Seal == c.Seal()
		})
		if at, _ := c.ClosedAt(); !followed && (last == nil || closedLast.Before(at)) {
			last, closedLast = &closed[i], at
		}
	}
	return last
}

// follow says which card a new one follows, and what is shown first.
func follow(closed []card.Card) (*sequence.Follows, string) {
	last := lastOf(closed)
	if last == nil {
		return nil, ""
	}
	f := &sequence.Follows{Card: filepath.Base(last.Path), Seal: last.Seal(), Leaked: last.Leaked()}
	text := "This joint has a closed card, " + f.Card
	if len(f.Leaked) > 0 {
		text = "This joint LEAKED beside bolt " + sequence.BoltList(f.Leaked) + ", card " + f.Card
	}
	return f, text + ". This is a new one, which follows it."
}

// errSeen ends the reading of a card whose first line is enough.
var errSeen = errors.New("seen")

// goneOn refuses a card that another file beside it went on with, on another machine
// maybe: bolts marked there would be asked for again here, and of two that were closed
// a new card would follow either.
func goneOn(c card.Card) error {
	if len(c.Entries) == 0 {
		return nil
	}
	all, err := card.Find(filepath.Dir(c.Path))
	if err != nil {
		return err
	}
	for _, path := range all {
		first := ""
		_, _ = card.StreamFile(path, func(e card.Entry) error { first = e.Hash; return errSeen })
		if first != c.Entries[0].Hash || filepath.Base(path) == filepath.Base(c.Path) {
			continue
		}
		other, _ := card.Read(path) // as far as it is whole
		i := 0
		for i < min(len(c.Entries), len(other.Entries)) && c.Entries[i].Hash == other.Entries[i].Hash {
			i++
		}
		switch {
		case i < min(len(c.Entries), len(other.Entries)):
			return fmt.Errorf("%s is the same card, gone on with otherwise from line %d on: neither says all that was done. "+
				"The foreman finds out what was done, and moves the wrong one away", path, i+1)
		case i < len(other.Entries):
			return fmt.Errorf("%s is the same card, gone on with further: go on with that one, or have the foreman move it away", path)
		}
	}
	return nil
}
