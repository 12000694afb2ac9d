package main

import (
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
