package sequence

import (
	"slices"
	"strings"
	"testing"
	"time"

	"evenload/joint"
	"evenload/joint/unit"
)

// finishPlan has the alignment measured, the studs too, and a leak test.
func finishPlan(t interface{ Fatalf(string, ...any) }, bolts, passes int, rest time.Duration) *Plan {
	plan := testPlan(t, bolts, passes, 1, rest)
	finishing(plan)
	return plan
}

// finishing adds alignment, studs and leak test to a plan.
func finishing(plan *Plan) {
	limits := UsualAlignment
	plan.Alignment, plan.LeakTest = &limits, true
	plan.Stretch = &Stretching{Give: 2e-9, Expected: 0.2e-3, Reading: 0.01e-3, Low: 80e3, High: 120e3, Yield: 140e3}
	for i, q := range plan.Questions {
		plan.Questions[i].Measured = q.ID == "9"
	}
}

// ofFinish are the events of alignment, studs and leak test, and what stops the work.
func ofFinish(p *Plan) []Data {
	var all []Data
	straight, off := Alignment{Offset: 0.001}, Alignment{Parallel: 0.002}
	for _, answer := range []Answer{Yes, No} {
		for _, a := range []Alignment{straight, off, {Holes: -1}} {
			all = append(all, Answered{Question: "9", Answer: answer, Measured: &a}, Answered{Question: "14", Answer: answer, Measured: &a})
		}
	}
	for b := range p.Bolts {
		all = append(all, Replaced{Bolt: Bolt(b + 1), Batch: "N-1"})
		stretches := []unit.Length{0.2e-3, 0.1e-3, 0.3e-3, 1}
		if b == 0 {
			stretches = append(stretches, 0.26e-3) // high, and elastic
		}
		for _, stretch := range stretches {
			all = append(all, StretchMeasured{Bolt: Bolt(b + 1), Stretch: stretch, Load: unit.Force(stretch / 2e-9), Within: 1e3})
		}
	}
	for _, name := range []string{"A", "Engineer"} {
		n := Named{Name: name, Role: "engineer", Reason: "looked at"}
		all = append(all, Released{Of: OfStretch, Named: n}, Released{Of: OfStretch, Replace: []Bolt{1}, Named: n}, Released{Of: OfStretch, Replace: []Bolt{2, 3}, Named: n},
			StudsAgain{Decided: &n}, StudsAgain{Rounds: true, Decided: &n})
	}
	all = append(all, StudsAgain{}, StudsAgain{Rounds: true})
	for b := Bolt(1); int(b) <= p.Bolts; b++ {
		engineer := Named{Name: "Engineer", Role: "engineer", Reason: "looked at"}
		all = append(all, ProblemFound{Bolt: b, What: Unfit}, ProblemFound{Bolt: b, What: FacesTouch}, Released{Of: OfProblem, Bolt: b, Named: engineer},
			Released{Of: OfProblem, Bolt: b, Named: engineer, Restart: true})
	}
	all = append(all, LeakTested{Result: Tight}, LeakTested{Result: Tight, Bolts: []Bolt{1}}, LeakTested{Result: Leaked}, LeakTested{Result: Leaked, Bolts: []Bolt{1, 2}},
		LeakTested{Result: Leaked, Bolts: []Bolt{1, 1}}, LeakTested{Result: Untested}, LeakTested{Result: Untested, Note: "the site tests it"}, LeakTested{Result: "good"})
	for _, k := range StopKinds {
		all = append(all, ProblemFound{What: k.What, Reason: "seen"}, ProblemFound{What: k.What})
	}
	return all
}

// TestFinishEverywhere explores a joint of 3 bolts with its alignment and studs
// measured and a leak test, with an undo and a long break or a second person, and
// with every kind of stop.
func TestFinishEverywhere(t *testing.T) {
	plan := finishPlan(t, 3, 1, time.Hour)
	plan.askLengths()
	few(plan)
	plan.Hold = []Hold{{Name: "before close", At: HoldBeforeClose}}
	bounds := []facts{{undos: 1, changes: 1}, {problems: 1}, {persons: 1}}
	for _, most := range bounds {
		x := explorer{plan: plan, events: append(alphabet(plan), ofFinish(plan)...), most: most, seen: map[sum]bool{}, takes: map[sum][]word{}}
		x.explore(t)
	}
}

// TestFinishOnCard is the part of rule 8 that is the events' own.
func TestFinishOnCard(t *testing.T) {
	readBack(t, ofFinish(finishPlan(t, 4, 2, 0)))
}

func atStretch(b Bolt) func(Step) bool {
	return func(s Step) bool { st, ok := s.(Stretch); return ok && st.Bolt == b }
}

// A stud outside the band holds the work; taken back, it is measured again.
func TestStudOutsideTheBandHolds(t *testing.T) {
	plan := finishPlan(t, 4, 1, 0)
	w, at := stage(t, plan, atStretch(3))
	apply := func(d Data) {
		t.Helper()
		var err error
		if w, err = w.Apply(Event{At: at, By: "A", Data: d}); err != nil {
			t.Fatal(err)
		}
	}
	apply(w.StretchOf(3, 0.1e-3))
	apply(w.StretchOf(4, 0.2e-3))
	r, ok := w.Next(at).(Release)
	if !ok || r.Of != OfStretch || !slices.Equal(boltsOf(r.Studs), []Bolt{3}) {
		t.Fatalf("after a stud outside the band comes %+v", w.Next(at))
	}
	apply(Undone{Bolt: 4})
	apply(Undone{Bolt: 3})
	apply(w.StretchOf(3, 0.21e-3))
	apply(w.StretchOf(4, 0.2e-3))
	if g, ok := w.Next(at).(GapCheck); !ok || g.After != "check rounds" {
		t.Fatalf("after the last stud comes %+v", w.Next(at))
	}
	if len(w.Exceptions()) != 0 {
		t.Errorf("measured again, %q stands as not planned", w.Exceptions())
	}
}

// A stretch of 0.2 mm at 2 nm/N is 100 kN: by hand. Two readings to 0.01 mm are
// 0.01414 mm, or 7.07 kN; with 5 % of the load, 5 kN, that is 8.66 kN.
func TestLoadByStretch(t *testing.T) {
	w, _ := New(finishPlan(t, 4, 1, 0))
	d := w.StretchOf(2, 0.2e-3)
	if got := d.Load.Text(unit.SI); got != "100 kN" {
		t.Errorf("the load is %s", got)
	}
	if d.Within < 8.65e3 || d.Within > 8.67e3 {
		t.Errorf("it is known to %v", d.Within)
	}
}

// Alignment out of its limits stays open until it is measured again or released.
func TestAlignmentBeyondLimits(t *testing.T) {
	plan := finishPlan(t, 4, 1, 0)
	w, at := stage(t, plan, asked("9"))
	q := w.Next(at).(Ask).Question
	wide := w.Aligned(q, Alignment{Offset: 0.0016, Parallel: 0.0005})
	if wide.Answer != No {
		t.Fatalf("1.6 mm is answered %s", wide.Answer)
	}
	if d := w.Aligned(q, Alignment{Offset: 0.0015, Parallel: 0.0008, Holes: 0.003}); d.Answer != Yes {
		t.Errorf("readings at their limits are answered %s", d.Answer)
	}
	w, err := w.Apply(Event{At: at, By: "A", Data: wide})
	if err != nil {
		t.Fatal(err)
	}
	if a, ok := w.Next(at).(Ask); !ok || a.Question.ID != "9" || !a.SaidNo {
		t.Errorf("after readings beyond their limits comes %+v", w.Next(at))
	}
	text := strings.Join(wide.Measured.Words(*plan.Alignment, unit.SI), "; ")
	if !strings.Contains(text, "Centre offset 1.6 mm, at most 1.5 mm: BEYOND") || strings.Count(text, "BEYOND") != 1 {
		t.Errorf("the words are %q", text)
	}
}

// Every kind of stop has its own page: what to do, why, whom to ask.
func TestStopPages(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range StopKinds {
		w, at := stage(t, finishPlan(t, 4, 1, 0), is[Tighten])
		w, err := w.Apply(Event{At: at, By: "A", Data: ProblemFound{What: k.What, Reason: "seen at bolt 2"}})
		if err != nil {
			t.Fatal(err)
		}
		s, ok := w.Next(at).(Stop)
		if !ok || s.What != k.What || !strings.Contains(s.Reason, "seen at bolt 2") {
			t.Errorf("%s: %+v is shown", k.What, w.Next(at))
		}
		for _, told := range s.Words() {
			if told.Text == "" {
				t.Errorf("%s: nothing is said of %s", k.What, told.Label)
			}
		}
		if seen[k.Key] || seen[k.Name] {
			t.Errorf("%s has the key or the name of another", k.What)
		}
		seen[k.Key], seen[k.Name] = true, true
	}
	for id, want := range map[string]What{"3": UnderPressure, "4": HotJoint, workQuestion: OtherHazard} {
		w, at := stage(t, finishPlan(t, 4, 1, 0), asked(id))
		w, _ = w.Apply(Event{At: at, By: "A", Data: Answered{Question: id, Answer: No}})
		if s, ok := w.Next(at).(Stop); !ok || s.What != want {
			t.Errorf("question %s answered no: %+v", id, w.Next(at))
		}
	}
}

// A leak closes the card as it is, and says so.
func TestLeakIsKnownAtClose(t *testing.T) {
	w, at := stage(t, finishPlan(t, 4, 1, 0), is[LeakTest])
	if _, err := w.Apply(Event{At: at, By: "A", Data: CardClosed{Witness: "W", Role: "inspector"}}); err == nil {
		t.Error("the card is closed without a leak test")
	}
	w, err := w.Apply(Event{At: at, By: "A", Data: LeakTested{Result: Leaked, Bolts: []Bolt{2, 3}}})
	if err != nil {
		t.Fatal(err)
	}
	if !is[Close](w.Next(at)) || w.Leak() != Leaked || len(w.Exceptions()) != 1 || !strings.Contains(w.Exceptions()[0], "2, 3") {
		t.Errorf("after a leak comes %+v with %q", w.Next(at), w.Exceptions())
	}
}

// The gate of a card after a leak asks for its cause, and a no holds the work.
func TestAfterLeak(t *testing.T) {
	plan := finishPlan(t, 4, 1, 0)
	before := len(plan.Questions)
	plan.AfterLeak(nil)
	if len(plan.Questions) != before {
		t.Error("without a leak a question came")
	}
	plan.AfterLeak([]Bolt{2, 3})
	w, at := stage(t, plan, asked("leak"))
	q := w.Next(at).(Ask).Question
	if !strings.Contains(q.Text, "bolt 2, 3") || q.Heading != headReady || q.OnNo != StayOpen {
		t.Errorf("the question is %+v", q)
	}
	w, err := w.Apply(Event{At: at, By: "A", Data: Answered{Question: "leak", Answer: No}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Apply(Event{At: at, By: "A", Data: Released{Of: OfQuestion, Question: "leak", Named: Named{Name: "E", Role: "engineer", Reason: "go on"}}}); err == nil {
		t.Error("the question was released")
	}
	if a, ok := w.Next(at).(Ask); !ok || a.Question.ID != "leak" || !a.SaidNo {
		t.Errorf("after a no comes %+v", w.Next(at))
	}
}

// Studs outside the band are measured again alone; behind new rounds all are,
// and the rest is not wanted twice.
func TestStudsAgain(t *testing.T) {
	w, at := stage(t, finishPlan(t, 4, 1, time.Hour), atStretch(1))
	apply := func(d Data) {
		t.Helper()
		var err error
		if w, err = w.Apply(Event{At: at, By: "A", Data: d}); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := w.Apply(Event{At: at, By: "A", Data: StudsAgain{}}); err == nil {
		t.Error("studs are measured again that nobody measured")
	}
	for b, stretch := range []unit.Length{0.2e-3, 0.1e-3, 0.2e-3, 0.3e-3} {
		apply(w.StretchOf(Bolt(b+1), stretch))
	}
	r, ok := w.Next(at).(Release)
	if text := strings.Join(w.ReleaseWords(r), " "); !ok || !strings.Contains(text, "outside 80 kN to 120 kN. LOW: bolt 2 50 kN. BEYOND YIELD: bolt 4 at least 140 kN.") {
		t.Fatalf("held is %q", text)
	}
	apply(StudsAgain{})
	if s, ok := w.Next(at).(Stretch); !ok || s.Bolt != 2 || s.Left != 2 || len(w.Studs()) != 2 {
		t.Fatalf("measured again is %+v, %+v count", w.Next(at), w.Studs())
	}
	apply(w.StretchOf(2, 0.1e-3))
	apply(w.StretchOf(4, 0.2e-3))
	if got := w.Studs(); len(got) != 4 || got[3].Load < 99e3 || got[3].Load > 101e3 {
		t.Errorf("%+v count", got)
	}
	apply(StudsAgain{Rounds: true})
	set, ok := w.Next(at).(Set)
	if !ok || set.Round != 1 || len(w.Studs()) != 0 {
		t.Fatalf("behind the decision for rounds comes %+v, %+v count", w.Next(at), w.Studs())
	}
	apply(PressureSet{Running: set.Set})
	for b := range 4 {
		apply(NutStill{Round: 1, Bolt: Bolt(b + 1)})
	}
	apply(PressureSet{AtEnd: true, Running: set.Set})
	for b := range 4 {
		if s, ok := w.Next(at).(Stretch); !ok || s.Left != 4-b {
			t.Fatalf("behind the rounds comes %+v", w.Next(at))
		}
		apply(w.StretchOf(Bolt(b+1), 0.2e-3))
	}
	if !is[GapCheck](w.Next(at)) || len(w.Exceptions()) != 0 {
		t.Errorf("in the end comes %+v with %q", w.Next(at), w.Exceptions())
	}
}

// Lengths that cannot be are refused; those that can stand beside the stretch.
func TestLengthsOfStud(t *testing.T) {
	w, at := stage(t, finishPlan(t, 4, 1, 0), atStretch(1))
	if _, err := w.Apply(Event{At: at, By: "A", Data: w.StretchOf(1, 0.2e-3).Of(0.1826, 0.1824)}); err == nil {
		t.Error("a stud got shorter")
	}
	d := w.StretchOf(1, 0.2e-3).Of(0.1824, 0.1826)
	if _, err := w.Apply(Event{At: at, By: "A", Data: d}); err != nil {
		t.Error(err)
	}
	if text := d.Words(w.Plan()); !strings.Contains(text, "stretched 0.200 mm (182.600 mm less 182.400 mm), about 100 kN") {
		t.Errorf("the words are %q", text)
	}
	a := Alignment{Parallel: 0.6e-3, Widest: 3.2e-3, Narrowest: 2.6e-3}
	q := Question{ID: "9", Measured: true}
	if err := w.judgeAlignment(q, w.Aligned(q, a)); err != nil {
		t.Error(err)
	}
	if text := strings.Join(a.Words(*w.plan.Alignment, unit.SI), "; "); !strings.Contains(text, "Gap difference 0.6 mm (3.2 mm less 2.6 mm), at most 0.8 mm") {
		t.Errorf("the words are %q", text)
	}
	a.Widest = 2e-3
	if err := w.judgeAlignment(q, w.Aligned(q, a)); err == nil {
		t.Error("the widest gap is below the narrowest")
	}
}

// A card knows a question by its id: none is given twice.
func TestQuestionsHaveTheirOwnIDs(t *testing.T) {
	for _, measured := range []bool{false, true} {
		for _, tools := range [][]joint.Tool{make([]joint.Tool, 1), make([]joint.Tool, 2)} {
			seen := map[string]bool{}
			for _, q := range questions(About{}, Conditions{AtHeight: true, HazardousArea: true, DriveGas: "nitrogen"}, tools, measured, unit.SI) {
				if seen[q.ID] {
					t.Errorf("question %q, %s, has the id of another", q.ID, q.Text)
				}
				seen[q.ID] = true
			}
		}
	}
}
