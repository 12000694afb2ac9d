package report

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/joint"
	"evenload/sequence"
)

// messy is a walk in which most goes wrong: problems at bolts, new parts,
// another tool, bolts taken back, another person, and a clock that is set back.
func messy(t *testing.T, seen func(sequence.Event, sequence.Walk)) (*crew, sequence.CardOpened) {
	o := opened(t)
	spare := o.Plan.Tools[0]
	spare.ID, spare.Certificate, spare.Gauge.ID, spare.Chart = "W-02", "C-2231", "G-06", nil
	for _, p := range o.Plan.Tools[0].Chart {
		spare.Chart = append(spare.Chart, joint.Point{Pressure: p.Pressure, Torque: p.Torque * 1.1})
	}
	o.Plan.Spare = []joint.Tool{spare}
	c := begin(t, o)
	c.seen = seen
	c.toBolt(1, 3)
	c.do(sequence.ProblemFound{Bolt: 3, What: sequence.NoStall, Reason: "hose kinked", Now: true}, sequence.BoltDone{Pass: 1, Bolts: []sequence.Bolt{3}}, sequence.Undone{Bolt: 3})
	c.do(sequence.ProblemFound{Bolt: 3, What: sequence.Seized, Batch: "H-441"}, sequence.ProblemFound{Bolt: 4, What: sequence.WrongBolt, Reason: "counted from the wrong side"},
		sequence.Replaced{Bolt: 3, Batch: "H-460"}, sequence.ProblemFound{Bolt: 1, What: sequence.Missed})
	c.toBolt(2, 2)
	c.do(sequence.ProblemFound{Bolt: 2, What: sequence.StudTurns}, sequence.Suspended{})
	c.name = "Cy"
	c.until(func(s sequence.Step) bool { r, ok := s.(sequence.Tighten); return ok && r.Bolts[0] == 4 })
	c.do(sequence.ProblemFound{Bolt: 4, What: sequence.Broke, Batch: "H-441"}, sequence.Released{Of: sequence.OfProblem, Bolt: 4, Named: engineer}, sequence.Replaced{Bolt: 4, Batch: "H-460"})
	c.until(func(s sequence.Step) bool { r, ok := s.(sequence.Tighten); return ok && r.Redo == 4 })
	c.do(sequence.BoltDone{Pass: 1, Bolts: []sequence.Bolt{4}}, sequence.Undone{Bolt: 4})
	c.at = c.at.Add(-3 * time.Hour) // the clock is set back
	c.toBolt(2, 4)
	d, err := c.s.Walk.ToolChange(0, spare, joint.DateOf(c.at))
	if err != nil {
		t.Fatal(err)
	}
	d.Reason, d.GoOn = "loses air", &engineer
	c.do(d)
	c.toBolt(2, 4)
	c.do(sequence.ProblemFound{Bolt: 4, What: sequence.WrongPressure, Read: c.s.Walk.Tools()[0].Chart.Last().Pressure}, sequence.Released{Of: sequence.OfProblem, Bolt: 4, Named: engineer},
		sequence.AirChanged{Reason: "another regulator"})
	c.until(func(s sequence.Step) bool { r, ok := s.(sequence.Release); return ok && r.Of == sequence.OfBolt })
	c.do(sequence.Undone{Bolt: 2})
	c.until(func(s sequence.Step) bool { set, ok := s.(sequence.Set); return ok && set.AtEnd && set.Pass == 2 })
	c.do(sequence.PressureSet{AtEnd: true, Running: c.s.Walk.Next(c.at).(sequence.Set).Most + 0.3e5, Sure: true}, sequence.Released{Of: sequence.OfPressure, Named: engineer})
	c.until(func(s sequence.Step) bool { _, ok := s.(sequence.Check); return ok })
	c.do(sequence.NutMoved{Round: 1, Bolt: 1}, sequence.ProblemFound{Bolt: 2, What: sequence.OtherTrouble, Reason: "socket worn", Now: true},
		sequence.ProblemFound{Bolt: 2, What: sequence.Seized}, sequence.Released{Of: sequence.OfProblem, Bolt: 2, Named: engineer}, sequence.Replaced{Bolt: 2, Batch: "H-460"})
	c.toTheEnd()
	return c, o
}

func TestRecordOfProblems(t *testing.T) {
	c, _ := messy(t, nil)
	golden(t, "record-problems.txt", recordOf(t, c.close()))
}

// TestMessyWalkAtEveryEvent: after each event the card replays to the walk as
// it was, and a program that was killed there, or within the next line, goes on
// at the same place.
func TestMessyWalkAtEveryEvent(t *testing.T) {
	t.Run("one tool", func(t *testing.T) { atEveryEvent(t, messy, 90) })
	t.Run("two tools", func(t *testing.T) { atEveryEvent(t, messyTeam, 110) })
}

func atEveryEvent(t *testing.T, messy func(*testing.T, func(sequence.Event, sequence.Walk)) (*crew, sequence.CardOpened), least int) {
	var live []sequence.Walk
	var at []time.Time
	c, o := messy(t, func(e sequence.Event, w sequence.Walk) { live, at = append(live, w), append(at, e.At) })
	path := c.close()
	done, err := card.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	if text, ok := Verify(path); !ok || !strings.Contains(text, ": closed, ") {
		t.Fatal(text)
	}
	events := done.Events()[1:]
	lines := strings.SplitAfter(read(t, path), "\n")
	if len(events) != len(live) || len(events) < least {
		t.Fatalf("%d events on the card, %d were taken", len(events), len(live))
	}
	for n := 1; n <= len(events); n++ {
		want := live[n-1]
		again, err := sequence.Replay(&o.Plan, events[:n])
		if err != nil || again.Key() != want.Key() {
			t.Fatalf("after event %d, %#v, the card replays to another walk: %v", n, events[n-1].Data, err)
		}
		soon := at[n-1].Add(time.Second)
		if got, want := again.Next(soon), want.Next(soon); !reflect.DeepEqual(got, want) {
			t.Fatalf("after event %d next is\n%#v, want\n%#v", n, got, want)
		}
		if !reflect.DeepEqual(again.Exceptions(), want.Exceptions()) || !reflect.DeepEqual(again.OwedWords(), want.OwedWords()) {
			t.Fatalf("after event %d the replayed walk says %q, %q", n, again.Exceptions(), again.OwedWords())
		}
		killed := strings.Join(lines[:n+1], "")
		if n < len(events) {
			killed += lines[n+1][:len(lines[n+1])/2]
		}
		resumed(t, killed, want, soon)
	}
}

// resumed goes on with a card that ends where the program was killed.
func resumed(t *testing.T, text string, want sequence.Walk, now time.Time) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "DH-220-D1.20261125-aaaaaa.card.jsonl")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := card.Resume(path, "", "", now)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if s.Walk.Key() != want.Reopened().Key() {
		t.Fatalf("after a kill the walk stands at %#v, it stood at %#v", s.Walk.Next(now), want.Next(now))
	}
	if want.IsClosed() {
		return
	}
	by := want.Operator()
	if _, stopped := want.Next(now).(sequence.Stop); by == "" || stopped {
		return
	}
	on := sequence.Event{At: now, By: by, Data: sequence.SignedOn{Name: by}}
	got, err := s.Walk.Apply(on)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := want.Apply(on); err != nil || !reflect.DeepEqual(got.Next(now), again.Next(now)) {
		t.Fatalf("signed on again, next is %#v, want %#v: %v", got.Next(now), again.Next(now), err)
	}
}
