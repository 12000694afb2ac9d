package sequence

import (
	"strings"
	"testing"

	"evenload/joint"
)

// spare is the change to the other tool of the test plan.
func (s *site) spare(change func(*ToolChanged)) ToolChanged {
	s.t.Helper()
	d, err := s.w.ToolChange(0, s.w.OtherTools()[0], joint.DateOf(s.at))
	if err != nil {
		s.t.Fatal(err)
	}
	d.Reason = "no air"
	if change != nil {
		change(&d)
	}
	return d
}

// yes answers what is asked, and gives the questions.
func (s *site) yes() (asked []Question) {
	for {
		a, ok := s.w.Next(s.at).(Ask)
		if !ok {
			return asked
		}
		asked = append(asked, a.Question)
		s.do(Answered{Question: a.Question.ID, Answer: Yes})
	}
}

// Another tool: its own chart, pressure and question, and the pass begins again.
func TestToolChangeBeginsThePassAgain(t *testing.T) {
	plan := testPlan(t, 4, 2, 2, 0)
	s := siteAt(t, plan, inPass(2, 2))
	s.do(s.spare(nil))
	asked := s.yes()
	if len(asked) != 4 || asked[0].ID != "12" || asked[3].ID != "15" || asked[0].Text != "Are tool V, gauge H, and chart one set?" {
		t.Errorf("asked again: %v", asked)
	}
	set := s.wants("set 2 bolt 0").w.Next(s.at).(Set)
	want, _ := plan.Spare[0].Setting(300, plan.ReadBack)
	if set.Tool.ID != "V" || set.Setting != want || !strings.Contains(set.RepeatWord(), "tool was changed") {
		t.Errorf("to be set: %+v, %q", set, set.RepeatWord())
	}
	s.refuses(PressureSet{Running: plan.Passes[1].Settings[0].Set}, "below the band")
	s.set().wants("pass 2 bolt 1")
	if text := s.w.QuestionText("12"); text != asked[0].Text || s.w.QuestionText("x") != "x" {
		t.Errorf("question 12 is %q now", text)
	}
	if other := s.w.OtherTools(); len(other) != 1 || other[0].ID != "W" {
		t.Errorf("other tools: %v", other)
	}
}

func TestToolChangeGoesOnByANamedPerson(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(2, 2))
	s.refuses(s.spare(func(d *ToolChanged) { d.GoOn = &Named{Name: "A", Role: "engineer", Reason: "mine"} }), "other than the operator")
	s.do(s.spare(func(d *ToolChanged) { d.GoOn = &eva }))
	s.yes()
	s.set().wants("pass 2 bolt 2")
	first := siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(2, 0))
	first.refuses(first.spare(func(d *ToolChanged) { d.GoOn = &eva }), "nothing to go on with")
}

func TestToolChangeRefusals(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(2, 2))
	for want, change := range map[string]func(*ToolChanged){
		"say why":                  func(d *ToolChanged) { d.Reason = " " },
		"no tool 2":                func(d *ToolChanged) { d.Slot = 1 },
		"for each pass":            func(d *ToolChanged) { d.Settings = d.Settings[:1] },
		"at 50 % is none":          func(d *ToolChanged) { d.Settings = []joint.Setting{d.Settings[1], d.Settings[1]} },
		"does not follow":          func(d *ToolChanged) { d.Texts = map[string]string{"3": "Is the sun out?"} },
		"not today":                func(d *ToolChanged) { d.On = joint.Date{Year: 2020, Month: 1, Day: 1} },
		"nobody has to":            func(d *ToolChanged) { d.Overdue = &eva },
		"stands alone":             func(d *ToolChanged) { d.Tool.Chart = nil },
		"is in use":                func(d *ToolChanged) { d.Tool = s.w.Tools()[0] },
		"or a named person allows": func(d *ToolChanged) { d.Tool.Due = joint.Date{Year: 2030, Month: 1, Day: 1} },
		"gauge H was due":          func(d *ToolChanged) { d.Tool.Gauge.Due = joint.Date{Year: 2030, Month: 1, Day: 1} },
		"somebody other": func(d *ToolChanged) {
			d.Tool.Due = joint.Date{Year: 2030, Month: 1, Day: 1}
			d.Overdue = &Named{Name: "a", Role: "r", Reason: "x"}
		},
		"name, role and reason are ": func(d *ToolChanged) { d.GoOn = &Named{} },
	} {
		s.refuses(s.spare(change), want)
	}
	s.refuses(AirChanged{}, "say what").refuses(AirChanged{Slot: 3, Reason: "x"}, "no tool 4")
	small := s.w.OtherTools()[0]
	small.Chart = joint.Chart{{Pressure: 1e5, Torque: 10}, {Pressure: 7e5, Torque: 200}}
	if _, err := s.w.ToolChange(0, small, joint.DateOf(s.at)); err == nil || !strings.Contains(err.Error(), "100 %") || !strings.Contains(err.Error(), "above the chart") {
		t.Errorf("a tool too small: %v", err)
	}
	late := s.spare(func(d *ToolChanged) { d.Tool.Due = joint.Date{Year: 2030, Month: 1, Day: 1}; d.Overdue = &eva })
	if s.do(late); !strings.Contains(strings.Join(s.w.Exceptions(), "; "), "out of date, allowed by Eva") {
		t.Errorf("exceptions: %v", s.w.Exceptions())
	}
}

// A check round begins again with another tool, and a new bolt its passes.
func TestToolChangeElsewhere(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), is[Check])
	s.do(NutMoved{1, 1}, s.spare(nil))
	s.yes()
	s.set().wants("round 1 bolt 1")
	s = siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(2, 0))
	s.do(ProblemFound{Bolt: 1, What: Seized}, Released{Of: OfProblem, Bolt: 1, Named: eva}, Replaced{Bolt: 1, Batch: "N"}).set().do(BoltDone{1, []Bolt{1}})
	s.do(Undone{Bolt: 1}).set().do(BoltDone{1, []Bolt{1}})
	s = siteAt(t, testPlan(t, 4, 2, 2, 0), is[Check])
	s.do(ProblemFound{Bolt: 1, What: Seized}, Released{Of: OfProblem, Bolt: 1, Named: eva}, Replaced{Bolt: 1, Batch: "N"}).set().do(BoltDone{1, []Bolt{1}})
	s.do(s.spare(nil))
	s.yes()
	if set := s.wants("set 1 bolt 1").w.Next(s.at).(Set); set.Tool.ID != "V" || set.Torque != 150 {
		t.Errorf("the new bolt begins again with %+v", set)
	}
}

// Hose or regulator: what hangs on them is asked, and the bolts stay.
func TestAirChange(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(2, 2))
	s.do(AirChanged{Reason: "longer hose"})
	if asked := s.yes(); len(asked) != 3 || asked[0].ID != "13" {
		t.Errorf("asked again: %v", asked)
	}
	s.wants("set 2 bolt 0").set().wants("pass 2 bolt 2")
	end := siteAt(t, testPlan(t, 4, 2, 2, 0), atEnd)
	end.do(AirChanged{Reason: "regulator"})
	end.yes()
	end.wants("set 1 bolt 0")
}
