package card

import (
	"fmt"
	"sync"
	"time"

	"evenload/sequence"
)

// Session is a walk with the card behind it. An event is first applied to a
// copy of the walk, then written and flushed, and only then shown.
type Session struct {
	Walk    sequence.Walk
	journal *Journal
	opened  sequence.CardOpened
	dir     string
	copies  string

	mu   sync.Mutex // a screen may ask for the seal while an event is written
	seal string
}

// Begin starts a walk whose card is made in dir with its first event, so that
// looking leaves nothing behind. copies, where not empty, is a folder for a
// second copy of the card.
func Begin(dir, copies string, opened sequence.CardOpened) (*Session, error) {
	w, err := sequence.New(&opened.Plan)
	if err != nil {
		return nil, err
	}
	return &Session{Walk: w, opened: opened, dir: dir, copies: copies}, nil
}

// Resume goes on with a card: locked, read, verified, a torn last line cut
// off. Whoever works signs on first.
func Resume(path, copies string, now time.Time) (*Session, error) {
	j, c, err := Open(path)
	if err != nil {
		return nil, err
	}
	opened := c.Opened()
	w, err := sequence.Replay(&opened.Plan, c.Events()[1:])
	if err != nil {
		j.Close()
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	s := &Session{Walk: w.Reopened(), journal: j, opened: opened, copies: copies, seal: j.Seal()}
	if c.Torn != nil {
		cut := sequence.Event{At: Stamp(now), By: "evenload", Data: sequence.TailCut{File: c.Torn.Copy, Bytes: c.Torn.Bytes}}
		next, err := s.Walk.Apply(cut)
		if err == nil {
			err = s.Write(cut)
		}
		if err != nil {
			j.Close()
			return nil, err
		}
		s.Walk = next
	}
	s.copyTo()
	return s, nil
}

// Stamp is the time as the card keeps it: UTC, to the millisecond.
func Stamp(t time.Time) time.Time { return t.UTC().Truncate(time.Millisecond) }

// Write puts an event on the disk. The card is made with the first one.
func (s *Session) Write(e sequence.Event) error {
	if s.journal == nil {
		j, err := Create(s.dir, s.opened, e.At, e.By)
		if err != nil {
			return err
		}
		s.journal = j
		s.copyTo()
	}
	err := s.journal.Append(e)
	s.mu.Lock()
	defer s.mu.Unlock()
	s.seal = s.journal.Seal()
	return err
}

func (s *Session) copyTo() {
	if s.copies != "" {
		_ = s.journal.CopyTo(s.copies) // best effort: CopyError shows what failed
	}
}

// CopyError says what is wrong with the second copy, nil when nothing is.
func (s *Session) CopyError() error {
	if s.journal == nil {
		return nil
	}
	return s.journal.CopyError()
}

// Path of the card, empty before its first event.
func (s *Session) Path() string {
	if s.journal == nil {
		return ""
	}
	return s.journal.Path()
}

// Seal of the card so far, empty before its first event.
func (s *Session) Seal() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.seal
}

// Close gives the card back.
func (s *Session) Close() error {
	if s.journal == nil {
		return nil
	}
	return s.journal.Close()
}
