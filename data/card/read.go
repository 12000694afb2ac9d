package card

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"

	"evenload/sequence"
)

// Bounds of a card: more was not written by this program.
const (
	mostBytes     = 64 << 20
	mostLineBytes = 4 << 20
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
}

// Card is a card as read: the lines that are whole, and a torn last line.
type Card struct {
	Path    string
	Entries []Entry
	Torn    *Tail
}

// DamageError says where a card is damaged. Only a torn last line is no damage.
type DamageError struct {
	Path   string
	Line   int
	Offset int64
	Why    string
}

func (e *DamageError) Error() string {
	return fmt.Sprintf("%s:%d: damaged, at byte %d: %s; leave the file as it is and ask the foreman", e.Path, e.Line, e.Offset, e.Why)
}

// ErrNothingRecorded means that not even the first line of a card is whole.
var ErrNothingRecorded = errors.New("nothing was ever recorded in it: begin a new card from the job file")

// Read reads a card without locking it. On damage it gives a *DamageError and
// the entries before it.
func Read(path string) (Card, error) {
	c := Card{Path: path}
	f, err := os.Open(path)
	if err != nil {
		return c, fmt.Errorf("card: %w", err)
	}
	defer f.Close()
	return read(path, f)
}

func read(path string, f io.Reader) (Card, error) {
	c := Card{Path: path}
	text, err := io.ReadAll(io.LimitReader(f, mostBytes+1))
	if err != nil {
		return c, fmt.Errorf("card %s: %w", path, err)
	}
	if len(text) > mostBytes {
		return c, fmt.Errorf("card %s: larger than %d MiB, no card is", path, mostBytes>>20)
	}
	before, offset := noHash, int64(0)
	for n := 1; len(text) > 0; n++ {
		end := bytes.IndexByte(text, '\n')
		if last := end < 0 || end == len(text)-1; last && (end < 0 || bytes.IndexByte(text, 0) >= 0) {
			c.Torn = &Tail{Offset: offset, Bytes: len(text)}
			break
		}
		if end > mostLineBytes {
			return c, &DamageError{path, n, offset, "the line is too long"}
		}
		e, hash, err := decode(n, text[:end], before)
		if err != nil {
			return c, &DamageError{path, n, offset, err.Error()}
		}
		c.Entries = append(c.Entries, Entry{N: n, Event: e, Hash: hash})
		before = hash
		text, offset = text[end+1:], offset+int64(end)+1
	}
	if len(c.Entries) == 0 {
		return c, fmt.Errorf("card %s: %w", path, ErrNothingRecorded)
	}
	return c, nil
}

// Events are the events of the card, the first the one that opened it.
func (c Card) Events() []sequence.Event {
	events := make([]sequence.Event, len(c.Entries))
	for i, e := range c.Entries {
		events[i] = e.Event
	}
	return events
}

// Opened is what line 1 froze.
func (c Card) Opened() sequence.CardOpened {
	opened, _ := c.Entries[0].Event.Data.(sequence.CardOpened)
	return opened
}

// Seal is the card's last hash, short enough to be read aloud.
func (c Card) Seal() string { return seal(c.Entries[len(c.Entries)-1].Hash) }

func seal(hash string) string { return hash[:4] + "-" + hash[4:8] + "-" + hash[8:12] }

// ClockWentBack lists the lines whose time is earlier than the line before.
func (c Card) ClockWentBack() []int {
	var lines []int
	for i := 1; i < len(c.Entries); i++ {
		if c.Entries[i].Event.At.Before(c.Entries[i-1].Event.At) {
			lines = append(lines, c.Entries[i].N)
		}
	}
	return lines
}
