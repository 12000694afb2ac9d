package sequence

import (
	"errors"
	"strings"
	"testing"
	"time"

	"evenload/joint"
	"evenload/joint/unit"
)

// stage walks a 4-bolt joint the plain way until a step of the wanted sort is
// next, and gives the walk and the time.
func stage(t *testing.T, plan *Plan, until func(Step) bool) (Walk, time.Time) {
	t.Helper()
	w, err := New(plan)
	if err != nil {
		t.Fatal(err)
	}
	at := time.Date(2036, 5, 4, 7, 0, 0, 0, time.UTC)
	for range 300 {
		step := w.Next(at)
		if until(step) {
			return w, at
		}
		var d Data
		switch s := step.(type) {
		case SignOn:
			d = SignedOn{Name: "A"}
		case Ask:
			d = Answered{Question: s.Question.ID, Answer: Yes, Typed: s.Question.Typed, Told: tell(s.Question)}
			if s.Question.Measured {
				d = w.Aligned(s.Question, Alignment{})
			}
		case Materials:
			d = MaterialsNoted{}
		case Snug:
			d = Snugged{}
		case GapCheck:
			g := GapsMeasured{Readings: []Gap{{1, 0.001}, {2, 0.001}}}
			if s.All {
				g = GapsMeasured{}
				for _, b := range s.Places {
					g.Readings = append(g.Readings, Gap{b, 0.001})
				}
			}
			d = g
		case Set:
			d = PressureSet{AtEnd: s.AtEnd, Tool: s.Slot, Running: s.Set}
			if s.Tool.Reading == joint.Static {
				d = PressureSet{AtEnd: s.AtEnd, Tool: s.Slot, Static: s.Set}
			}
		case Tighten:
			d = BoltDone{Pass: s.Pass, Bolts: s.Bolts}
		case Check:
			d = NutStill{s.Round, s.Bolt}
		case Rest:
			at = s.Until
			d = RestOver{}
		case Release:
			d = Released{Of: s.Of, Hold: s.Hold, Named: Named{Name: "W", Role: "inspector", Reason: "looked at"}}
		case Stretch:
			d = w.StretchOf(s.Bolt, s.Expected)
		case LeakTest:
			d = LeakTested{Result: Tight}
		case Close:
			d = CardClosed{Witness: "W", Role: "inspector"}
		}
		if w, err = w.Apply(Event{At: at, By: "A", Data: d}); err != nil {
			t.Fatal(err)
		}
		at = at.Add(time.Minute)
	}
	t.Fatal("the step never came")
	return w, at
}

func is[T Step](s Step) bool { _, ok := s.(T); return ok }

func asked(id string) func(Step) bool {
	return func(s Step) bool { a, ok := s.(Ask); return ok && a.Question.ID == id }
}

func atHold(name string) func(Step) bool {
	return func(s Step) bool { r, ok := s.(Release); return ok && r.Hold == name }
}

func atEnd(s Step) bool { set, ok := s.(Set); return ok && set.AtEnd }

// Each of these events is wrong where it comes, and says why.
func TestRefusals(t *testing.T) {
	running := testPlan(t, 4, 1, 2, time.Hour)
	static := testPlan(t, 4, 1, 2, time.Hour)
	static.Tools[0].Reading = joint.Static
	held := testPlan(t, 4, 1, 2, time.Hour)
	held.Hold = HoldPoints([]unit.Share{1}, true)
	set := running.Passes[0].Settings[0].Set
	gaps := func(first unit.Length) GapsMeasured {
		g := GapsMeasured{}
		for i, b := range running.GapPlaces {
			g.Readings = append(g.Readings, Gap{b, 0.001})
			if i == 0 {
				g.Readings[0].Gap = first
			}
		}
		return g
	}
	typed := ""
	for _, q := range running.Questions {
		if q.Typed != "" {
			typed = q.ID
		}
	}
	engineer := Named{Name: "E", Role: "engineer", Reason: "looked at"}
	for name, c := range map[string]struct {
		plan  *Plan
		until func(Step) bool
		d     Data
		want  string
	}{
		"psi read for bar":          {running, is[Set], PressureSet{Running: set * 14.5}, "psi"},
		"bar read for psi":          {running, is[Set], PressureSet{Running: set / 14.5}, "bar"},
		"no reading":                {running, is[Set], PressureSet{}, "needed"},
		"above the rated pressure":  {running, is[Set], PressureSet{Running: set, Static: 8e5, Sure: true}, "rated"},
		"at rest for running":       {running, is[Set], PressureSet{Static: set}, "needed"},
		"running for at rest":       {static, is[Set], PressureSet{Running: set}, "needed"},
		"at rest not above running": {running, is[Set], PressureSet{Running: set, Static: set}, "not above"},
		"at rest far above running": {running, is[Set], PressureSet{Running: set, Static: set + 1.5e5}, "choked"},
		"low, and sure":             {running, is[Set], PressureSet{Running: set - 0.3e5, Sure: true}, "below the band"},
		"low at the end":            {running, atEnd, PressureSet{AtEnd: true, Running: set - 0.3e5}, "look again"},
		"none at the end":           {running, atEnd, PressureSet{AtEnd: true}, "look again"},
		"high at the end":           {running, atEnd, PressureSet{AtEnd: true, Running: set + 0.3e5}, "look again"},
		"another tag":               {running, asked(typed), Answered{Question: typed, Answer: Yes, Typed: "zzz"}, "tag"},
		"other work is released":    {running, asked(workQuestion), Released{Of: OfQuestion, Question: workQuestion, Named: Named{Name: "W", Role: "inspector", Reason: "fine"}}, "needs a yes"},
		"other work does not apply": {running, asked(workQuestion), Answered{Question: workQuestion, Answer: NotApplicable, Reason: "new"}, "always applies"},
		"isolation does not apply":  {running, asked("3"), Answered{Question: "3", Answer: NotApplicable, Reason: "new"}, "always applies"},
		"released without a no":     {running, asked("9"), Released{Of: OfQuestion, Question: "9", Named: engineer}, "answered no"},
		"a rest too short":          {running, is[Rest], RestOver{}, "not over"},
		"gaps on a wrong place":     {running, is[GapCheck], GapsMeasured{[]Gap{{1, 0.001}}}, "missing"},
		"a gap in the wrong unit":   {running, is[GapCheck], gaps(3), "believable"},
		"accepted but not measured": {running, is[GapCheck], GapsAccepted{engineer}, "measure"},
		"the operator as witness":   {running, is[Close], CardClosed{Witness: "a", Role: "inspector"}, "other than the operator"},
		"the operator at a hold":    {held, atHold("before 100 %"), Released{Of: OfHold, Hold: "before 100 %", Named: Named{Name: " a", Role: "foreman", Reason: "gaps"}}, "other than the operator"},
		"a hold without a look":     {held, atHold("before 100 %"), Released{Of: OfHold, Hold: "before 100 %", Named: Named{Name: "E", Role: "engineer"}}, "reason"},
		"another hold point":        {held, atHold("gate"), Released{Of: OfHold, Hold: "before 100 %", Named: engineer}, "\"gate\""},
		"snug at a hold":            {held, atHold("gate"), Snugged{}, "hold point"},
		"pressure at a hold":        {held, atHold("before 100 %"), PressureSet{Running: set}, "hold point"},
		"rest at a hold":            {held, atHold("before rest"), RestWaived{engineer}, "hold point"},
		"closed at a hold":          {held, atHold("before close"), CardClosed{Witness: "W", Role: "inspector"}, "hold point"},
		"a bolt out of order":       {running, is[Tighten], BoltDone{Pass: 1, Bolts: []Bolt{4}}, "next"},
	} {
		w, at := stage(t, c.plan, c.until)
		if _, err := w.Apply(Event{At: at, By: "A", Data: c.d}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want one that says %q", name, err, c.want)
		}
	}
	w, at := stage(t, running, is[SignOn])
	if _, err := w.Apply(Event{At: at, By: "A", Data: SignedOn{Name: "A", Second: " a "}}); err == nil {
		t.Error("the operator is his own second person")
	}
}

// Who worked on the joint before is no witness either.
func TestWitnessDidNotWork(t *testing.T) {
	w, at := stage(t, testPlan(t, 4, 1, 2, time.Hour), is[Tighten])
	w, err := w.Apply(Event{At: at, By: "B", Data: SignedOn{Name: "B"}})
	if err != nil || !w.worked("A") || !w.worked("b ") || w.worked("C") {
		t.Fatalf("people are %q: %v", w.people, err)
	}
	w, at = stage(t, w.Plan(), is[Close])
	w.people, w.papers = and(w.people, "Jo"), and(w.papers, SignedOn{Name: "Jo"})
	if _, err := w.Apply(Event{At: at, By: "A", Data: CardClosed{Witness: "jo", Role: "inspector"}}); err == nil {
		t.Error("somebody who worked on the joint was taken as its witness")
	}
}

// A doubtful reading is believed when it is sent again with Sure, and what
// follows is what it stands for; the exceptions say so in the end.
func TestSureReadings(t *testing.T) {
	plan := testPlan(t, 4, 1, 2, time.Hour)
	set := plan.Passes[0].Settings[0].Set
	for name, c := range map[string]struct {
		read unit.Pressure
		next func(Step) bool
		word string
	}{
		"low":  {set - 0.3e5, is[Set], "done again"},
		"none": {0, is[Set], "done again"},
		"high": {set + 0.3e5, is[Release], ""},
	} {
		w, at := stage(t, plan, atEnd)
		d := PressureSet{AtEnd: true, Running: c.read}
		if _, err := w.Apply(Event{At: at, By: "A", Data: d}); !errors.Is(err, ErrLookAgain) {
			t.Errorf("%s: %v", name, err)
		}
		d.Sure = true
		w, err := w.Apply(Event{At: at, By: "A", Data: d})
		if err != nil || !c.next(w.Next(at)) {
			t.Errorf("%s: next is %#v: %v", name, w.Next(at), err)
		}
		if all := strings.Join(w.Exceptions(), "; "); c.word != "" && !strings.Contains(all, c.word) {
			t.Errorf("%s: the exceptions are %q", name, all)
		}
	}
}

// A spread is judged as it reads: 0.02 in is not beyond a limit of 0.5 mm, and
// what two readings cannot tell apart has not grown; on older cards what a feeler
// gauge cannot.
func TestSpreads(t *testing.T) {
	plan := testPlan(t, 4, 2, 2, time.Hour)
	after := func(s Step) bool { g, ok := s.(GapCheck); return ok && !g.All }
	for _, c := range []struct {
		wide unit.Length // above the narrow one
		over bool
	}{
		{0, false}, {0.025e-3, false}, {0.05e-3, false}, {0.099e-3, false}, {0.12e-3, true}, {0.6e-3, true},
	} {
		w, at := stage(t, plan, after)
		older := *plan
		older.Rules = 2
		begun, was := stage(t, &older, after)
		before, err := begun.Apply(Event{At: was, By: "A", Data: GapsMeasured{[]Gap{{1, 0.001 + c.wide}, {3, 0.001}}}})
		if err != nil {
			t.Fatal(err)
		}
		if _, held := before.Next(was).(GapCheck); held != (c.wide > 0.03e-3) {
			t.Errorf("on an older card a spread of %v after none: %#v", c.wide, before.Next(was))
		}
		w, err = w.Apply(Event{At: at, By: "A", Data: GapsMeasured{[]Gap{{1, 0.001 + c.wide}, {3, 0.001}}}})
		if err != nil {
			t.Fatal(err)
		}
		if g, ok := w.Next(at).(GapCheck); ok != c.over || ok && g.Over == nil {
			t.Errorf("a spread of %v after none: %#v", c.wide, w.Next(at))
		}
	}
	first, at := stage(t, plan, is[GapCheck])
	for wide, over := range map[unit.Length]bool{0.81e-3: false, 0.9e-3: true} {
		g := GapsMeasured{}
		for _, b := range plan.GapPlaces {
			g.Readings = append(g.Readings, Gap{b, 0.001})
		}
		g.Readings[0].Gap += wide
		w, err := first.Apply(Event{At: at, By: "A", Data: g})
		if err != nil {
			t.Fatal(err)
		}
		if is[GapCheck](w.Next(at)) != over {
			t.Errorf("a spread of %v after snug: %#v", wide, w.Next(at))
		}
	}
}

// A clock that goes back within a round never shortens the rest.
func TestRestAfterAClockThatWentBack(t *testing.T) {
	plan := testPlan(t, 4, 1, 2, 4*time.Hour)
	w, at := stage(t, plan, is[Check])
	late := at
	at = at.Add(-3 * time.Hour)
	for range 60 {
		if is[Rest](w.Next(at)) {
			break
		}
		at = at.Add(time.Second)
		var d Data
		switch s := w.Next(at).(type) {
		case Ask:
			d = Answered{Question: s.Question.ID, Answer: Yes, Typed: s.Question.Typed, Told: tell(s.Question)}
		case Set:
			d = PressureSet{AtEnd: s.AtEnd, Running: s.Set}
		case Check:
			d = NutStill{s.Round, s.Bolt}
		}
		var err error
		if w, err = w.Apply(Event{At: at, By: "A", Data: d}); err != nil {
			t.Fatal(err)
		}
	}
	if r, ok := w.Next(at).(Rest); !ok || r.Until.Before(late.Add(4*time.Hour-time.Minute)) {
		t.Errorf("the rest ends at %s, the round was at %s or later", r.Until, late)
	}
}

// Who comes back during the rest is not asked about marks that are not shown.
func TestNoMarksToCompare(t *testing.T) {
	w, at := stage(t, testPlan(t, 4, 1, 2, time.Hour), is[Rest])
	w, err := w.Reopened().Apply(Event{At: at, By: "A", Data: SignedOn{Name: "A"}})
	if err != nil || !is[Rest](w.Next(at)) || len(w.openQuestions()) > 0 {
		t.Errorf("next is %#v, open %v: %v", w.Next(at), w.openQuestions(), err)
	}
	if back, can := w.Undoable(); can {
		t.Errorf("behind the end reading %s can be taken back", back.Words())
	}
}
