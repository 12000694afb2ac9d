package sequence

import (
	"testing"
	"time"
)

// TestRulesOfOlderCards: a card is walked by the rules that it was opened with.
func TestRulesOfOlderCards(t *testing.T) {
	helper := Named{Name: "Bo", Role: "fitter", Reason: "late"}
	for _, rules := range []int{0, RulesNow} {
		plan := testPlan(t, 4, 1, 2, time.Hour)
		plan.Rules = rules
		w, at := stage(t, plan, func(s Step) bool { c, ok := s.(Check); return ok && c.Bolt == 4 })
		apply := func(d Data) error {
			next, err := w.Apply(Event{At: at, By: "A", Data: d})
			if err == nil {
				w = next
			}
			return err
		}
		if err := apply(NutStill{Round: 1, Bolt: 4}); err != nil {
			t.Fatal(err)
		}
		if s, ok := w.Next(at).(Set); ok != (rules > 0) || ok && (!s.AtEnd || s.Round != 1) {
			t.Fatalf("rules %d: behind a still round comes %#v", rules, w.Next(at))
		} else if ok {
			if err := apply(PressureSet{AtEnd: true, Running: s.Set}); err != nil {
				t.Fatal(err)
			}
		}
		if err := apply(SignedOn{Name: "A", Second: "Bo"}); err != nil {
			t.Fatal(err)
		}
		if err := apply(RestWaived{helper}); (err == nil) != (rules == 0) {
			t.Errorf("rules %d: the second person waives the rest: %v", rules, err)
		}
	}
}

// TestPressureAtTheEndOfRounds: low, all rounds are owed again; high, a named
// person decides, and then the rounds are over.
func TestPressureAtTheEndOfRounds(t *testing.T) {
	atEnd := func(s Step) bool { set, ok := s.(Set); return ok && set.AtEnd && set.Round > 0 }
	w, at := stage(t, testPlan(t, 4, 1, 2, time.Hour), atEnd)
	s := w.Next(at).(Set)
	read := func(d PressureSet) Walk {
		t.Helper()
		d.AtEnd, d.Sure = true, true
		next, err := w.Apply(Event{At: at, By: "A", Data: d})
		if err != nil {
			t.Fatal(err)
		}
		return next
	}
	low := read(PressureSet{Running: s.Least - 0.3e5})
	if set, ok := low.Next(at).(Set); !ok || set.AtEnd || set.Round != 1 || set.RoundSet != 2 {
		t.Errorf("after a low reading comes %#v", low.Next(at))
	}
	high := read(PressureSet{Running: s.Most + 0.3e5})
	r, ok := high.Next(at).(Release)
	if !ok || r.Of != OfPressure || r.Place.Round != 1 {
		t.Fatalf("after a high reading comes %#v", high.Next(at))
	}
	high, err := high.Apply(Event{At: at, By: "A", Data: Released{Of: OfPressure, Named: Named{Name: "E", Role: "engineer", Reason: "looked at"}}})
	if err != nil || !is[Rest](high.Next(at)) {
		t.Errorf("after the release comes %#v: %v", high.Next(at), err)
	}
}
