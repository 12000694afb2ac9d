package sequence

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenload/joint"
	"evenload/joint/unit"
)

var start = time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC)

// testPlan is a small job whose numbers do not matter here.
func testPlan(t interface{ Fatalf(string, ...any) }, bolts, passes, rounds int, rest time.Duration) *Plan {
	return teamPlan(t, 1, bolts, passes, rounds, rest)
}

// teamPlan is one with several tools, each with a chart of its own, and a spare one.
func teamPlan(t interface{ Fatalf(string, ...any) }, tools, bolts, passes, rounds int, rest time.Duration) *Plan {
	thread, _ := joint.ParseThread("M20")
	j := joint.Joint{Bolts: bolts, Thread: thread, Friction: joint.Friction{NutFactor: 0.15}, Target: joint.Target{Kind: joint.ByTorque, Torque: 300}}
	tool := func(id, gauge string, first, last unit.Torque) joint.Tool {
		return joint.Tool{ID: id, Reading: joint.Running, MostPressure: 7e5, ReactionArm: 0.15,
			Chart: joint.Chart{{Pressure: 1e5, Torque: first}, {Pressure: 7e5, Torque: last}},
			Gauge: joint.Gauge{ID: gauge, High: 10e5, Division: 0.1e5, Unit: unit.InBar}}
	}
	for slot := range tools {
		name := strings.TrimPrefix(fmt.Sprint(slot+1), "1")
		j.Tools = append(j.Tools, tool("W"+name, "G"+name, 50, 650-60*unit.Torque(slot)))
	}
	j.Tools = append(j.Tools, tool("V", "H", 30, 450))
	p := Procedure{Pattern: Star, ToolsAtOnce: tools, Snug: 0.2, GapPlaces: 2, GapFirst: 0.0008, GapSpread: 0.0005, CheckRounds: rounds,
		Rest: rest, RestartAfter: 30 * time.Minute, ReadBack: 0.02}
	for i := range passes {
		p.Passes = append(p.Passes, unit.Share(i+1)/unit.Share(passes))
	}
	plan, findings := NewPlan(j, About{Tag: "DH-1", ApprovedBy: "E", Datum: "top"}, Conditions{}, p, unit.SI, joint.Date{})
	if joint.Failed(findings) {
		t.Fatalf("the plan has errors: %v", findings)
	}
	return &plan
}

// sharesOf are those of a plan's passes.
func sharesOf(p *Plan) []unit.Share {
	var all []unit.Share
	for _, pass := range p.Passes {
		all = append(all, pass.Share)
	}
	return all
}

// offered is an event that does what the step asks for. A few times a mishap
// comes instead, so that the work ends.
func offered(t *rapid.T, w Walk, s Step, mishaps *int) Data {
	engineer := Named{Name: "Engineer", Role: "engineer", Reason: "looked at"}
	odd := rapid.IntRange(0, 9).Draw(t, "odd") == 0
	switch s := s.(type) {
	case SignOn:
		return SignedOn{Name: rapid.SampledFrom([]string{"A", "B"}).Draw(t, "name")}
	case Stop:
		return SignedOn{Name: "A", Permit: "P"}
	case Ask:
		if s.SaidNo && s.Question.OnNo == Override {
			return Released{Of: OfQuestion, Question: s.Question.ID, Named: engineer}
		}
		if s.Question.Measured {
			return w.Aligned(s.Question, Alignment{Offset: unit.Length(rapid.SampledFrom([]float64{0, 0.001, 0.002}).Draw(t, "offset"))})
		}
		if odd && s.Question.OnNo != StopPage {
			return Answered{Question: s.Question.ID, Answer: No}
		}
		return Answered{Question: s.Question.ID, Answer: Yes, Typed: s.Question.Typed, Told: tell(s.Question)}
	case Materials:
		return MaterialsNoted{Stud: "S 7"}
	case Snug:
		return Snugged{}
	case GapCheck:
		if s.Over != nil {
			return GapsAccepted{engineer}
		}
		wide := unit.Length(0.001)
		if odd {
			wide = 0.01
		}
		if !s.All {
			return GapsMeasured{[]Gap{{1, wide}, {2, 0.001}}}
		}
		g := GapsMeasured{}
		for i, b := range s.Places {
			gap := unit.Length(0.001)
			if i == 0 {
				gap = wide
			}
			g.Readings = append(g.Readings, Gap{b, gap})
		}
		return g
	case Set:
		d := PressureSet{AtEnd: s.AtEnd, Tool: s.Slot, Running: s.Set}
		if len(w.At(w.last).ends) == 0 && rapid.IntRange(0, 49).Draw(t, "air") == 0 {
			return AirChanged{Slot: s.Slot, Reason: "longer hose"}
		}
		if odd && s.AtEnd {
			d.Running, d.Sure = rapid.SampledFrom([]unit.Pressure{s.Least - 0.2e5, s.Most + 0.2e5, 0}).Draw(t, "end"), true
		}
		return d
	case Tighten:
		switch {
		case odd:
			if last, ok := w.Undoable(); ok {
				return last
			}
		case *mishaps > 0 && rapid.IntRange(0, 19).Draw(t, "problem") == 0:
			*mishaps--
			return mishap(t, w, rapid.SampledFrom(s.Bolts).Draw(t, "bolt"), s.Bolts, s.Redo > 0)
		}
		return BoltDone{Pass: s.Pass, Bolts: s.Bolts}
	case Check:
		switch n := rapid.IntRange(0, 39).Draw(t, "moved"); {
		case n < 2:
			return NutMoved{s.Round, s.Bolt}
		case n == 2 && *mishaps > 0:
			*mishaps--
			return mishap(t, w, s.Bolt, Station{s.Bolt}, false)
		}
		return NutStill{s.Round, s.Bolt}
	case Rest:
		if s.Over {
			return RestOver{}
		}
		return NoteMade{Text: "resting"}
	case Stretch:
		if last, ok := w.Undoable(); ok && odd {
			return last
		}
		return w.StretchOf(s.Bolt, s.Expected*unit.Length(rapid.SampledFrom([]float64{0.3, 1, 1, 1, 1, 1}).Draw(t, "stretch")))
	case LeakTest:
		if odd {
			return LeakTested{Result: Leaked, Bolts: []Bolt{1}}
		}
		return LeakTested{Result: Tight, Sheet: "T-4"}
	case Release:
		if s.Out && rapid.Bool().Draw(t, "replaced") {
			return Replaced{Bolt: s.Bolt, Batch: "N-1"}
		}
		if s.Of == OfStretch && rapid.Bool().Draw(t, "again") {
			return StudsAgain{Rounds: rapid.Bool().Draw(t, "rounds")}
		}
		return Released{Of: s.Of, Bolt: s.Bolt, Tool: s.Slot, Hold: s.Hold, Named: engineer, Restart: odd && s.Of == OfProblem && *mishaps > 0}
	}
	return CardClosed{Witness: "W", Role: "inspector"}
}

// mishap is a problem at one of the bolts at hand, new parts or another tool, of
// those that are offered there.
func mishap(t *rapid.T, w Walk, b Bolt, hand Station, again bool) Data {
	engineer := Named{Name: "Engineer", Role: "engineer", Reason: "looked at"}
	last, other := b, b
	now := w.At(w.last)
	for o := Bolt(1); int(o) <= w.plan.Bolts; o++ {
		switch now.MarkOf(o) {
		case MarkDone, MarkStill, MarkMoved:
			last = o
		case MarkOpen:
			if !slices.Contains(hand, o) {
				other = o
			}
		}
	}
	out := w.Out()
	switch n := rapid.IntRange(0, 9).Draw(t, "mishap"); {
	case n == 0 && !again:
		return ProblemFound{Bolt: b, Reason: "dry"}
	case n == 1:
		return ProblemFound{Bolt: b, What: Seized, Batch: "O-1"}
	case n == 2:
		return ProblemFound{Bolt: b, What: Broke}
	case n == 3 && last != b && !again:
		return ProblemFound{Bolt: last, What: Missed}
	case n == 4 && other != b && !again:
		return ProblemFound{Bolt: other, What: WrongBolt, Tool: now.SlotAt(b)}
	case n == 5:
		return ProblemFound{Bolt: b, What: WrongPressure, Read: now.current(now.SlotAt(b)).Most + 0.2e5}
	case n < 8 && len(out) > 0 && !again:
		return Replaced{Bolt: out[0], Batch: "N-1"}
	case n == 8:
		d, err := now.ToolChange(rapid.SampledFrom(now.InUse()).Draw(t, "slot"), now.OtherTools()[0], joint.DateOf(w.last))
		if err != nil {
			t.Fatal(err)
		}
		if d.Reason = "no air"; now.UnderWay() && rapid.Bool().Draw(t, "goes on") {
			d.GoOn = &engineer
		}
		return d
	}
	return ProblemFound{Bolt: b, What: NoStall, Now: true}
}

// TestNineRulesOnLargeJoints walks joints of 3 to 40 bolts to the end, rings with
// one, two or four tools and covers, with mishaps, and replays what was recorded.
func TestNineRulesOnLargeJoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tools := rapid.SampledFrom([]int{1, 2, 4}).Draw(t, "tools")
		plan := teamPlan(t, tools, rapid.IntRange(3, 40).Draw(t, "bolts"), rapid.IntRange(1, 4).Draw(t, "passes"), 3, time.Hour)
		if rapid.Bool().Draw(t, "cover") {
			l := scattered(t)
			order, _ := layoutOrder(Outward, l, nil)
			plan = testPlan(t, len(l), rapid.IntRange(1, 4).Draw(t, "passes of the cover"), 3, time.Hour)
			plan.Pattern, plan.Positions, plan.GapPlaces, plan.Stations = Outward, l, layoutGaps(l, 8), nil
			for _, b := range order {
				plan.Stations = append(plan.Stations, Station{b})
			}
		}
		for _, h := range HoldPoints(sharesOf(plan), true) {
			if rapid.Bool().Draw(t, "held "+h.Name) {
				plan.Hold = append(plan.Hold, h)
			}
		}
		plan.Batches = rapid.Bool().Draw(t, "batches")
		if rapid.Bool().Draw(t, "finish") {
			finishing(plan)
		}
		w, err := New(plan)
		if err != nil {
			t.Fatal(err)
		}
		f := nothingYet(plan)
		at, mishaps := start, rapid.IntRange(0, 6).Draw(t, "mishaps")
		var events []Event
		for range 5000 {
			if w.IsClosed() {
				break
			}
			wait := 10 * time.Second
			if rapid.IntRange(0, 99).Draw(t, "wait") == 0 {
				wait = 40 * time.Minute
			}
			at = at.Add(wait)
			d := offered(t, w, w.Next(at), &mishaps)
			by := w.Operator()
			if s, ok := d.(SignedOn); ok {
				by = s.Name
			}
			e := Event{At: at, By: by, Data: d}
			next, err := w.Apply(e)
			if err != nil {
				t.Fatalf("%#v was offered for %#v and refused: %v", d, w.Next(at), err)
			}
			if err := f.shown(plan, w.Next(at), wait > 30*time.Minute); err != nil {
				t.Fatalf("%v: %#v is shown", err, w.Next(at))
			}
			if err := f.check(plan, e, wait > 30*time.Minute); err != nil {
				t.Fatalf("%v: %#v", err, d)
			}
			w, events = next, append(events, e)
		}
		if !w.IsClosed() {
			t.Fatalf("not closed after %d events, next is %#v", len(events), w.Next(at))
		}
		cut := rapid.IntRange(0, len(events)).Draw(t, "cut")
		if _, err := Replay(plan, events[:cut]); err != nil {
			t.Fatalf("a prefix of the card does not replay: %v", err)
		}
		again, err := Replay(plan, events)
		if err != nil || again.Key() != w.Key() {
			t.Fatalf("the card does not replay to the same state: %v", err)
		}
	})
}

func TestClockThatGoesBackCountsAsABreak(t *testing.T) {
	plan := testPlan(t, 4, 1, 2, 0)
	w, _ := New(plan)
	apply := func(at time.Time, d Data) {
		t.Helper()
		next, err := w.Apply(Event{At: at, By: "A", Data: d})
		if err != nil {
			t.Fatal(err)
		}
		w = next
	}
	apply(start, SignedOn{Name: "A"})
	for {
		a, ok := w.Next(start).(Ask)
		if !ok {
			break
		}
		apply(start, Answered{Question: a.Question.ID, Answer: Yes, Typed: a.Question.Typed})
	}
	if a, ok := w.Next(start.Add(-time.Hour)).(Ask); !ok || a.Question.ID != "2" {
		t.Errorf("after the clock went back next is %#v, the permit should be asked again", w.Next(start.Add(-time.Hour)))
	}
}

// tell says something to all that a yes has to tell.
func tell(q Question) (all []string) {
	for _, a := range q.Asks {
		all = append(all, a.Label+" W-1")
	}
	return all
}
