package report

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/joint/unit"
	"evenload/sequence"
)

var morning = time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC)

// crew walks a joint of four bolts, an event every 20 seconds.
type crew struct {
	t    testing.TB
	s    *card.Session
	at   time.Time
	name string
	seen func(sequence.Event, sequence.Walk) // what was written, and the walk after it
}

// opened freezes the job of testdata/walk.
func opened(t *testing.T) sequence.CardOpened {
	t.Helper()
	j := load(t, "../../testdata/walk/drain-4.toml")
	plan, _ := j.Plan(day)
	return sequence.CardOpened{Format: 1, Program: "evenload test", OffsetMinutes: 60, JobFile: "drain-4.toml", JobSHA256: strings.Repeat("0", 64),
		Inputs: j.Inputs, Plan: plan}
}

func begin(t *testing.T, opened sequence.CardOpened) *crew {
	t.Helper()
	s, err := card.Begin(t.TempDir(), "", opened)
	if err != nil {
		t.Fatal(err)
	}
	return &crew{t: t, s: s, at: morning, name: "Ann"}
}

// do has events accepted and written.
func (c *crew) do(all ...sequence.Data) {
	c.t.Helper()
	for _, d := range all {
		c.at = c.at.Add(20 * time.Second)
		e := sequence.Event{At: card.Stamp(c.at), By: c.name, Data: d}
		next, err := c.s.Walk.Apply(e)
		if err == nil {
			err = c.s.Write(e)
		}
		if err != nil {
			c.t.Fatalf("%#v: %v", d, err)
		}
		c.s.Walk = next
		if c.seen != nil {
			c.seen(e, next)
		}
	}
}

// until walks the straight way to a step that stop wants.
func (c *crew) until(stop func(sequence.Step) bool) {
	c.t.Helper()
	for range 200 {
		step := c.s.Walk.Next(c.at.Add(20 * time.Second))
		if stop(step) {
			return
		}
		c.do(straight(c.name, step))
	}
	c.t.Fatal("the straight way does not come there")
}

// toTheEnd walks the straight way until the card is closed.
func (c *crew) toTheEnd() {
	c.t.Helper()
	c.until(func(s sequence.Step) bool { _, closed := s.(sequence.Closed); return closed })
}

// toBolt walks the straight way to a bolt of a pass.
func (c *crew) toBolt(pass int, b sequence.Bolt) {
	c.t.Helper()
	c.until(func(s sequence.Step) bool {
		t, ok := s.(sequence.Tighten)
		return ok && t.Pass == pass && t.Bolts[0] == b
	})
}

// straight answers a step the straight way.
func straight(name string, s sequence.Step) sequence.Data {
	switch s := s.(type) {
	case sequence.SignOn:
		return sequence.SignedOn{Name: name}
	case sequence.Stop:
		return sequence.SignedOn{Name: name, Permit: "P-2"}
	case sequence.Ask:
		if s.Question.Measured {
			return sequence.Answered{Question: s.Question.ID, Answer: sequence.Yes, Measured: &sequence.Alignment{}}
		}
		return sequence.Answered{Question: s.Question.ID, Answer: sequence.Yes, Typed: s.Question.Typed, Told: tell(s.Question)}
	case sequence.Materials:
		warm := unit.Temperature(12)
		return sequence.MaterialsNoted{Gasket: "G-4471", Ambient: &warm}
	case sequence.Snug:
		return sequence.Snugged{}
	case sequence.GapCheck:
		return gapsOf(s, 0.001)
	case sequence.Set:
		return sequence.PressureSet{AtEnd: s.AtEnd, Tool: s.Slot, Running: s.Set}
	case sequence.Tighten:
		return sequence.BoltDone{Pass: s.Pass, Bolts: s.Bolts}
	case sequence.Check:
		return sequence.NutStill{Round: s.Round, Bolt: s.Bolt}
	case sequence.Stretch:
		return sequence.StretchMeasured{Bolt: s.Bolt, Stretch: s.Expected, Load: unit.Force(float64(s.Expected) / float64(s.Give)), Within: 1e3}
	case sequence.LeakTest:
		return sequence.LeakTested{Result: sequence.Tight}
	case sequence.Release:
		return sequence.Released{Of: s.Of, Hold: s.Hold, Named: engineer}
	case sequence.Rest:
		return sequence.RestWaived{Named: engineer}
	}
	return sequence.CardClosed{Witness: "Wim", Role: "inspector"}
}

var engineer = sequence.Named{Name: "Eva", Role: "engineer", Reason: "looked at"}

// gapsOf measures two gaps: the first as given, the other 1 mm.
func gapsOf(s sequence.GapCheck, first unit.Length) sequence.GapsMeasured {
	return sequence.GapsMeasured{Readings: []sequence.Gap{{Bolt: s.Places[0], Gap: first}, {Bolt: s.Places[1], Gap: 0.001}}}
}

// close gives the card back under a name without anything random.
func (c *crew) close() (path string) {
	c.t.Helper()
	if err := c.s.Close(); err != nil {
		c.t.Fatal(err)
	}
	path = filepath.Join(filepath.Dir(c.s.Path()), "DH-220-D1.20261125-aaaaaa.card.jsonl")
	if err := os.Rename(c.s.Path(), path); err != nil {
		c.t.Fatal(err)
	}
	return path
}

// tell says something to all that a yes has to tell.
func tell(q sequence.Question) (all []string) {
	for _, a := range q.Asks {
		all = append(all, a.Label+" S-14")
	}
	return all
}
