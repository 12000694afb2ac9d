package sequence

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenload/joint"
	"evenload/joint/unit"
)

// do applies events that have to be accepted.
func do(t *testing.T, w Walk, at time.Time, all ...Data) Walk {
	t.Helper()
	for _, d := range all {
		next, err := w.Apply(Event{At: at, By: "A", Data: d})
		if err != nil {
			t.Fatalf("%#v: %v", d, err)
		}
		w = next
	}
	return w
}

func endOf(slot int) func(Step) bool {
	return func(s Step) bool { set, ok := s.(Set); return ok && set.AtEnd && set.Slot == slot }
}

// Each of these is wrong where two tools work, and says why.
func TestTeamRefusals(t *testing.T) {
	plan := teamPlan(t, 2, 4, 1, 2, 0)
	a, b := plan.Passes[0].Settings[0], plan.Passes[0].Settings[1]
	if a.InBand(b.Set) {
		t.Fatal("the charts are too alike for this test")
	}
	setB := func(s Step) bool { set, ok := s.(Set); return ok && set.Slot == 1 }
	second := func(s Step) bool { work, ok := s.(Tighten); return ok && work.Done == 2 }
	inRound := func(s Step) bool { set, ok := s.(Set); return ok && set.Round == 1 }
	for name, c := range map[string]struct {
		until func(Step) bool
		d     Data
		want  string
	}{
		"the other tool's setting": {is[Set], PressureSet{Running: b.Set}, "above the band"},
		"the second tool first":    {is[Set], PressureSet{Tool: 1, Running: b.Set}, "setting the pressure, tool A"},
		"a tool set twice":         {setB, PressureSet{Running: a.Set}, "setting the pressure, tool B"},
		"work before all are set":  {setB, BoltDone{Pass: 1, Bolts: []Bolt{1, 3}}, "tool B"},
		"one bolt of a station":    {is[Tighten], BoltDone{Pass: 1, Bolts: []Bolt{1}}, "bolts 1, 3 of pass 1"},
		"another order of tools":   {is[Tighten], BoltDone{Pass: 1, Bolts: []Bolt{3, 1}}, "bolts 1, 3 of pass 1"},
		"another station's bolt":   {is[Tighten], ProblemFound{Bolt: 2, Reason: "seized"}, "bolts 1, 3 is next"},
		"half a station back":      {second, Undone{Bolt: 3}, "together"},
		"a station and a bolt":     {second, Undone{Bolt: 3, Bolts: []Bolt{1, 3}}, "either"},
		"end of the second first":  {endOf(0), PressureSet{AtEnd: true, Tool: 1, Running: b.Set}, "tool A"},
		"undo after an end":        {endOf(1), Undone{Bolts: []Bolt{2, 4}}, "nothing of this pass"},
		"a round with another":     {inRound, PressureSet{Tool: 1, Running: b.Set}, "tool A"},
	} {
		w, at := stage(t, plan, c.until)
		if _, err := w.Apply(Event{At: at, By: "A", Data: c.d}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want one that says %q", name, err, c.want)
		}
	}
}

// A problem leaves its bolt; the other of the station comes next, with its own
// tool and nobody else's, and is taken back alone.
func TestProblemLeavesASmallerStation(t *testing.T) {
	w, at := stage(t, teamPlan(t, 2, 4, 1, 2, 0), is[Tighten])
	w = do(t, w, at, ProblemFound{Bolt: 1, Reason: "seized"})
	s := w.Next(at).(Tighten)
	if !slices.Equal(s.Bolts, []Bolt{3}) || s.Turns[0].Letter != "B" || s.Turns[0].Setting != w.Plan().Passes[0].Settings[1] || s.Setting != s.Turns[0].Setting || s.Off != "A" {
		t.Fatalf("next is %+v", s)
	}
	if w.MarkOf(3) != MarkOpen {
		t.Error("the other bolt of the station counts as done")
	}
	w = do(t, w, at, BoltDone{Pass: 1, Bolts: []Bolt{3}}, BoltDone{Pass: 1, Bolts: []Bolt{2, 4}})
	if r, ok := w.Next(at).(Release); !ok || r.Bolt != 1 {
		t.Fatalf("next is %#v", w.Next(at))
	}
	// Taken back, it is done alone, and is taken back alone again.
	w = do(t, w, at, Undone{Bolt: 1}, BoltDone{Pass: 1, Bolts: []Bolt{1}}, Undone{Bolt: 1}, Undone{Bolts: []Bolt{2, 4}}, Undone{Bolt: 3})
	if s := w.Next(at).(Tighten); !slices.Equal(s.Bolts, []Bolt{1, 3}) || s.Done != 0 || s.Off != "" {
		t.Errorf("next is %+v", s)
	}
}

// A low tool does not hide a high one: all are read, what was high is
// released first, for its own bolts, and then the pass is done again.
func TestLowAndHighAtTheEnd(t *testing.T) {
	plan := teamPlan(t, 2, 4, 1, 2, 0)
	low, high := plan.Passes[0].Settings[0].Set-0.3e5, plan.Passes[0].Settings[1].Set+0.3e5
	w, at := stage(t, plan, endOf(0))
	w = do(t, w, at, PressureSet{AtEnd: true, Running: low, Sure: true})
	if !endOf(1)(w.Next(at)) {
		t.Fatalf("next is %#v", w.Next(at))
	}
	w = do(t, w, at, PressureSet{AtEnd: true, Tool: 1, Running: high, Sure: true})
	r, ok := w.Next(at).(Release)
	if !ok || r.Letter != "B" || !slices.Equal(w.Risk(r.Slot, high).Bolts, []Bolt{3, 4}) {
		t.Fatalf("next is %#v", w.Next(at))
	}
	words := strings.Join(w.ReleaseWords(r), " ")
	for _, want := range []string{"tool B, W2, read", "since the pressure of tool B was last good: bolts 3, 4."} {
		if !strings.Contains(words, want) {
			t.Errorf("the release does not say %q: %s", want, words)
		}
	}
	engineer := Named{Name: "E", Role: "engineer", Reason: "looked at"}
	if _, err := w.Apply(Event{At: at, By: "A", Data: Released{Of: OfPressure, Named: engineer}}); err == nil {
		t.Error("the pressure of the tool that was low was released")
	}
	w = do(t, w, at, Released{Of: OfPressure, Tool: 1, Named: engineer})
	if s, ok := w.Next(at).(Set); !ok || s.Slot != 0 || s.Repeat != 1 || s.AtEnd {
		t.Errorf("next is %#v", w.Next(at))
	}
	all := strings.Join(w.Exceptions(), "; ")
	for _, want := range []string{"tool A, " + plan.Tools[0].Typed(low) + ": the pass was done again", "tool B, " + plan.Tools[1].Typed(high) + ", released by E"} {
		if !strings.Contains(all, want) {
			t.Errorf("the exceptions do not say %q: %s", want, all)
		}
	}
}

// Each tool alone decides on its own end reading.
func TestEndReadingOfEachTool(t *testing.T) {
	plan := teamPlan(t, 4, 8, 1, 2, 0)
	for slot := range 4 {
		w, at := stage(t, plan, endOf(0))
		for s := range 4 {
			d := PressureSet{AtEnd: true, Tool: s, Running: plan.Passes[0].Settings[s].Set}
			if s == slot {
				d.Running, d.Sure = 0, true // no air any more
			}
			w = do(t, w, at, d)
		}
		if s, ok := w.Next(at).(Set); !ok || s.Repeat != 1 || s.Slot != 0 {
			t.Errorf("tool %d was low, next is %#v", slot, w.Next(at))
		}
	}
}

// Check rounds are for the first tool alone, at its setting of the last pass.
func TestCheckRoundsWithOneTool(t *testing.T) {
	plan := teamPlan(t, 4, 8, 2, 2, 0)
	w, at := stage(t, plan, func(s Step) bool { set, ok := s.(Set); return ok && set.Round == 1 })
	s := w.Next(at).(Set)
	if s.Slot != 0 || s.Letter != "A" || s.Team != nil || s.Setting != plan.Passes[1].Settings[0] || s.Caution() != SetCaution {
		t.Errorf("set before the rounds: %+v", s)
	}
	w = do(t, w, at, PressureSet{Running: s.Set})
	if c, ok := w.Next(at).(Check); !ok || c.Bolt != 1 || c.Letter != "A" || c.Setting != s.Setting {
		t.Errorf("next is %#v", w.Next(at))
	}
}

// Whatever the counts: a station's tools are those of its slots, what is off is
// the rest, and each pass does each bolt once.
func TestTeamsTakeEveryBolt(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		tools := rapid.SampledFrom([]int{1, 2, 4}).Draw(r, "tools")
		plan := teamPlan(r, tools, rapid.IntRange(3, 40).Draw(r, "bolts"), 1, 2, 0)
		w, at := stage(t, plan, is[Tighten])
		times := map[Bolt]int{}
		for {
			s, ok := w.Next(at).(Tighten)
			if !ok {
				break
			}
			off := strings.ReplaceAll(s.Off, ", ", "")
			for i, turn := range s.Turns {
				if turn.Bolt != s.Bolts[i] || turn.Slot != plan.SlotOf(turn.Bolt) || turn.Tool.ID != plan.Tools[turn.Slot].ID ||
					turn.Setting != plan.Passes[0].Settings[turn.Slot] || tools > 1 && len(plan.Tools) > 1 && turn.Letter != Letter(turn.Slot) {
					r.Fatalf("station %v: %+v", s.Bolts, turn)
				}
				if strings.Contains(off, Letter(turn.Slot)) {
					r.Fatalf("station %v: a tool that works is off: %q", s.Bolts, s.Off)
				}
				times[turn.Bolt]++
			}
			if len(off)+len(s.Turns) != len(plan.Tools) {
				r.Fatalf("station %v of %d tools, off %q", s.Bolts, len(plan.Tools), s.Off)
			}
			w = do(t, w, at, BoltDone{Pass: 1, Bolts: s.Bolts})
		}
		for b := Bolt(1); int(b) <= plan.Bolts; b++ {
			if times[b] != 1 {
				r.Fatalf("bolt %d is done %d times", b, times[b])
			}
		}
	})
}

// With too few bolts fewer tools are used; what does not divide is said.
func TestToolsRemainder(t *testing.T) {
	for _, c := range []struct {
		tools, bolts, used int
		text               string
	}{
		{1, 9, 1, ""}, {2, 8, 2, ""}, {4, 8, 4, ""},
		{2, 9, 2, "9 bolts cannot be shared by 2 tools: the last ones, 5, are done with fewer"},
		{4, 11, 4, "11 bolts cannot be shared by 4 tools: the last ones, 3+9 6, are done with fewer"},
		{4, 6, 2, "6 bolts are too few for 4 tools at once: the number used is 2"},
		{2, 3, 1, "3 bolts are too few for 2 tools at once: the number used is 1"},
	} {
		j := joint.Joint{Bolts: c.bolts, Tools: make([]joint.Tool, c.tools)}
		plan, found := NewPlan(j, About{}, Conditions{}, Procedure{Pattern: Circle, ToolsAtOnce: c.tools, Passes: []unit.Share{1}}, unit.SI, joint.Date{})
		got := ""
		for _, f := range found {
			if f.Code == "tools-remainder" {
				got += f.Text
			}
		}
		if got != c.text || len(plan.Tools) != c.used {
			t.Errorf("%d tools on %d bolts: %d are used, %q", c.tools, c.bolts, len(plan.Tools), got)
		}
	}
}

// What does not depend on the tool is said once, what does names it.
func TestLimitFindingsOfEachTool(t *testing.T) {
	plan := teamPlan(t, 2, 4, 1, 2, 0)
	tools := slices.Clone(plan.Tools)
	tools[1].ReactionArm = 0.001
	settings := slices.Clone(plan.Passes[0].Settings)
	settings[1].Foot = 300e3
	thread, _ := joint.ParseThread("M20")
	j := joint.Joint{Bolts: 4, Thread: thread, Friction: joint.Friction{NutFactor: 0.5}, Target: joint.Target{Kind: joint.ByTorque, Torque: 300}, Tools: tools}
	times := map[string]int{}
	for _, f := range lastFindings(j, tools, settings, unit.SI) {
		times[f.Code]++
		if f.Code == "foot-force" && (f.Key != "tools.1.reaction_arm" || !strings.HasPrefix(f.Text, "tool B W2: ")) {
			t.Errorf("the foot force is said as %+v", f)
		}
	}
	if times["nut-factor"] != 1 || times["no-yield"] != 1 || times["foot-force"] != 1 {
		t.Errorf("findings: %v", times)
	}
}

// The gate names every tool and asks for several tools only where there are.
func TestGateOfSeveralTools(t *testing.T) {
	text := func(p *Plan, id string) string {
		for _, q := range p.Questions {
			if q.ID == id {
				return q.Text
			}
		}
		return ""
	}
	one, four := testPlan(t, 8, 1, 2, 0), teamPlan(t, 4, 8, 1, 2, 0)
	if text(one, "21") != "" || text(four, "21") == "" {
		t.Errorf("the question for several tools: %q and %q", text(one, "21"), text(four, "21"))
	}
	for slot, tool := range four.Tools {
		want := fmt.Sprintf("%s %s with %s", Letter(slot), tool.ID, tool.Gauge.ID)
		if !strings.Contains(text(four, "12"), want) || !strings.Contains(text(four, "h3"), want) {
			t.Errorf("%q is not in %q and %q", want, text(four, "12"), text(four, "h3"))
		}
	}
}

// Plans written by hand: a station for more tools than there are, or none.
func TestStationsOfNoTools(t *testing.T) {
	for name, stations := range map[string][]Station{"three for two": {{1, 2, 3}, {4}}, "an empty one": {{1, 3}, {2, 4}, {}}} {
		plan := *teamPlan(t, 2, 4, 1, 2, 0)
		plan.Stations = stations
		if _, err := New(&plan); err == nil {
			t.Errorf("%s: walked", name)
		}
	}
	plan := *teamPlan(t, 4, 8, 1, 2, 0)
	plan.Tools = append(slices.Clone(plan.Tools), plan.Tools[0])
	if _, err := New(&plan); err == nil {
		t.Error("five tools are walked")
	}
}

// What cards of one tool hold is read and written as before.
func TestEventsOfOneToolKeepTheirText(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
	}{
		{"done", `{"pass":2,"bolts":[7]}`},
		{"undone", `{"bolt":7}`},
		{"undone", `{"question":"6"}`},
		{"set", `{"tool":0,"running_Pa":340000}`},
		{"released", `{"of":"pressure","name":"E","role":"engineer","reason":"seen"}`},
		{"released", `{"of":"bolt","bolt":7,"name":"E","role":"engineer","reason":"seen"}`},
	} {
		d, err := DecodeData(c.kind, []byte(c.text))
		if err != nil {
			t.Fatal(err)
		}
		if again, err := json.Marshal(d); err != nil || string(again) != c.text {
			t.Errorf("%s: %s is written as %s (%v)", c.kind, c.text, again, err)
		}
	}
}

// What was marked together is taken back together: the Key tells it from the
// same bolts marked one after the other.
func TestKeyTellsStationsApart(t *testing.T) {
	start, at := stage(t, teamPlan(t, 2, 4, 1, 2, 0), is[Tighten])
	together := do(t, start, at, BoltDone{Pass: 1, Bolts: []Bolt{1, 3}})
	apart := do(t, start, at, ProblemFound{Bolt: 3, Reason: "seized"}, BoltDone{Pass: 1, Bolts: []Bolt{1}}, Undone{Bolt: 3}, BoltDone{Pass: 1, Bolts: []Bolt{3}})
	a, _ := together.Undoable()
	b, _ := apart.Undoable()
	if a.Words() != "bolts 1, 3" || b.Words() != "bolt 3" || together.Key() == apart.Key() {
		t.Errorf("taken back are %s and %s, the keys are the same: %v", a.Words(), b.Words(), together.Key() == apart.Key())
	}
}
