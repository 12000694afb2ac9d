package sequence

import (
	"strings"
	"testing"
	"time"

	"evenload/joint/unit"
)

// Who worked on the joint earlier is no witness of a hold point. To release it
// is as planned.
func TestWitnessOfAHoldPoint(t *testing.T) {
	plan := testPlan(t, 4, 2, 2, time.Hour)
	plan.Hold = HoldPoints(sharesOf(plan), true)
	w, at := stage(t, plan, atHold("before 100 %"))
	w.people, w.papers = and(w.people, "Jo Lund"), and(w.papers, SignedOn{Name: "Jo Lund"})
	by := func(name string) Event {
		return Event{At: at, By: "A", Data: Released{Of: OfHold, Hold: "before 100 %", Named: Named{Name: name, Role: "inspector", Reason: "gaps and marks"}}}
	}
	if _, err := w.Apply(by("jo  LUND")); err == nil || !strings.Contains(err.Error(), "worked on this joint") {
		t.Errorf("who worked on the joint released its hold point: %v", err)
	}
	w, err := w.Apply(by("Wim"))
	if err != nil || !is[Set](w.Next(at)) {
		t.Fatalf("next is %#v: %v", w.Next(at), err)
	}
	if all := w.Exceptions(); len(all) > 0 {
		t.Errorf("a hold point that was kept is not as planned: %q", all)
	}
}

// A plan whose hold points the walk never comes to is refused: it would hold nothing.
func TestHoldPointsOfAPlan(t *testing.T) {
	for name, hold := range map[string][]Hold{
		"no such pass": {{Name: "before 90 %", At: HoldBeforePass, Pass: 2}},
		"no rest":      {{Name: "before rest", At: HoldBeforeRest}},
		"twice":        {{Name: "gate", At: HoldAfterGate}, {Name: "gate", At: HoldAfterGate}},
		"nowhere":      {{Name: "lunch", At: "lunch"}},
	} {
		plan := testPlan(t, 4, 1, 2, 0)
		plan.Hold = hold
		if _, err := New(plan); err == nil {
			t.Errorf("%s: a walk began", name)
		}
	}
	var names []string
	for _, h := range HoldPoints([]unit.Share{0.335, 1}, false) {
		names = append(names, h.Name)
	}
	if got := strings.Join(names, ", "); got != "gate, before 33.5 %, before 100 %, before close" {
		t.Errorf("the hold points are %s", got)
	}
}
