package report

import (
	"errors"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/joint/unit"
	"evenload/sequence"
)

// recordOf is the record of a card, its seal taken out: it goes with every
// byte of the card, and TestRecordBearsTheSeal holds it.
func recordOf(t *testing.T, path string) string {
	t.Helper()
	d := asDone(t, path)
	return strings.NewReplacer("seal "+d.Seal, "seal SEAL", d.ID, "RECORD-ID").Replace(asText(t, path))
}

func TestRecordOfFinishedWalk(t *testing.T) {
	c := begin(t, opened(t))
	c.toTheEnd()
	golden(t, "record-finished.txt", recordOf(t, c.close()))
}

// TestRecordOfEverything: what goes wrong at a joint, each thing once.
func TestRecordOfEverything(t *testing.T) {
	c := begin(t, opened(t))
	c.do(sequence.SignedOn{Name: "Ann", Second: "Bo"})
	c.until(func(s sequence.Step) bool { a, ok := s.(sequence.Ask); return ok && a.Question.ID == "7" })
	c.do(sequence.Undone{Question: "6"}, sequence.Answered{Question: "6", Answer: sequence.Yes})
	c.do(sequence.Answered{Question: "7", Answer: sequence.No}, sequence.Released{Of: sequence.OfQuestion, Question: "7", Named: engineer})
	c.until(func(s sequence.Step) bool { a, ok := s.(sequence.Ask); return ok && a.Question.ID == "15" })
	c.do(sequence.Answered{Question: "15", Answer: sequence.NotApplicable, Reason: "tool without lubricator"})
	c.until(func(s sequence.Step) bool { _, ok := s.(sequence.GapCheck); return ok })
	c.do(gapsOf(c.s.Walk.Next(c.at).(sequence.GapCheck), 0.004), sequence.GapsAccepted{Named: engineer})
	c.toBolt(1, 2)
	c.do(sequence.Undone{Bolt: 3}, sequence.NoteMade{Text: "bolt 3 confirmed too early"})
	c.toBolt(1, 2)
	c.do(sequence.ProblemFound{Bolt: 2, Reason: "nut runs dry"})
	c.until(func(s sequence.Step) bool { _, ok := s.(sequence.Release); return ok })
	c.do(sequence.Released{Of: sequence.OfBolt, Bolt: 2, Named: engineer})
	s := c.s.Walk.Plan().Passes[0].Settings[0]
	c.do(sequence.PressureSet{AtEnd: true, Running: s.Most + 0.2*unit.Bar, Sure: true}, sequence.Released{Of: sequence.OfPressure, Named: engineer})
	c.toBolt(2, 4)
	c.do(sequence.ProblemFound{Reason: "a leak at the drain"})
	c.do(sequence.SignedOn{Name: "Ann", Permit: "P-3371"})
	c.until(func(s sequence.Step) bool { _, ok := s.(sequence.Check); return ok })
	c.do(sequence.NutStill{Round: 1, Bolt: 1}, sequence.NutMoved{Round: 1, Bolt: 2}, sequence.Suspended{})
	path := c.close()

	// The power fails within a line; another person goes on.
	place(t, path, read(t, path)+`{"n":99`)
	again, err := card.Resume(path, "", "", c.at.Add(time.Minute))
	if err != nil {
		t.Fatal(err)
	}
	c.s, c.name = again, "Cy"
	c.at = c.at.Add(-10 * time.Minute) // and the clock is set back
	c.until(func(s sequence.Step) bool { _, ok := s.(sequence.Check); return ok })
	c.do(sequence.NutMoved{Round: 1, Bolt: 3})
	c.until(func(s sequence.Step) bool { r, ok := s.(sequence.Check); return ok && r.Round == 2 })
	c.do(sequence.NutMoved{Round: 2, Bolt: 1})
	c.until(func(s sequence.Step) bool { _, ok := s.(sequence.Release); return ok })
	c.do(sequence.Released{Of: sequence.OfRounds, Named: engineer})
	c.at = c.s.Walk.Next(c.at).(sequence.Rest).Until // by the clock as it was before it was set back
	c.do(sequence.RestOver{})
	c.toTheEnd()
	if err := c.s.Close(); err != nil {
		t.Fatal(err)
	}
	golden(t, "record-everything.txt", recordOf(t, path))
}

func TestRecordOfUnfinishedWalk(t *testing.T) {
	o := opened(t)
	o.Plan.About.ApprovedBy = ""
	c := begin(t, o)
	c.toBolt(1, 2)
	path := c.close()
	golden(t, "record-unfinished.txt", recordOf(t, path))

	place(t, path, read(t, path)+`{"n":99`)
	if text := recordOf(t, path); !strings.Contains(text, "\nDRAFT: the card's last line is torn; open it with evenload walk\n") {
		t.Errorf("the record of a torn card is not marked:\n%s", text)
	}
}

func TestRecordBearsTheSeal(t *testing.T) {
	c := begin(t, opened(t))
	c.toBolt(1, 1)
	done, err := card.Read(c.close())
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if err := Record(&out, done); err != nil || !strings.HasPrefix(out.String(), "RECORD  DH-220-D1  seal "+c.s.Seal()+"\n") {
		t.Errorf("seal %s, %v:\n%s", c.s.Seal(), err, out.String())
	}
}

// TestRecordRefusesPractice: by what the card says and by its name.
func TestRecordRefusesPractice(t *testing.T) {
	o := opened(t)
	for _, practice := range []bool{true, false} {
		o.Practice = practice
		c := begin(t, o)
		c.do(sequence.SignedOn{Name: "Ann"})
		done, err := card.Read(c.close()) // the name of a card of work
		if err != nil {
			t.Fatal(err)
		}
		if !practice {
			done.Path = strings.Replace(done.Path, ".card.", ".practice.", 1)
		}
		var out strings.Builder
		if err := Record(&out, done); !errors.Is(err, errPractice) || out.Len() > 0 {
			t.Errorf("practice %t, %s: %v\n%s", practice, done.Path, err, out.String())
		}
	}
}

// TestRecordRefusesWhatCannotHaveBeen: bolts done before anybody signed on.
func TestRecordRefusesWhatCannotHaveBeen(t *testing.T) {
	c := begin(t, opened(t))
	c.do(sequence.SignedOn{Name: "Ann"})
	done, err := card.Read(c.close())
	if err != nil {
		t.Fatal(err)
	}
	done.Entries[1].Event.Data = sequence.BoltDone{Pass: 1, Bolts: []sequence.Bolt{1}}
	var out strings.Builder
	if err := Record(&out, done); err == nil || !strings.Contains(err.Error(), `event 2 of the card, "done": nobody has signed on`) || out.Len() > 0 {
		t.Errorf("%v\n%s", err, out.String())
	}
}

// TestEveryEventHasItsSentence: none is shown by the name of its kind.
func TestEveryEventHasItsSentence(t *testing.T) {
	o := opened(t)
	w, err := sequence.New(&o.Plan)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range []sequence.Data{o, sequence.SignedOn{}, sequence.Answered{}, sequence.Snugged{}, sequence.MaterialsNoted{}, sequence.PressureSet{}, sequence.BoltDone{},
		sequence.Undone{}, sequence.NutMoved{}, sequence.NutStill{}, sequence.GapsMeasured{}, sequence.GapsAccepted{}, sequence.RestOver{},
		sequence.RestWaived{}, sequence.ProblemFound{}, sequence.Replaced{}, sequence.ToolChanged{}, sequence.AirChanged{}, sequence.Released{}, sequence.Suspended{}, sequence.HandedOver{}, sequence.NoteMade{}, sequence.TailCut{}, sequence.CardClosed{}} {
		if text := Sentence(w, d); text == string(d.Kind()) || text == "" {
			t.Errorf("%T: %q", d, text)
		}
	}
}
