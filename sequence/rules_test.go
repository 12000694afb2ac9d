package sequence

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenload/joint"
	"evenload/joint/unit"
)

var start = time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC)

// testPlan is a small job whose numbers do not matter here.
func testPlan(t interface{ Fatalf(string, ...any) }, bolts, passes, rounds int, rest time.Duration) *Plan {
	tool := joint.Tool{ID: "W", Reading: joint.Running, MostPressure: 7e5, ReactionArm: 0.15,
		Chart: joint.Chart{{Pressure: 1e5, Torque: 50}, {Pressure: 7e5, Torque: 650}},
		Gauge: joint.Gauge{ID: "G", High: 10e5, Division: 0.1e5, Unit: unit.InBar}}
	thread, _ := joint.ParseThread("M20")
	j := joint.Joint{Bolts: bolts, Thread: thread, Friction: joint.Friction{NutFactor: 0.15}, Target: joint.Target{Kind: joint.ByTorque, Torque: 300}, Tools: []joint.Tool{tool}}
	p := Procedure{Pattern: Star, ToolsAtOnce: 1, Snug: 0.2, GapPlaces: 2, GapFirst: 0.0008, GapSpread: 0.0005, CheckRounds: rounds,
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

// few keeps only the questions that differ in what they do, so that an
// exploration stays small.
func few(p *Plan) {
	p.Questions = slices.DeleteFunc(p.Questions, func(q Question) bool {
		return !slices.Contains([]string{"1", "3", "9", "h2", "marks", "tag"}, q.ID)
	})
}

// candidates are events of every sort, allowed or not.
func candidates(p *Plan, operator string) []Data {
	other := Named{Name: "Engineer", Role: "engineer", Reason: "looked at"}
	same := Named{Name: operator, Role: "engineer", Reason: "mine"}
	all := []Data{SignedOn{Name: "A"}, SignedOn{Name: "B"}, SignedOn{Name: "A", Permit: "P"}, Suspended{}, Snugged{}, RestOver{},
		RestWaived{other}, RestWaived{same}, CardClosed{Witness: "W", Role: "inspector"}, CardClosed{Witness: operator, Role: "inspector"},
		GapsAccepted{other}, GapsAccepted{same}, ProblemFound{Reason: "a leak"}}
	for _, q := range p.Questions {
		all = append(all, Answered{Question: q.ID, Answer: Yes, Typed: q.Typed}, Answered{Question: q.ID, Answer: No},
			Answered{Question: q.ID, Answer: NotApplicable, Reason: "none"}, Released{Of: OfQuestion, Question: q.ID, Named: other})
	}
	for _, gap := range []unit.Length{0.001, 0.01} {
		var readings []Gap
		for i, b := range p.GapPlaces {
			g := unit.Length(0.001)
			if i == 0 {
				g = gap
			}
			readings = append(readings, Gap{b, g})
		}
		all = append(all, GapsMeasured{readings})
	}
	for _, pass := range p.Passes {
		s := pass.Settings[0]
		all = append(all, PressureSet{Running: s.Set}, PressureSet{AtEnd: true, Running: s.Set},
			PressureSet{AtEnd: true, Running: s.Least - 0.2e5}, PressureSet{AtEnd: true, Running: s.Most + 0.2e5})
	}
	for b := Bolt(1); int(b) <= p.Bolts; b++ {
		for pass := range p.Passes {
			all = append(all, BoltDone{Pass: pass + 1, Bolts: []Bolt{b}})
		}
		for round := 1; round <= p.CheckRounds; round++ {
			all = append(all, NutStill{round, b}, NutMoved{round, b})
		}
		all = append(all, ProblemFound{Bolt: b, Reason: "seized"}, Undone{Bolt: b}, Released{Of: OfBolt, Bolt: b, Named: other}, Released{Of: OfBolt, Bolt: b, Named: same})
	}
	return append(all, Released{Of: OfPressure, Named: other}, Released{Of: OfPressure, Named: same}, Released{Of: OfRounds, Named: other})
}

// within bounds an exploration: on any way so many things besides the straight
// work; the walks of large joints have more of them together.
func (f facts) within() bool {
	return f.undos+f.problems+f.breaks+f.others <= most
}

const most = 1

// other says whether an event is one of the things besides the straight work.
func other(p *Plan, f facts, d Data) bool {
	switch d := d.(type) {
	case SignedOn:
		return f.operator != "" && !f.stopped
	case ProblemFound:
		return d.Bolt == 0
	case Answered:
		return d.Answer == No
	case GapsMeasured:
		return d.Readings[0].Gap > 0.005
	case PressureSet:
		s := p.Passes[min(f.pass, len(p.Passes)-1)].Settings[0]
		return d.AtEnd && !s.InBand(d.Running)
	}
	return false
}

// TestNineRulesEverywhere tries every event in every state that a small joint
// can come to.
func TestNineRulesEverywhere(t *testing.T) {
	plan := testPlan(t, 4, 2, 2, time.Hour)
	few(plan)
	w, err := New(plan)
	if err != nil {
		t.Fatal(err)
	}
	type node struct {
		w  Walk
		f  facts
		at time.Time
	}
	key := func(n node) string {
		return fmt.Sprint(n.w.Key(), n.f.undos, n.f.problems, n.f.breaks, n.f.others)
	}
	queue := []node{{w, facts{yes: map[string]bool{}, marked: map[Bolt]bool{}, left: map[Bolt]bool{}, gapsAfter: -1}, start}}
	seen := map[string]bool{key(queue[0]): true}
	tried, closed := 0, 0
	for len(queue) > 0 {
		n := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		if n.w.IsClosed() {
			closed++
			continue
		}
		for _, d := range candidates(plan, n.w.Operator()) {
			for _, wait := range []time.Duration{time.Second, 61 * time.Minute} {
				_, resting := n.w.Next(n.at).(Rest)
				if wait > time.Minute && (n.f.breaks > 0 || resting) && !(resting && d.Kind() == "rested") {
					continue
				}
				by := n.w.Operator()
				if s, ok := d.(SignedOn); ok {
					by = s.Name
				}
				e := Event{At: n.at.Add(wait), By: by, Data: d}
				tried++
				before := n.w.Key()
				next, err := n.w.Apply(e)
				if n.w.Key() != before {
					t.Fatalf("%T changed the walk that it was applied to", d)
				}
				if err != nil {
					continue
				}
				f := n.f.copy()
				if other(plan, f, d) {
					f.others++
				}
				long := wait > 30*time.Minute
				if long && d.Kind() != "rested" {
					f.breaks++
				}
				if err := f.check(plan, e, long); err != nil {
					t.Fatalf("%v: %#v accepted, next was %#v", err, d, n.w.Next(e.At))
				}
				m := node{next, f, e.At}
				if k := key(m); f.within() && !seen[k] {
					seen[k] = true
					queue = append(queue, m)
				}
			}
		}
	}
	if closed == 0 {
		t.Fatal("no way leads to a closed card")
	}
	t.Logf("%d states, %d events tried, %d ways to close", len(seen), tried, closed)
}

// offered is an event that does what the step asks for.
func offered(t *rapid.T, w Walk, s Step) Data {
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
		if odd && s.Question.OnNo != StopPage {
			return Answered{Question: s.Question.ID, Answer: No}
		}
		return Answered{Question: s.Question.ID, Answer: Yes, Typed: s.Question.Typed}
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
		d := PressureSet{AtEnd: s.AtEnd, Running: s.Set}
		if odd && s.AtEnd {
			d.Running = rapid.SampledFrom([]unit.Pressure{s.Least - 0.2e5, s.Most + 0.2e5}).Draw(t, "end")
		}
		return d
	case Tighten:
		switch {
		case odd && len(w.Last(1)) > 0:
			return Undone{Bolt: w.Last(1)[0]}
		case rapid.IntRange(0, 29).Draw(t, "problem") == 0:
			return ProblemFound{Bolt: s.Bolts[0], Reason: "seized"}
		}
		return BoltDone{Pass: s.Pass, Bolts: s.Bolts}
	case Check:
		if rapid.IntRange(0, 19).Draw(t, "moved") == 0 {
			return NutMoved{s.Round, s.Bolt}
		}
		return NutStill{s.Round, s.Bolt}
	case Rest:
		if s.Over {
			return RestOver{}
		}
		return NoteMade{Text: "resting"}
	case Release:
		return Released{Of: s.Of, Bolt: s.Bolt, Named: engineer}
	}
	return CardClosed{Witness: "W", Role: "inspector"}
}

// TestNineRulesOnLargeJoints walks joints of 3 to 40 bolts to the end, with
// mishaps, and replays what was recorded.
func TestNineRulesOnLargeJoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plan := testPlan(t, rapid.IntRange(3, 40).Draw(t, "bolts"), rapid.IntRange(1, 4).Draw(t, "passes"), 3, time.Hour)
		w, err := New(plan)
		if err != nil {
			t.Fatal(err)
		}
		f := facts{yes: map[string]bool{}, marked: map[Bolt]bool{}, left: map[Bolt]bool{}, gapsAfter: -1}
		at := start
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
			d := offered(t, w, w.Next(at))
			by := w.Operator()
			if s, ok := d.(SignedOn); ok {
				by = s.Name
			}
			e := Event{At: at, By: by, Data: d}
			next, err := w.Apply(e)
			if err != nil {
				t.Fatalf("%#v was offered for %#v and refused: %v", d, w.Next(at), err)
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

func BenchmarkPlan32(b *testing.B) {
	for b.Loop() {
		testPlan(b, 32, 4, 4, time.Hour)
	}
}
