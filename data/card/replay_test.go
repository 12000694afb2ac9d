package card

import (
	"os"
	"testing"
	"time"

	"evenload/sequence"
)

// work is a walk of n events on a joint of 60 bolts: a pass begun again and
// again, since its pressure is always low at the end.
func work(t testing.TB, n int) (sequence.CardOpened, []sequence.Event) {
	t.Helper()
	opened := sample("DH-112-F03")
	opened.Plan.Bolts, opened.Plan.Stations = 60, nil
	for b := range sequence.Bolt(60) {
		opened.Plan.Stations = append(opened.Plan.Stations, sequence.Station{b + 1})
	}
	opened.Plan.RestartAfter = sequence.Span(30 * time.Minute)
	opened.Plan.Passes[0].Settings[0].Least, opened.Plan.Passes[0].Settings[0].Most = 4e5, 4.2e5
	w, err := sequence.New(&opened.Plan)
	if err != nil {
		t.Fatal(err)
	}
	const by = "Vroni Ölhafen"
	var events []sequence.Event
	for at := day; len(events) < n; {
		at = at.Add(7 * time.Second)
		e := sequence.Event{At: at, By: by}
		switch s := w.Next(at).(type) {
		case sequence.SignOn:
			e.Data = sequence.SignedOn{Name: by}
		case sequence.Ask:
			e.Data = sequence.Answered{Question: s.Question.ID, Answer: sequence.Yes}
		case sequence.Snug:
			e.Data = sequence.Snugged{}
		case sequence.Set:
			e.Data = sequence.PressureSet{AtEnd: s.AtEnd, Running: 4.1e5}
			if s.AtEnd {
				e.Data = sequence.PressureSet{AtEnd: true, Running: 3.5e5, Sure: true}
			}
		case sequence.Tighten:
			e.Data = sequence.BoltDone{Pass: s.Pass, Bolts: s.Bolts}
		default:
			t.Fatalf("the walk stands at %T", s)
		}
		if w, err = w.Apply(e); err != nil {
			t.Fatal(err)
		}
		events = append(events, e)
	}
	return opened, events
}

// BenchmarkReplay10000 reads a card of 10 000 events and brings its walk to
// where it stood.
func BenchmarkReplay10000(b *testing.B) {
	opened, all := work(b, 9_999)
	path := place(b, lines(b, opened, all))
	if info, err := os.Stat(path); err != nil {
		b.Fatal(err)
	} else {
		b.SetBytes(info.Size())
	}
	for b.Loop() {
		c, err := Read(path)
		if err != nil || len(c.Entries) != 10_000 {
			b.Fatalf("%d entries: %v", len(c.Entries), err)
		}
		opened := c.Opened()
		if _, err := sequence.Replay(&opened.Plan, c.Events()[1:]); err != nil {
			b.Fatal(err)
		}
	}
}

// A walk that is read back from its card stands where it stood.
func TestReplay(t *testing.T) {
	opened, all := work(t, 300)
	dir := t.TempDir()
	s, err := Begin(dir, "", opened)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range all {
		next, err := s.Walk.Apply(e)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Write(e); err != nil {
			t.Fatal(err)
		}
		s.Walk = next
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	again, err := Resume(s.Path(), "", "", day)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if got, want := again.Walk.Key(), s.Walk.Reopened().Key(); got != want {
		t.Errorf("the walk stands at %s, want %s", got, want)
	}
}
