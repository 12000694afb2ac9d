package sequence

import (
	"strings"
	"testing"
	"time"

	"evenload/joint"
)

// What was said of a person at an earlier sign-on holds where a later one is
// silent: no way round an expired qualification, or round a supervisor.
func TestPapersHoldOn(t *testing.T) {
	day := joint.Date{Year: 2026, Month: 11, Day: 25}
	before := joint.Date{Year: 2026, Month: 11, Day: 24}
	late := time.Date(2026, 11, 25, 23, 59, 0, 0, time.UTC)
	for _, c := range []struct {
		name string
		say  []SignedOn
		held bool
		want string // of the last one's refusal
	}{
		{"the last day", []SignedOn{{QualifiedUntil: day}}, false, ""},
		{"the day after", []SignedOn{{QualifiedUntil: before}}, true, ""},
		{"silent later", []SignedOn{{QualifiedUntil: before}, {}}, true, ""},
		{"a role is no paper", []SignedOn{{QualifiedUntil: before}, {Role: "fitter"}}, true, ""},
		{"renewed", []SignedOn{{QualifiedUntil: before}, {QualifiedUntil: day}}, false, ""},
		{"none known", []SignedOn{{Qualification: "BT-1"}}, false, ""},
		{"a trainee", []SignedOn{{Supervisor: "S"}}, false, ""},
		{"a trainee without", []SignedOn{{Supervisor: "S"}, {}}, false, "who supervises"},
		{"a trainee with another", []SignedOn{{Supervisor: "S"}, {Supervisor: "T"}}, false, ""},
		{"the own supervisor", []SignedOn{{Supervisor: " a"}}, false, "own supervisor"},
	} {
		w, err := New(testPlan(t, 4, 1, 2, 0))
		for _, d := range c.say {
			if err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
			d.Name = "A"
			w, err = w.Apply(Event{At: late, By: "A", Data: d})
		}
		if c.want != "" {
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		r, held := w.Next(late).(Release)
		if err != nil || held != c.held || held && r.Of != OfQualification {
			t.Errorf("%s: next is %#v: %v", c.name, w.Next(late), err)
		}
	}
}

// A trainee signs on with a supervisor, whatever else is left out.
func TestTraineeByRole(t *testing.T) {
	w, err := New(testPlan(t, 4, 1, 1, 0))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Apply(Event{At: start, By: "Tim", Data: SignedOn{Name: "Tim", Role: "Trainee fitter"}}); err == nil {
		t.Error("a trainee signs on without a supervisor")
	}
	if _, err := w.Apply(Event{At: start, By: "Tim", Data: SignedOn{Name: "Tim", Role: "Trainee fitter", Supervisor: "Eva"}}); err != nil {
		t.Error(err)
	}
}
