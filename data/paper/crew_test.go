package paper

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/ledongthuc/pdf"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/data/report"
	"evenload/joint"
	"evenload/sequence"
)

const jobs = "../../testdata/jobs/"

var (
	day      = joint.Date{Year: 2026, Month: 11, Day: 25}
	engineer = sequence.Named{Name: "Eva", Role: "engineer", Reason: "looked at"}
)

// crew walks a joint, an event every 20 seconds.
type crew struct {
	t    testing.TB
	s    *card.Session
	at   time.Time
	name string
}

func load(t testing.TB, text string) job.Job {
	t.Helper()
	j, err := job.Parse("job.toml", []byte(text), jobs)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func file(t testing.TB, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func begin(t testing.TB, j job.Job) *crew {
	t.Helper()
	plan, found := j.Plan(day)
	if joint.Failed(found) {
		t.Fatal(found)
	}
	s, err := card.Begin(t.TempDir(), "", sequence.CardOpened{Format: 1, Program: "evenload test", OffsetMinutes: 60, JobFile: "job.toml", JobSHA256: j.SHA256, Inputs: j.Inputs, Plan: plan})
	if err != nil {
		t.Fatal(err)
	}
	return &crew{t: t, s: s, at: time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC), name: "Ann"}
}

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
	}
}

// until walks the straight way to a step that stop wants.
func (c *crew) until(stop func(sequence.Step) bool) {
	c.t.Helper()
	for range 2000 {
		step := c.s.Walk.Next(c.at.Add(20 * time.Second))
		if stop(step) {
			return
		}
		c.do(straight(c.name, step))
	}
	c.t.Fatal("the straight way does not come there")
}

func (c *crew) toTheEnd() {
	c.t.Helper()
	c.until(func(s sequence.Step) bool { _, closed := s.(sequence.Closed); return closed })
}

func straight(name string, s sequence.Step) sequence.Data {
	switch s := s.(type) {
	case sequence.SignOn:
		return sequence.SignedOn{Name: name}
	case sequence.Ask:
		return sequence.Answered{Question: s.Question.ID, Answer: sequence.Yes, Typed: s.Question.Typed, Told: tell(s.Question)}
	case sequence.Materials:
		return sequence.MaterialsNoted{Gasket: "G-4471"}
	case sequence.Snug:
		return sequence.Snugged{}
	case sequence.GapCheck:
		places := s.Places
		if !s.All {
			places = places[:2]
		}
		var all sequence.GapsMeasured
		for _, b := range places {
			all.Readings = append(all.Readings, sequence.Gap{Bolt: b, Gap: 0.001})
		}
		return all
	case sequence.Set:
		return sequence.PressureSet{AtEnd: s.AtEnd, Tool: s.Slot, Running: s.Set}
	case sequence.Tighten:
		return sequence.BoltDone{Pass: s.Pass, Bolts: s.Bolts}
	case sequence.Check:
		return sequence.NutStill{Round: s.Round, Bolt: s.Bolt}
	case sequence.Release:
		return sequence.Released{Of: s.Of, Hold: s.Hold, Named: engineer}
	case sequence.Rest:
		return sequence.RestWaived{Named: engineer}
	}
	return sequence.CardClosed{Witness: "Wim", Role: "inspector"}
}

// done reads the card back, damaged or not.
func (c *crew) done() report.AsDone {
	c.t.Helper()
	if err := c.s.Close(); err != nil {
		c.t.Fatal(err)
	}
	return doneOf(c.t, c.s.Path())
}

func doneOf(t testing.TB, path string) report.AsDone {
	t.Helper()
	c, err := card.Read(path)
	var damage *card.DamageError
	if err != nil && !errors.As(err, &damage) {
		t.Fatal(err)
	}
	d, err := report.DoneOf(c, err)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// pages are the texts of a PDF, page by page, as a reader of another make has them.
func pages(t testing.TB, file []byte) []string {
	t.Helper()
	r, err := pdf.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for n := 1; n <= r.NumPage(); n++ {
		text, err := r.Page(n).GetPlainText(nil)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, strings.Join(strings.Fields(text), " "))
	}
	return all
}

func recorded(t testing.TB, d report.AsDone) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := Record(&out, d); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// tell says something to all that a yes has to tell.
func tell(q sequence.Question) (all []string) {
	for _, a := range q.Asks {
		all = append(all, a.Label+" S-14")
	}
	return all
}
