package sequence

import (
	"fmt"
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
	if got := s.handover()["pressure"]; !strings.Contains(got, "tool "+other) || strings.Contains(got, "tool W,") {
		t.Errorf("after a change to %s: %s", other, got)
	}
	s = siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(1, 2))
	b := s.w.Next(s.at).(Tighten).Bolts[0]
	s.do(ProblemFound{Bolt: b, What: Broke, Batch: "H-1"})
	if better := s.w.BetterLater(s.at); better != "" {
		t.Errorf("while the work is held: %s", better)
	}
	if got := s.handover(); !strings.Contains(got["problems"], "broke") || !strings.Contains(got["problems"], "is out: replace stud and nuts") || !strings.Contains(got["open"], "who decides") {
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

// handover is what is told, by its label.
func (s *site) handover() map[string]string {
	all := map[string]string{}
	for _, l := range s.w.HandoverWords(s.at) {
		all[l.Label] = l.Text
	}
	return all
}

// While a new bolt is brought up alone, its own pressure stands on the gauge, and the job
// stands where it stood.
func TestHandoverWhileABoltIsBroughtUp(t *testing.T) {
	for name, until := range map[string]func(Step) bool{"pass 2 of 2 at 100 %": inPass(2, 2), "check round": is[Check]} {
		s := siteAt(t, testPlan(t, 4, 2, 2, 0), until)
		b := Bolt(1)
		if tighten, ok := s.w.Next(s.at).(Tighten); ok {
			b = tighten.Bolts[0]
		}
		s.do(ProblemFound{Bolt: b, What: Seized})
		if got := s.handover()["next"]; !strings.HasPrefix(got, "a release by a named person, then ") {
			t.Errorf("%s, held: next is %s", name, got)
		}
		s.do(Released{Of: OfProblem, Bolt: b, Named: eva}, Replaced{Bolt: b, Batch: "N"}).set()
		set := s.w.place()
		got := s.handover()
		gauge := s.w.tool(0).Gauged(s.w.settingAt(0, 0).Set)
		if set.Redo != b || !strings.HasPrefix(got["pressure"], gauge+" running") {
			t.Errorf("%s: the gauge stands at %s for bolt %d, told is %s", name, gauge, set.Redo, got["pressure"])
		}
		if !strings.HasPrefix(got["stands"], name) || !strings.HasPrefix(got["next"], fmt.Sprintf("bolt %d again at 50 %%", b)) {
			t.Errorf("%s: %s, next %s", name, got["stands"], got["next"])
		}
	}
}

// What is told is what is there: the tool in use, no nuts left where none is, no pass
// where studs are measured.
func TestHandoverWordsAreTrue(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(1, 2))
	s.do(s.spare(nil))
	if got := s.handover()["open"]; !strings.Contains(got, "the question: Are tool V, gauge H") {
		t.Errorf("after a change to tool V is open: %s", got)
	}
	s = siteAt(t, testPlan(t, 4, 1, 2, time.Hour), func(s Step) bool { c, ok := s.(Check); return ok && c.Bolt == 4 })
	s.do(NutStill{Round: 1, Bolt: 4})
	if got := s.handover()["next"]; got != "the gauge again, then the rest of the gasket" {
		t.Errorf("behind the last still nut is next: %s", got)
	}
	s = siteAt(t, finishPlan(t, 4, 1, 0), atStretch(3))
	if got := s.handover(); got["stands"] != "all bolts done, 2 of 4 studs measured" || got["bolts"] != "none at hand" {
		t.Errorf("while studs are measured: %s; %s", got["stands"], got["bolts"])
	}
}

// In a check round the first tool is at every bolt.
func TestHandoverNamesTheToolAtTheBolt(t *testing.T) {
	s := siteAt(t, teamPlan(t, 2, 4, 1, 2, 0), func(s Step) bool { c, ok := s.(Check); return ok && c.Bolt == 3 })
	if s.w.plan.SlotOf(3) != 1 {
		t.Fatal("bolt 3 is not that of tool B")
	}
	s.do(ProblemFound{Bolt: 3, Reason: "no room"})
	for _, told := range []string{s.handover()["problems"], strings.Join(s.w.OwedWords(), "; ")} {
		if !strings.Contains(told, "bolt 3 (tool A) was left") {
			t.Errorf("told is %q", told)
		}
	}
}
