package sequence

import (
	"slices"
	"strings"
	"testing"

	"evenload/joint"
)

// change is that of a slot's tool to the spare one.
func (s *site) change(slot int, goOn *Named) ToolChanged {
	s.t.Helper()
	d, err := s.w.At(s.at).ToolChange(slot, s.w.OtherTools()[0], joint.DateOf(s.at))
	if err != nil {
		s.t.Fatal(err)
	}
	d.Reason, d.GoOn = "no air", goOn
	return d
}

// setAll sets every pressure that is asked for, and gives the tools in that order.
func (s *site) setAll() (tools string) {
	s.t.Helper()
	for {
		n, ok := s.w.Next(s.at).(Set)
		if !ok || n.AtEnd {
			return tools
		}
		tools += n.Letter + " " + n.Tool.ID + " "
		s.set()
	}
}

// A nut of tool B seizes in the second pass. The new bolt repeats the first with
// B alone, at B's own setting, and after that every tool is set again.
func TestNewBoltWithItsOwnTool(t *testing.T) {
	plan := teamPlan(t, 2, 4, 2, 2, 0) // 1+3, 2+4
	s := siteAt(t, plan, inPass(2, 0))
	s.do(ProblemFound{Bolt: 3, What: Seized}).refuses(Released{Of: OfProblem, Bolt: 3, Named: eva}, "not now")
	s.do(Released{Of: OfProblem, Bolt: 3, Tool: 1, Named: eva}).wants("release bolt 3").do(Released{Of: OfBolt, Bolt: 3, Named: eva}).wants("pass 2 bolt 1")
	if step := s.w.Next(s.at).(Tighten); len(step.Bolts) != 1 || step.Off != "B" {
		t.Errorf("beside the bolt that is out: %+v", step)
	}
	if words := strings.Join(s.w.OwedWords(), "; "); words != "bolt 3 (tool B) is out: replace stud and nuts, again at 50 %, then 100 % in its turn" {
		t.Errorf("owed: %s", words)
	}
	s.do(Replaced{Bolt: 3, Batch: "N-1"})
	set := s.wants("set 1 bolt 3").w.Next(s.at).(Set)
	if set.Slot != 1 || set.Letter != "B" || set.Setting != plan.Passes[0].Settings[1] || set.Team != nil || set.Caution() != SetCaution {
		t.Errorf("to be set: %+v", set)
	}
	if words := strings.Join(append(set.SetWords(), set.TeamWords()...), " "); !strings.Contains(words, "alone, running free, others off") || !strings.Contains(words, "Bolt 3 is brought up alone with its own tool, B. Air off all others.") {
		t.Errorf("to be set: %s", words)
	}
	s.refuses(PressureSet{Running: plan.Passes[0].Settings[0].Set}, "tool B").refuses(AirChanged{Reason: "hose"}, "tool A W stays off now")
	if words := Help(set); len(words) == 0 || strings.Contains(strings.Join(words, " "), "All run on the same air") {
		t.Errorf("help: %v", words)
	}
	s.set()
	again := s.wants("pass 1 bolt 3").w.Next(s.at).(Tighten)
	if again.Turns[0].Letter != "B" || again.Setting != set.Setting || again.OffWords() != "Tool A stays off, air off." || again.Caution() != TightenHint || again.ThenWords() != "this bolt alone" {
		t.Errorf("again: %+v", again)
	}
	s.do(BoltDone{1, []Bolt{3}}).refuses(Undone{Bolts: []Bolt{1, 3}}, "only it").do(Undone{Bolt: 3})
	s.set().do(BoltDone{1, []Bolt{3}}).wants("set 2 bolt 0")
	if tools := s.setAll(); tools != "A W B W2 " {
		t.Errorf("set for the pass: %s", tools)
	}
	if step := s.w.Next(s.at).(Tighten); !slices.Equal(step.Bolts, []Bolt{1, 3}) || step.Off != "" {
		t.Errorf("the station is whole again: %+v", step)
	}
}

// In a check round, which tool A makes alone, a new bolt of tool B repeats every
// pass with B; the rounds begin again with A. Seized again on the way, the
// pressure of the pass that it repeated counts for nothing more.
func TestNewBoltOfToolBInARound(t *testing.T) {
	plan := teamPlan(t, 2, 4, 2, 2, 0)
	s := siteAt(t, plan, is[Check])
	s.refuses(ProblemFound{Bolt: 1, What: WrongBolt, Tool: 1}, "in order").refuses(ProblemFound{Bolt: 4, What: WrongBolt, Tool: 1}, "one that works now")
	s.do(NutStill{1, 1}, NutStill{1, 2}, ProblemFound{Bolt: 3, What: Broke})
	if r := s.w.Next(s.at).(Release); r.Slot != 0 || r.Letter != "A" {
		t.Errorf("tool A is at the bolt in a round: %+v", r)
	}
	s.do(Released{Of: OfProblem, Bolt: 3, Named: eva}, Replaced{Bolt: 3, Batch: "N"}).set().wants("pass 1 bolt 3")
	if at := s.w.Next(s.at).(Tighten); at.Turns[0].Letter != "B" || at.Tool.ID != "W2" {
		t.Errorf("again: %+v", at)
	}
	s.do(ProblemFound{Bolt: 3, What: Seized})
	if r := s.w.Next(s.at).(Release); r.Slot != 1 {
		t.Errorf("tool B was at the new bolt: %+v", r)
	}
	s.do(Released{Of: OfProblem, Bolt: 3, Tool: 1, Named: eva}).wants("release bolt 3")
	s.do(Replaced{Bolt: 3, Batch: "N"}).set().do(BoltDone{1, []Bolt{3}}).set().do(BoltDone{2, []Bolt{3}})
	if tools := s.setAll(); tools != "A W " {
		t.Errorf("set for the rounds: %s", tools)
	}
	s.wants("round 1 bolt 1")
}

// With one tool too: what it was set to for a new bolt is not what the pass wants.
func TestNewBoltThatSeizesIsSetAgain(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(2, 0))
	s.do(ProblemFound{Bolt: 1, What: Seized}, Released{Of: OfProblem, Bolt: 1, Named: eva}, Replaced{Bolt: 1, Batch: "N"}).set().wants("pass 1 bolt 1")
	s.do(ProblemFound{Bolt: 1, What: Seized}, Released{Of: OfProblem, Bolt: 1, Named: eva}).wants("release bolt 1").do(Released{Of: OfBolt, Bolt: 1, Named: eva}).wants("set 2 bolt 0")
}

// Tool B is changed in the middle of a pass: all are asked for and set again.
func TestChangeOfToolB(t *testing.T) {
	plan := teamPlan(t, 2, 4, 2, 2, 0)
	s := siteAt(t, plan, inPass(2, 2))
	inUse := s.change(1, nil)
	inUse.Tool.Gauge.ID = "G"
	s.refuses(inUse, "gauge G is in use with tool A W")
	inUse = s.change(1, nil)
	inUse.Tool = plan.Tools[0]
	s.refuses(inUse, "tool W is in use beside this one")
	s.do(s.change(1, nil))
	asked := s.yes()
	want := "Are these tools and gauges in use, each with its chart: A W with G, B V with H?"
	if len(asked) != 5 || asked[0].Text != want || asked[1].ID != "21" || !strings.Contains(asked[1].Text, "A and B") {
		t.Errorf("asked again: %v", asked)
	}
	if tools := s.setAll(); tools != "A W B V " {
		t.Errorf("set: %s", tools)
	}
	step := s.wants("pass 2 bolt 1").w.Next(s.at).(Tighten)
	setting, _ := plan.Spare[0].Setting(300, plan.ReadBack)
	if step.Turns[0].Tool.ID != "W" || step.Turns[1].Tool.ID != "V" || step.Turns[1].Setting != setting {
		t.Errorf("the station: %+v", step.Turns)
	}
	if e := strings.Join(s.w.Exceptions(), "; "); e != "tool B V in place of W2 in the pass at 100 %: no air; the pass at 100 % was begun again with the new tool" {
		t.Errorf("exceptions: %s", e)
	}
	goesOn := siteAt(t, plan, inPass(2, 2))
	goesOn.do(goesOn.change(1, &eva))
	goesOn.yes()
	if tools := goesOn.setAll(); tools != "A W B V " {
		t.Errorf("set: %s", tools)
	}
	goesOn.wants("pass 2 bolt 2")
	// The person who takes over is asked for the tool in use.
	if text := s.w.QuestionText("h3"); !strings.Contains(text, "B V with H") {
		t.Errorf("at the handover: %s", text)
	}
}

// Where a tool stays off it cannot be changed, and not between end readings: a
// high one must not be lost.
func TestNoChangeOfAToolThatRests(t *testing.T) {
	plan := teamPlan(t, 2, 4, 1, 2, 0)
	s := siteAt(t, plan, is[Check])
	s.refuses(s.change(1, nil), "tool B W2 stays off now").refuses(AirChanged{Slot: 1, Reason: "x"}, "stays off now")
	s.do(s.change(0, nil))
	s.yes()
	if tools := s.setAll(); tools != "A V " {
		t.Errorf("set: %s", tools)
	}
	end := siteAt(t, plan, endOf(0))
	end.do(PressureSet{AtEnd: true, Running: plan.Passes[0].Settings[0].Most + 0.3e5, Sure: true})
	end.refuses(end.change(0, nil), "not now").refuses(AirChanged{Slot: 1, Reason: "x"}, "not now").refuses(Undone{Bolts: []Bolt{2, 4}}, "nothing of this pass")
}

// What is at risk is what the tool that is meant worked on, by its own chart.
func TestRiskOfToolB(t *testing.T) {
	plan := teamPlan(t, 2, 6, 1, 2, 0) // 1+4, 3+6, 2+5 or so
	s := siteAt(t, plan, inPass(1, 4))
	hand := s.w.Next(s.at).(Tighten)
	ofB := []Bolt{s.w.Last(2)[1][1], s.w.Last(2)[0][1]}
	high := plan.Passes[0].Settings[1].Most + 0.5e5
	torque, _ := plan.Tools[1].Chart.Torque(high)
	s.do(ProblemFound{Bolt: hand.Bolts[1], What: WrongPressure, Read: high})
	r := s.w.Next(s.at).(Release)
	words := strings.Join(s.w.ReleaseWords(r), " ")
	for _, want := range []string{"The gauge of tool B, W2, was found at", "since the pressure of tool B was last good: bolts " + BoltList(ofB) + ".", torque.Text(plan.System)} {
		if r.Slot != 1 || r.Band != plan.Passes[0].Settings[1] || !strings.Contains(words, want) {
			t.Errorf("%q is not said of %+v: %s", want, r, words)
		}
	}
	if got := s.w.Risk(0, high).Bolts; len(got) != 2 || slices.Contains(got, ofB[0]) {
		t.Errorf("at risk by tool A: %v", got)
	}
	s.do(Released{Of: OfProblem, Bolt: hand.Bolts[1], Tool: 1, Named: eva})
	if tools := s.setAll(); tools != "A W B W2 " {
		t.Errorf("set: %s", tools)
	}
	// A wrong bolt is at risk by the tool that was at it, whosever it is.
	other := plan.Stations[2][0]
	if slices.Contains(hand.Bolts, other) {
		other = plan.Stations[1][0]
	}
	open := siteAt(t, plan, inPass(1, 0))
	open.do(ProblemFound{Bolt: other, What: WrongBolt, Tool: 1})
	if a, b := open.w.Risk(0, high).Bolts, open.w.Risk(1, high).Bolts; len(a) != 0 || !slices.Equal(b, []Bolt{other}) {
		t.Errorf("at risk are %v by A, %v by B", a, b)
	}
	open.refuses(ProblemFound{Bolt: hand.Bolts[0], What: Missed, Tool: 1}, "only at a wrong bolt")
}

// A bolt of a station that was done is missed: it comes alone, with its tool,
// and the other one stays.
func TestMissedBoltOfAStation(t *testing.T) {
	s := siteAt(t, teamPlan(t, 2, 4, 2, 2, 0), inPass(1, 2))
	s.do(ProblemFound{Bolt: 3, What: Missed})
	if step := s.w.Next(s.at).(Tighten); !slices.Equal(step.Bolts, []Bolt{3}) || step.Turns[0].Letter != "B" || s.w.MarkOf(1) != MarkDone {
		t.Errorf("next is %+v", step)
	}
	s.do(BoltDone{1, []Bolt{3}}, Undone{Bolt: 3}, Undone{Bolt: 1})
	if step := s.w.Next(s.at).(Tighten); !slices.Equal(step.Bolts, []Bolt{1, 3}) {
		t.Errorf("next is %+v", step)
	}
}
