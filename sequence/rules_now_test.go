package sequence

import (
	"strings"
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

// TestPressureBeforeMovingNutsAreReleased: nuts that move in the last round may be moved
// by a pressure that crept up, so it is read before anybody decides about them.
func TestPressureBeforeMovingNutsAreReleased(t *testing.T) {
	usedUp := func(rules int) *site {
		plan := testPlan(t, 4, 1, 1, time.Hour)
		plan.Rules = rules
		s := siteAt(t, plan, func(s Step) bool { c, ok := s.(Check); return ok && c.Bolt == 4 })
		s.do(NutMoved{Round: 1, Bolt: 4})
		return s
	}
	if old := usedUp(2); !is[Release](old.w.Next(old.at)) {
		t.Errorf("on a card of older rules comes %#v", old.w.Next(old.at))
	}
	s := usedUp(RulesNow)
	set, ok := s.w.Next(s.at).(Set)
	if !ok || !set.AtEnd || set.Round != 1 {
		t.Fatalf("behind nuts that move in the last round comes %#v", s.w.Next(s.at))
	}
	s.refuses(Released{Of: OfRounds, Named: eva}, "not now")
	high := *s
	high.do(PressureSet{AtEnd: true, Running: set.Most + 0.3e5, Sure: true})
	if r, ok := high.w.Next(high.at).(Release); !ok || r.Of != OfPressure {
		t.Errorf("after a high reading comes %#v", high.w.Next(high.at))
	}
	high.do(Released{Of: OfPressure, Named: eva})
	if r, ok := high.w.Next(high.at).(Release); !ok || r.Of != OfRounds {
		t.Errorf("after that is decided comes %#v", high.w.Next(high.at))
	}
	low := *s
	low.do(PressureSet{AtEnd: true, Running: set.Least - 0.3e5, Sure: true})
	if set, ok := low.w.Next(low.at).(Set); !ok || set.AtEnd || set.RoundSet != 2 {
		t.Errorf("after a low reading comes %#v", low.w.Next(low.at))
	}
	s.do(PressureSet{AtEnd: true, Running: set.Set}).do(Released{Of: OfRounds, Named: eva})
	if !is[Rest](s.w.Next(s.at)) {
		t.Errorf("after the release comes %#v", s.w.Next(s.at))
	}
}

// TestUnknownRules: a card of a later version is not walked by rules that are less strict.
func TestUnknownRules(t *testing.T) {
	for _, rules := range []int{-1, RulesNow + 1} {
		plan := testPlan(t, 4, 1, 1, 0)
		plan.Rules = rules
		if _, err := New(plan); err == nil || !strings.Contains(err.Error(), "rules") {
			t.Errorf("rules %d: %v", rules, err)
		}
	}
}

// TestRestAfterReleasedRounds is not shortened by a clock that went back before the release.
func TestRestAfterReleasedRounds(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 1, 1, time.Hour), func(s Step) bool { c, ok := s.(Check); return ok && c.Bolt == 4 })
	s.do(NutMoved{Round: 1, Bolt: 4})
	s.do(PressureSet{AtEnd: true, Running: s.w.Next(s.at).(Set).Set})
	marked := s.at
	s.at = s.at.Add(-3 * time.Hour)
	s.yes()
	s.do(Released{Of: OfRounds, Named: eva})
	if r, ok := s.w.Next(s.at).(Rest); !ok || r.Until.Before(marked.Add(time.Hour)) {
		t.Errorf("the nuts moved until %v, then comes %#v", marked, s.w.Next(s.at))
	}
}
