package card

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"evenload/sequence"
)

// take applies an event to the walk and writes it, as a screen does.
func take(t *testing.T, s *Session, d sequence.Data) {
	t.Helper()
	e := sequence.Event{At: day, By: "Vroni Ölhafen", Data: d}
	next, err := s.Walk.Apply(e)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Write(e); err != nil {
		t.Fatal(err)
	}
	s.Walk = next
}

func TestSession(t *testing.T) {
	dir, copies := t.TempDir(), t.TempDir()
	s, err := Begin(dir, copies, sample("DH-112-F03"))
	if err != nil {
		t.Fatal(err)
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) > 0 || s.Path() != "" || s.Seal() != "" {
		t.Fatalf("looking left %v behind, path %q, seal %q: %v", left, s.Path(), s.Seal(), err)
	}
	// A screen asks how the card stands while an event is being written.
	stop, stopped := make(chan bool), make(chan bool)
	go func() {
		defer close(stopped)
		for {
			select {
			case <-stop:
				return
			default:
				_, _, _ = s.Path(), s.Seal(), s.CopyError()
			}
		}
	}()
	take(t, s, sequence.SignedOn{Name: "Vroni Ölhafen"})
	take(t, s, sequence.NoteMade{Text: "scaffold tag 7"})
	close(stop)
	<-stopped
	if err := s.CopyError(); err != nil {
		t.Error(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	c, err := Read(s.Path())
	if err != nil || len(c.Entries) != 3 || c.Seal() != s.Seal() {
		t.Fatalf("%d entries, seal %s, want 3 and %s: %v", len(c.Entries), c.Seal(), s.Seal(), err)
	}

	// The power fails within a line.
	f, err := os.OpenFile(s.Path(), os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.WriteString(`{"n":4,`); err != nil {
		t.Fatal(err)
	}
	f.Close()
	again, err := Resume(s.Path(), copies, "", day.Add(time.Minute))
	if err != nil {
		t.Fatal(err)
	}
	take(t, again, sequence.SignedOn{Name: "Vroni Ölhafen"})
	if err := again.Close(); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{s.Path(), filepath.Join(copies, filepath.Base(s.Path()))} {
		c, err = Read(path)
		if err != nil || len(c.Entries) != 5 || c.Torn != nil {
			t.Fatalf("%d entries, torn %v: %v", len(c.Entries), c.Torn, err)
		}
		want := sequence.TailCut{File: filepath.Base(s.Path()) + ".torn-1", Bytes: 7}
		if got := c.Entries[3].Event.Data; got != want {
			t.Errorf("line 4 is %+v, want %+v", got, want)
		}
	}
}

// The power fails after the torn line was cut off and before the card tells of
// it: the next opening does.
func TestTailCutIsToldLater(t *testing.T) {
	s, err := Begin(t.TempDir(), "", sample("DH-112-F03"))
	if err != nil {
		t.Fatal(err)
	}
	take(t, s, sequence.SignedOn{Name: "Vroni Ölhafen"})
	s.Close()
	f, err := os.OpenFile(s.Path(), os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.WriteString(`{"n":3,`); err != nil {
		t.Fatal(err)
	}
	f.Close()
	j, c, err := Open(s.Path())
	if err != nil || c.Torn == nil {
		t.Fatalf("torn %v: %v", c.Torn, err)
	}
	j.Close()
	for range 2 { // the second time there is nothing left to tell
		again, err := Resume(s.Path(), "", "", day.Add(time.Minute))
		if err != nil {
			t.Fatal(err)
		}
		again.Close()
	}
	c, err = Read(s.Path())
	want := sequence.TailCut{File: filepath.Base(s.Path()) + ".torn-1", Bytes: 7}
	if err != nil || len(c.Entries) != 3 || c.Entries[2].Event.Data != want {
		t.Errorf("%+v, want %+v at the end: %v", c.Entries, want, err)
	}
}

// closedCard is a card that was closed, with bytes of another program behind it.
func closedCard(t *testing.T, behind string) string {
	t.Helper()
	s, err := Begin(t.TempDir(), "", sample("DH-112-F03"))
	if err != nil {
		t.Fatal(err)
	}
	take(t, s, sequence.SignedOn{Name: "Vroni Ölhafen"})
	// The walk to a closed card is long: only its lines are looked at here.
	if err := s.Write(sequence.Event{At: day, By: "Vroni Ölhafen", Data: sequence.CardClosed{Witness: "W", Role: "foreman"}}); err != nil {
		t.Fatal(err)
	}
	s.Close()
	text, err := os.ReadFile(s.Path())
	if err != nil || os.WriteFile(s.Path(), append(text, behind...), 0o644) != nil {
		t.Fatal(err)
	}
	return s.Path()
}

// TestClosedStaysClosed: a torn line that was cut off behind the end, as older
// versions wrote it down, makes no open card.
func TestClosedStaysClosed(t *testing.T) {
	path := closedCard(t, `{"n":4,`)
	c, err := Read(path)
	if at, is := c.ClosedAt(); err != nil || !is || !c.IsClosed() || !at.Equal(day) {
		t.Fatalf("closed %t at %s: %v", is, at, err)
	}
	j, _, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	err = j.Append(sequence.Event{At: day.Add(time.Hour), By: "evenload", Data: sequence.TailCut{File: filepath.Base(path) + ".torn-1", Bytes: 7}})
	j.Close()
	if err != nil {
		t.Fatal(err)
	}
	c, err = Read(path)
	if at, is := c.ClosedAt(); err != nil || len(c.Entries) != 4 || !is || !c.IsClosed() || !at.Equal(day) {
		t.Errorf("%d entries, closed %t at %s: %v", len(c.Entries), is, at, err)
	}
}

// TestOnlyOwnTailsAreTold: a file beside a card that is called nearly as a torn
// line of it is none, and its name must not stop the work.
func TestOnlyOwnTailsAreTold(t *testing.T) {
	s, err := Begin(t.TempDir(), "", sample("DH-112-F03"))
	if err != nil {
		t.Fatal(err)
	}
	take(t, s, sequence.SignedOn{Name: "Vroni Ölhafen"})
	s.Close()
	for _, end := range []string{"\xff", "1\x1b[2J", "01", "0", "1001", "1.torn-1", "x", ""} {
		if err := os.WriteFile(s.Path()+".torn-"+end, []byte("x"), 0o644); err != nil {
			t.Logf("%q: %v", end, err) // not on every disk
		}
	}
	again, err := Resume(s.Path(), "", "", day.Add(time.Minute))
	if err != nil {
		t.Fatal(err)
	}
	again.Close()
	if c, err := Read(s.Path()); err != nil || len(c.Entries) != 2 {
		t.Errorf("%d lines: %v", len(c.Entries), err)
	}
}

// TestClosedCardKeepsItsSeal: what another program wrote behind the end is cut off,
// and the seal stays the one that was signed on paper.
func TestClosedCardKeepsItsSeal(t *testing.T) {
	text, err := os.ReadFile("../../testdata/cards/DH-220-D1.20261125-aaaaaa.card.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "a.card.jsonl")
	if err := os.WriteFile(path, append(slices.Clip(text), `{"n":99,`...), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := Resume(path, "", "", day)
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
	after, err := os.ReadFile(path)
	if err != nil || !bytes.Equal(after, text) {
		t.Errorf("%d bytes of %d: %v", len(after), len(text), err)
	}
	if kept, err := os.ReadFile(path + ".torn-1"); err != nil || string(kept) != `{"n":99,` {
		t.Errorf("kept is %q: %v", kept, err)
	}
}

// TestTailOfAMovedCard: a card was moved without the torn line that it tells of, and
// another one is cut off under the same name: it is told too.
func TestTailOfAMovedCard(t *testing.T) {
	s, err := Begin(t.TempDir(), "", sample("DH-112-F03"))
	if err != nil {
		t.Fatal(err)
	}
	take(t, s, sequence.SignedOn{Name: "Vroni Ölhafen"})
	s.Close()
	for _, torn := range []string{`{"n":3,`, `{"n":4,"a`} {
		text, err := os.ReadFile(s.Path())
		if err != nil || os.WriteFile(s.Path(), append(text, torn...), 0o644) != nil {
			t.Fatal(err)
		}
		again, err := Resume(s.Path(), "", "", day.Add(time.Minute))
		if err != nil {
			t.Fatal(err)
		}
		again.Close()
		if err := os.Remove(s.Path() + ".torn-1"); err != nil {
			t.Fatal(err)
		}
	}
	c, err := Read(s.Path())
	if err != nil || len(c.Entries) != 4 || c.Entries[3].Event.Data != (sequence.TailCut{File: filepath.Base(s.Path()) + ".torn-1", Bytes: 9}) {
		t.Errorf("%+v: %v", c.Entries, err)
	}
}
