package card

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"time"

	"evenload/joint/unit"
	"evenload/sequence"
)

// Bounds of a card, several times the most that a joint of 200 bolts takes:
// longer ones were made by hand, and to walk them again would take minutes.
const (
	mostBytes     = 16 << 20
	mostLineBytes = 4 << 20
	mostLines     = 20_000
	mostPeople    = 1000
)

// Entry is one line of a card as read.
type Entry struct {
	N     int
	Event sequence.Event
	Hash  string
}

// Tail is a torn last line: its place in the file, and, once it was cut off,
// the file that keeps what was cut.
type Tail struct {
	Offset int64
	Bytes  int
	Copy   string
	text   []byte
}

// Card is a card as read: the lines that are whole, and a torn last line.
type Card struct {
	Path    string
	Entries []Entry
	Torn    *Tail
	size    int64 // of the whole lines
	people  map[string]bool
}

// DamageError says where a card is damaged. Only a torn last line is no damage.
type DamageError struct {
	Path   string
	Line   int
	Offset int64
	Why    string
}

func (e *DamageError) Error() string {
	return fmt.Sprintf("%s:%d: damaged, at byte %d: %s; leave the file as it is. The foreman looks for its second copy and at the marks on the flange, keeps this file, and lets the work go on with the copy or with a new card", e.Path, e.Line, e.Offset, e.Why)
}

// ErrNothingRecorded means that not even the first line of a card is whole.
var ErrNothingRecorded = errors.New("nothing was ever recorded in it: begin a new card from the job file")

// Read reads a card without locking it. On damage it gives a *DamageError and
// the entries before it.
func Read(path string) (Card, error) {
	f, err := openRegular(path)
	if err != nil {
		return Card{Path: path}, err
	}
	defer f.Close()
	var text bytes.Buffer
	if info, err := f.Stat(); err == nil {
		text.Grow(int(min(info.Size(), mostBytes)) + bytes.MinRead)
	}
	if _, err := text.ReadFrom(io.LimitReader(f, mostBytes+1)); err != nil {
		return Card{Path: path}, fmt.Errorf("card %s: %w", path, err)
	}
	return parse(path, text.Bytes())
}

// parse reads the text of a card.
func parse(path string, text []byte) (Card, error) {
	c := Card{Path: path}
	if whole := bytes.Count(text, []byte{'\n'}); whole <= mostLines {
		c.Entries = make([]Entry, 0, whole)
	}
	end, err := Stream(path, bytes.NewReader(text), func(e Entry) error {
		c.Entries = append(c.Entries, e)
		return nil
	})
	c.size, c.Torn, c.people = end.Bytes, end.Torn, end.people
	if c.Torn != nil {
		c.Torn.text = text[c.Torn.Offset:]
	}
	return c, err
}

// Events are the events of the card, the first the one that opened it.
func (c Card) Events() []sequence.Event {
	events := make([]sequence.Event, len(c.Entries))
	for i, e := range c.Entries {
		events[i] = e.Event
	}
	return events
}

// Opened is what line 1 froze, nothing when line 1 is damaged.
func (c Card) Opened() sequence.CardOpened {
	if len(c.Entries) == 0 {
		return sequence.CardOpened{}
	}
	opened, _ := c.Entries[0].Event.Data.(sequence.CardOpened)
	return opened
}

// InUnits is the card as it is walked and printed in other units than those it was
// begun with; "" leaves them.
func (c Card) InUnits(s unit.System) Card {
	if opened := c.Opened(); s != "" && len(c.Entries) > 0 {
		opened.Plan.System = s
		c.Entries = slices.Clone(c.Entries)
		c.Entries[0].Event.Data = opened
	}
	return c
}

// Seal is the card's last hash, short enough to be read aloud; empty when line
// 1 is damaged.
func (c Card) Seal() string {
	if len(c.Entries) == 0 {
		return ""
	}
	return seal(c.Entries[len(c.Entries)-1].Hash)
}

func seal(hash string) string { return hash[:4] + "-" + hash[4:8] + "-" + hash[8:12] }

// ClosedAt is when the card was closed, false for one that is open. Older
// versions wrote down behind that which torn line they had cut off.
func (c Card) ClosedAt() (time.Time, bool) {
	for _, e := range slices.Backward(c.Entries) {
		switch e.Event.Data.(type) {
		case sequence.TailCut:
			continue
		case sequence.CardClosed:
			return e.Event.At, true
		}
		break
	}
	return time.Time{}, false
}

// IsClosed says that nothing can be added any more.
func (c Card) IsClosed() bool {
	_, is := c.ClosedAt()
	return is
}

// Leaked are the bolts beside which the joint leaked at the test, none when it did not.
func (c Card) Leaked() []sequence.Bolt {
	for _, e := range slices.Backward(c.Entries) {
		if d, ok := e.Event.Data.(sequence.LeakTested); ok {
			return d.Bolts
		}
	}
	return nil
}
