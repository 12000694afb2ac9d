package sequence

import (
	"slices"
	"strings"
	"testing"

	"evenload/joint/unit"
)

// measuredTo is a walk that holds with studs of these stretches.
func measuredTo(t *testing.T, rules int, stretches ...unit.Length) (w Walk, apply func(Data) error) {
	t.Helper()
	plan := finishPlan(t, 4, 2, 0)
	plan.Rules = rules
	begun, at := stage(t, plan, atStretch(1))
	w = begun
	for b, s := range stretches {
		next, err := w.Apply(Event{At: at, By: "A", Data: w.StretchOf(Bolt(b+1), s)})
		if err != nil {
			t.Fatal(err)
		}
		w = next
	}
	if r, ok := w.Next(at).(Release); !ok || r.Of != OfStretch {
		t.Fatalf("after the last stud comes %+v", w.Next(at))
	}
	return w, func(d Data) error {
		_, err := w.Apply(Event{At: at, By: "A", Data: d})
		return err
	}
}

// A stud beyond yield never comes under full torque again: it is measured again,
// accepted or replaced, and its load is not told as if it were elastic.
func TestStudBeyondYield(t *testing.T) {
	w, apply := measuredTo(t, RulesNow, 0.2e-3, 0.2e-3, 0.26e-3, 0.3e-3)
	at := w.last
	r := w.Next(at).(Release)
	if got := r.ToReplace(w.plan); !slices.Equal(got, []Bolt{4}) {
		t.Errorf("to replace are %v", got)
	}
	for name, d := range map[string]Data{"rounds": StudsAgain{Rounds: true}, "rounds by name": StudsAgain{Rounds: true, Decided: &eva},
		"the stud that is only high": Released{Of: OfStretch, Replace: []Bolt{3}, Named: eva}, "one in the band": Released{Of: OfStretch, Replace: []Bolt{1, 4}, Named: eva},
		"by the operator": Released{Of: OfStretch, Replace: []Bolt{4}, Named: Named{Name: "A", Role: "fitter", Reason: "mine"}}} {
		if err := apply(d); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
	text := w.Studs()[3].Words(w.plan)
	if text != "bolt 4 stretched 0.300 mm: BEYOND YIELD, its load is at least 140 kN and not elastic" {
		t.Errorf("it is told as %q", text)
	}
	if got := w.Studs()[3].Columns(w.plan); !slices.Equal(got, []string{"4", "0.300 mm", "at least 140 kN", "not elastic", "YIELD"}) {
		t.Errorf("its columns are %q", got)
	}
	if got := w.Studs()[2].Columns(w.plan); got[2] != "130 kN" || got[4] != "HIGH" {
		t.Errorf("a stud that is high has the columns %q", got)
	}
}

// A new stud instead of one beyond yield: its parts come first, then every pass alone,
// check rounds over all, and every stud is measured again.
func TestStudBeyondYieldIsReplaced(t *testing.T) {
	w, _ := measuredTo(t, RulesNow, 0.2e-3, 0.2e-3, 0.26e-3, 0.3e-3)
	at := w.last
	apply := func(d Data) {
		t.Helper()
		var err error
		if w, err = w.Apply(Event{At: at, By: "A", Data: d}); err != nil {
			t.Fatal(err)
		}
	}
	apply(Released{Of: OfStretch, Replace: []Bolt{4}, Named: eva})
	r, ok := w.Next(at).(Release)
	if !ok || r.Of != OfBolt || r.Bolt != 4 || !r.Out || r.Place.Round != 1 {
		t.Fatalf("behind the decision comes %+v", w.Next(at))
	}
	if text := strings.Join(w.ReleaseWords(r), " "); !strings.Contains(text, "again at 50 %, 100 %") {
		t.Errorf("owed is %q", text)
	}
	apply(Replaced{Bolt: 4, Batch: "N-1"})
	for pass := range 2 {
		s, ok := w.Next(at).(Set)
		if !ok || s.Redo != 4 || s.Pass != pass+1 {
			t.Fatalf("behind the new stud comes %+v", w.Next(at))
		}
		apply(PressureSet{Running: s.Set})
		apply(BoltDone{Pass: pass + 1, Bolts: []Bolt{4}})
	}
	s, ok := w.Next(at).(Set)
	if !ok || s.Round != 1 || len(w.Studs()) != 0 {
		t.Fatalf("behind the new stud comes %+v, and %+v count", w.Next(at), w.Studs())
	}
	apply(PressureSet{Running: s.Set})
	for b := range 4 {
		apply(NutStill{Round: 1, Bolt: Bolt(b + 1)})
	}
	apply(PressureSet{AtEnd: true, Running: s.Set})
	if s, ok := w.Next(at).(Stretch); !ok || s.Left != 4 {
		t.Errorf("behind the rounds comes %+v", w.Next(at))
	}
}

// While a stud is high, but elastic, only a named person decides about full torque
// on it; an old card goes by the rules of its day.
func TestRoundsWhileAStudIsHigh(t *testing.T) {
	_, apply := measuredTo(t, RulesNow, 0.2e-3, 0.1e-3, 0.26e-3, 0.2e-3)
	if err := apply(StudsAgain{Rounds: true}); err == nil || !strings.Contains(err.Error(), "named person") {
		t.Errorf("the operator decides: %v", err)
	}
	_, apply = measuredTo(t, RulesNow, 0.2e-3, 0.1e-3, 0.26e-3, 0.2e-3)
	if err := apply(StudsAgain{Rounds: true, Decided: &eva}); err != nil {
		t.Error(err)
	}
	_, apply = measuredTo(t, RulesNow, 0.2e-3, 0.1e-3, 0.2e-3, 0.2e-3)
	if err := apply(StudsAgain{Rounds: true, Decided: &eva}); err == nil {
		t.Error("decided where nothing is high")
	}
	_, apply = measuredTo(t, 1, 0.2e-3, 0.1e-3, 0.3e-3, 0.2e-3)
	if err := apply(StudsAgain{Rounds: true}); err != nil {
		t.Errorf("an old card: %v", err)
	}
}

// After a broken stud is released, its new parts come next, or a named person lets
// the pass go on without them; an old card goes on with the next bolt.
func TestPartsComeFirst(t *testing.T) {
	for _, rules := range []int{1, RulesNow} {
		plan := testPlan(t, 4, 2, 1, 0)
		plan.Rules = rules
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
		apply(Released{Of: OfProblem, Bolt: b, Named: eva})
		if rules == 1 {
			if !is[Tighten](w.Next(at)) {
				t.Errorf("an old card goes on with %+v", w.Next(at))
			}
			continue
		}
		r, ok := w.Next(at).(Release)
		if !ok || r.Of != OfBolt || r.Bolt != b || !r.Out {
			t.Fatalf("behind the release comes %+v", w.Next(at))
		}
		held := w
		apply(Released{Of: OfBolt, Bolt: b, Named: eva})
		if !is[Tighten](w.Next(at)) {
			t.Errorf("let go on, the pass goes on with %+v", w.Next(at))
		}
		w = held
		apply(Replaced{Bolt: b, Batch: "N-1"})
		if s, ok := w.Next(at).(Set); !ok || s.Redo != b || s.Pass != 1 {
			t.Errorf("behind the new parts comes %+v", w.Next(at))
		}
	}
}
