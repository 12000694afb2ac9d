package report

import (
	"slices"
	"strings"
	"testing"
	"time"

	"evenload/sequence"
)

func factsOf(d AsDone, label string) (all []string) {
	for _, f := range d.Facts() {
		if f.Label == label {
			all = append(all, f.Text)
		}
	}
	return all
}

func atRest(s sequence.Step) bool { _, ok := s.(sequence.Rest); return ok }

// TestRestOnTheRecord: how long it was, or who waived it, and one that is not over.
func TestRestOnTheRecord(t *testing.T) {
	c := begin(t, opened(t))
	c.until(atRest)
	open := asDone(t, c.close())
	if got := factsOf(open, "rest"); len(got) != 1 || !strings.HasPrefix(got[0], "30 min planned; from 2026-") || !strings.HasSuffix(got[0], ", not over yet") || len(open.Rests) != 0 {
		t.Errorf("an open rest is %q", got)
	}

	c = begin(t, opened(t))
	c.until(atRest)
	began := c.at
	c.do(sequence.RestWaived{Named: engineer})
	d := asDone(t, c.close())
	if got := factsOf(d, "rest"); len(got) != 1 || !strings.HasPrefix(got[0], "30 min planned; WAIVED by Eva, engineer: looked at; begun ") {
		t.Errorf("a waived rest is %q", got)
	}
	if r := d.Rests[0]; r.From.After(began) || began.Sub(r.From) > 5*time.Minute || !r.To.After(r.From) || r.Waived == nil {
		t.Errorf("%+v, it began about %s", r, began)
	}

	c = begin(t, opened(t))
	c.until(atRest)
	c.at = c.at.Add(31 * time.Minute)
	c.do(sequence.RestOver{})
	d = asDone(t, c.close())
	r := d.Rests[0]
	if r.To.Sub(r.From) < 30*time.Minute || r.Waived != nil {
		t.Errorf("%+v", r)
	}
	want := "from " + r.From.Format(moment) + " to " + r.To.Format(moment)
	if got := d.Events[len(d.Events)-1].Text; got != "rest over, 30 min planned, "+want {
		t.Errorf("the event says %q", got)
	}
	if got := factsOf(d, "rest"); !slices.Equal(got, []string{"30 min planned; " + want}) {
		t.Errorf("the fact is %q", got)
	}
}

// TestStopsAreDeviations: an answer that stops the work, and the permit with which it
// is opened again, stand among the deviations and the permit beside that of the job.
func TestStopsAreDeviations(t *testing.T) {
	c := begin(t, opened(t))
	c.until(func(s sequence.Step) bool { a, ok := s.(sequence.Ask); return ok && a.Question.ID == "3" })
	c.do(sequence.Answered{Question: "3", Answer: sequence.No}, sequence.SignedOn{Name: "Ann", Permit: "P-3399"})
	d := asDone(t, c.close())
	n := len(d.Events)
	stop, again := d.Events[n-2], d.Events[n-1]
	if stop.Routine || !stop.Stops || stop.Text != "WORK STOPPED: no: Is the line isolated, vented, drained, proven at zero?" {
		t.Errorf("%+v", stop)
	}
	if again.Routine || again.Text != "signed on, permit P-3399" {
		t.Errorf("%+v", again)
	}
	for _, e := range d.Events[:n-2] {
		if !e.Routine || e.Stops {
			t.Errorf("%+v", e)
		}
	}
	if got := factsOf(d, "permit"); !slices.Equal(got, []string{"P-3370; reopened with P-3399"}) {
		t.Errorf("the permit is %q", got)
	}
}
