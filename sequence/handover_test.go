package sequence

import (
	"strings"
	"testing"
	"time"
)

// What is said at a handover is true of where the walk stands.
func TestHandoverWords(t *testing.T) {
	plan := testPlan(t, 4, 2, 2, time.Hour)
	plan.Hold = HoldPoints(sharesOf(plan), true)
	mid := func(s Step) bool { b, ok := s.(Tighten); return ok && b.Pass == 2 && b.Done == 1 }
	for name, c := range map[string]struct {
		until  func(Step) bool
		want   []string
		better bool
	}{
		"gate":     {is[Ask], []string{"at the gate", "none at hand", "the question: ", "hold point gate"}, false},
		"hold":     {atHold("before 100 %"), []string{"pass 2 of 2 at 100 %, 0 of 4", "next: hold point before 100 %, then set the pressure, read it back, then the 4 bolts left in this pass"}, false},
		"mid pass": {mid, []string{"pass 2 of 2 at 100 %, 1 of 4 bolts done", "last done: bolt 1, next: bolt 3", "3.5 bar running, tool W, gauge G", "next: the 3 bolts left in this pass, then the gauge again, then the gaps after the pass", "witnessed: gate by W; before 50 % by W; before 100 % by W", "open: hold point before rest; hold point before close"}, true},
		"end":      {atEnd, []string{"4 of 4 bolts done", "next: the gauge again"}, false},
		"check":    {is[Check], []string{"check round 1 at full torque, 0 of 4", "then the rest of the gasket"}, false},
		"rest":     {is[Rest], []string{"the gasket rests", "next: wait for the end of the rest"}, false},
		"closing":  {asked("tag"), []string{"all bolts done, before closing"}, false},
	} {
		w, at := stage(t, plan, c.until)
		var lines []string
		for _, told := range w.HandoverWords(at) {
			lines = append(lines, told.Label+": "+told.Text)
		}
		text := strings.Join(lines, "\n")
		for _, want := range c.want {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is not said:\n%s", name, want, text)
			}
		}
		if better := w.BetterLater(at) != ""; better != c.better {
			t.Errorf("%s: better later %t", name, better)
		}
	}
	w, at := stage(t, plan, mid)
	w, err := w.Apply(Event{At: at, By: "A", Data: HandedOver{State: "air off"}})
	if err != nil {
		t.Fatal(err)
	}
	w, err = w.Apply(Event{At: at, By: "B", Data: SignedOn{Name: "B"}})
	if a, ok := w.Next(at).(Ask); err != nil || !ok || a.Question.When != AtHandover || w.isSet() {
		t.Errorf("next is %#v, pressure set %t: %v", w.Next(at), w.isSet(), err)
	}
}

// What went wrong and which tool is in use are said as they are, not as planned.
func TestHandoverAfterTrouble(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(1, 2))
	s.do(s.spare(nil))
	other := s.w.Tools()[0].ID
	told := func() map[string]string {
		all := map[string]string{}
		for _, l := range s.w.HandoverWords(s.at) {
			all[l.Label] = l.Text
		}
		return all
	}
	if got := told()["pressure"]; !strings.Contains(got, "tool "+other) || strings.Contains(got, "tool W,") {
		t.Errorf("after a change to %s: %s", other, got)
	}
	s = siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(1, 2))
	b := s.w.Next(s.at).(Tighten).Bolts[0]
	s.do(ProblemFound{Bolt: b, What: Broke, Batch: "H-1"})
	if got := told(); !strings.Contains(got["problems"], "broke") || !strings.Contains(got["problems"], "is out: replace stud and nuts") || !strings.Contains(got["open"], "who decides") {
		t.Errorf("after a broken stud: %v", got)
	}
}

// One is not many.
func TestHandoverCounts(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), func(s Step) bool { b, ok := s.(Tighten); return ok && b.Done == 3 })
	var text string
	for _, l := range s.w.HandoverWords(s.at) {
		text += l.Text + "\n"
	}
	if text += s.w.BetterLater(s.at); !strings.Contains(text, "the last bolt of this pass") || strings.Contains(text, "1 bolts") {
		t.Error(text)
	}
}
