package card

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"evenload/joint/unit"
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

	disk   sync.Mutex // one write at a time, and none while it closes
	closed bool

	// A screen asks for these while an event is being written.
	mu      sync.Mutex
	path    string
	seal    string
	copyErr error
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
// off, its words in the units asked for (Card.InUnits). Whoever works signs on first.
func Resume(path, copies string, units unit.System, now time.Time) (*Session, error) {
	j, c, err := Open(path)
	if err != nil {
		return nil, err
	}
	c = c.InUnits(units)
	opened := c.Opened()
	w, err := sequence.Replay(&opened.Plan, c.Events()[1:])
	if err != nil {
		j.Close()
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	s := &Session{Walk: w.Reopened(), journal: j, opened: opened, copies: copies}
	var cut []sequence.TailCut
	if !w.IsClosed() { // else the seal is on paper by now, and must not change
		cut = cutOff(c)
	}
	for _, tail := range cut {
		told := sequence.Event{At: Stamp(now), By: "evenload", Data: tail}
		next, err := s.Walk.Apply(told)
		if err == nil {
			err = s.Write(told)
		}
		if err != nil {
			j.Close()
			return nil, err
		}
		s.Walk = next
	}
	s.copyTo()
	s.publish()
	return s, nil
}

// cutOff lists the torn lines that were cut off the card and that it does not
// tell of: the one of this opening, and one where the power failed before it
// was written down.
func cutOff(c Card) []sequence.TailCut {
	var told []sequence.TailCut
	for _, e := range c.Entries {
		if d, ok := e.Event.Data.(sequence.TailCut); ok {
			told = append(told, d)
		}
	}
	files, err := os.ReadDir(filepath.Dir(c.Path))
	if err != nil {
		return nil // the card itself could be read: what lies beside it is best effort
	}
	var cut []sequence.TailCut
	for _, f := range files {
		info, err := f.Info()
		if err != nil || !info.Mode().IsRegular() || !isTail(filepath.Base(c.Path), f.Name()) {
			continue
		}
		// A card that was moved alone cuts off another line under a name that it told.
		if tail := (sequence.TailCut{File: f.Name(), Bytes: int(info.Size())}); !slices.Contains(told, tail) {
			cut = append(cut, tail)
		}
	}
	return cut
}

// Stamp is the time as the card keeps it: UTC, to the millisecond.
func Stamp(t time.Time) time.Time { return t.UTC().Truncate(time.Millisecond) }

// Write puts an event on the disk. The card is made with the first one.
func (s *Session) Write(e sequence.Event) error {
	s.disk.Lock()
	defer s.disk.Unlock()
	if s.closed {
		return ErrBroken
	}
	if s.journal == nil {
		j, err := Create(s.dir, s.opened, e.At, e.By)
		if err != nil {
			return err
		}
		s.journal = j
		s.copyTo()
	}
	defer s.publish()
	return s.journal.Append(e)
}

// publish lets the screen see how the card stands after a write.
func (s *Session) publish() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.path, s.seal, s.copyErr = s.journal.Path(), s.journal.Seal(), s.journal.CopyError()
}

func (s *Session) copyTo() {
	if s.copies != "" {
		_ = s.journal.copyTo(s.copies) // best effort: CopyError shows what failed
	}
}

// CopyError says what is wrong with the second copy, nil when nothing is.
func (s *Session) CopyError() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.copyErr
}

// Opened is the first line of the card.
func (s *Session) Opened() sequence.CardOpened { return s.opened }

// Path of the card, empty before its first event.
func (s *Session) Path() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.path
}

// Seal of the card so far, empty before its first event.
func (s *Session) Seal() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.seal
}

// Close gives the card back.
func (s *Session) Close() error {
	s.disk.Lock()
	defer s.disk.Unlock()
	s.closed = true
	if s.journal == nil {
		return nil
	}
	return s.journal.Close()
}
