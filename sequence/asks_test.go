package sequence

import (
	"strings"
	"testing"
	"time"

	"evenload/joint"
	"evenload/joint/unit"
)

// lengthsPlan has its studs measured, and asks for their lengths.
func lengthsPlan(t interface{ Fatalf(string, ...any) }, bolts, passes int) *Plan {
	plan := finishPlan(t, bolts, passes, 0)
	plan.askLengths()
	return plan
}

// A job that measures studs asks for their lengths before any nut is turned; a yes
// without who read them, and on which sheet, is none.
func TestLengthsBeforeTightening(t *testing.T) {
	plan := lengthsPlan(t, 4, 2)
	w, at := stage(t, plan, asked(lengthsQuestion))
	apply := func(d Data) (Walk, error) { return w.Apply(Event{At: at, By: "A", Data: d}) }
	for name, told := range map[string][]string{"nothing": nil, "one": {"Ann"}, "an empty one": {"Ann", " "}, "more": {"Ann", "S-1", "x"}} {
		if _, err := apply(Answered{Question: lengthsQuestion, Answer: Yes, Told: told}); err == nil {
			t.Errorf("a yes that tells %s was taken", name)
		}
	}
	if _, err := apply(Answered{Question: lengthsQuestion, Answer: No, Told: []string{"Ann", "S-1"}}); err == nil {
		t.Error("a no that tells was taken")
	}
	if _, err := apply(Released{Of: OfQuestion, Question: lengthsQuestion, Named: Named{Name: "E", Role: "engineer", Reason: "go on"}}); err == nil {
		t.Error("the question was released")
	}
	next, err := apply(Answered{Question: lengthsQuestion, Answer: Yes, Told: []string{"Ann", "S-1"}})
	if err != nil {
		t.Fatal(err)
	}
	if a, ok := next.Next(at).(Ask); !ok || a.Question.ID == lengthsQuestion {
		t.Errorf("after the yes comes %+v", next.Next(at))
	}
	q, _ := next.Question(lengthsQuestion)
	if got := q.ToldWords(Answered{Told: []string{"Ann", "S-1"}}); got != "Who read or zeroed: Ann; Sheet of the lengths, or gauge zeroed: S-1" {
		t.Errorf("it is told as %q", got)
	}
}

// A stud that came later is asked for in the same way, before its nut is turned.
func TestLengthOfNewStud(t *testing.T) {
	plan := lengthsPlan(t, 4, 2)
	w, at := stage(t, plan, func(s Step) bool { b, ok := s.(Tighten); return ok && b.Pass == 2 })
	apply := func(d Data) {
		t.Helper()
		var err error
		if w, err = w.Apply(Event{At: at, By: "A", Data: d}); err != nil {
			t.Fatal(err)
		}
	}
	b := w.Next(at).(Tighten).Bolts[0]
	apply(ProblemFound{Bolt: b, What: Broke})
	apply(Released{Of: OfProblem, Bolt: b, Named: Named{Name: "E", Role: "engineer", Reason: "new stud"}})
	apply(Replaced{Bolt: b, Batch: "N-1"})
	a, ok := w.Next(at).(Ask)
	if !ok || a.Question.ID != newLengthQuestion || Title(a) != "NEW PARTS" || a.Number != 1 || a.Of != 1 {
		t.Fatalf("after new parts comes %+v", w.Next(at))
	}
	apply(Answered{Question: newLengthQuestion, Answer: Yes, Told: tell(a.Question)})
	if s, ok := w.Next(at).(Set); !ok || s.Redo != b {
		t.Errorf("after the length of the new stud comes %+v", w.Next(at))
	}
}

// Only a job that measures studs asks for their lengths.
func TestOnlyStretchAsksForLengths(t *testing.T) {
	for _, q := range testPlan(t, 4, 2, 1, time.Hour).Questions {
		if strings.Contains(q.ID, "length") || len(q.Asks) > 0 {
			t.Errorf("%+v is asked", q)
		}
	}
}

// The cause of a leak is told with who decided: somebody else than the operator.
func TestCauseOfLeak(t *testing.T) {
	plan := testPlan(t, 4, 1, 1, 0)
	plan.AfterLeak([]Bolt{2})
	w, at := stage(t, plan, asked("leak"))
	for name, told := range map[string][]string{"nothing": nil, "the operator": {"a scratch", "new gasket", " a"}, "no cause": {"", "new gasket", "Eva"}} {
		if _, err := w.Apply(Event{At: at, By: "A", Data: Answered{Question: "leak", Answer: Yes, Told: told}}); err == nil {
			t.Errorf("a yes with %s was taken", name)
		}
	}
	if _, err := w.Apply(Event{At: at, By: "A", Data: Answered{Question: "leak", Answer: Yes, Told: []string{"a scratch", "new gasket", "Eva"}}}); err != nil {
		t.Error(err)
	}
}

// A job that nobody approved is worked by only when the gate has the name of the
// engineer who said so; an approved one is not asked about.
func TestUnapprovedJobIsAskedAbout(t *testing.T) {
	has := func(about About) (Question, bool) {
		for _, q := range questions(about, Conditions{}, make([]joint.Tool, 1), false, unit.SI) {
			if q.ID == "approval" {
				return q, true
			}
		}
		return Question{}, false
	}
	if _, asked := has(About{Tag: "DH-1", ApprovedBy: "E"}); asked {
		t.Error("an approved job is asked about")
	}
	q, asked := has(About{Tag: "DH-1"})
	if !asked || q.When != AtGate || q.OnNo != StayOpen || q.MayNot {
		t.Fatalf("an unapproved job is asked about with %+v", q)
	}
	plan := testPlan(t, 4, 1, 1, 0)
	plan.Questions = append([]Question{q}, plan.Questions...)
	w, at := stage(t, plan, func(s Step) bool { a, ok := s.(Ask); return ok && a.Question.ID == "approval" })
	for _, told := range [][]string{nil, {""}, {"A"}} {
		if _, err := w.Apply(Event{At: at, By: "A", Data: Answered{Question: q.ID, Answer: Yes, Told: told}}); err == nil {
			t.Errorf("a yes that names %q was taken", told)
		}
	}
	if _, err := w.Apply(Event{At: at, By: "A", Data: Released{Of: OfQuestion, Question: q.ID, Named: Named{Name: "F", Role: "foreman", Reason: "late"}}}); err == nil {
		t.Error("the question was released")
	}
	if _, err := w.Apply(Event{At: at, By: "A", Data: Answered{Question: q.ID, Answer: Yes, Told: []string{"Eva"}}}); err != nil {
		t.Error(err)
	}
}

// The last of the work is the air: off and vented before the card is closed.
func TestAirIsAskedAboutAtTheEnd(t *testing.T) {
	w, at := stage(t, testPlan(t, 4, 1, 1, 0), func(s Step) bool { a, ok := s.(Ask); return ok && a.Question.When == AtEnd && a.Number == 1 })
	if a := w.Next(at).(Ask); a.Question.ID != "air" || a.Question.OnNo != StayOpen {
		t.Errorf("the end begins with %+v", a)
	}
}

// Marks that do not match and lie behind the pass under way are for a named person.
func TestMarksThatCannotBeTakenBack(t *testing.T) {
	plan := testPlan(t, 4, 2, 1, 0)
	end := func(s Step) bool { set, ok := s.(Set); return ok && set.AtEnd }
	w, at := stage(t, plan, end)
	apply := func(d Data) {
		t.Helper()
		next, err := w.Apply(Event{At: at, By: "A", Data: d})
		if err != nil {
			t.Fatal(err)
		}
		w = next
	}
	apply(Suspended{})
	apply(SignedOn{Name: "A"})
	apply(Answered{Question: "marks", Answer: No})
	apply(Released{Of: OfQuestion, Question: "marks", Named: Named{Name: "E", Role: "engineer", Reason: "marks rubbed off"}})
	if !end(w.Next(at)) || len(w.Exceptions()) != 1 {
		t.Errorf("after the release comes %+v, told are %q", w.Next(at), w.Exceptions())
	}
}
