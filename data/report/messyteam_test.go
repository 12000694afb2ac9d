package report

import (
	"strings"
	"testing"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// messyTeam is a walk of two tools with its alignment and studs measured and a
// leak test, in which most goes wrong: out of line, a tool and a hose changed, a
// handover, a seized nut, a high pressure, a leak seen, studs outside their band,
// and a leak at the test.
func messyTeam(t *testing.T, seen func(sequence.Event, sequence.Walk)) (*crew, sequence.CardOpened) {
	j := load(t, "../../testdata/walk/drain-4.toml")
	second, third := j.Joint.Tools[0], j.Joint.Tools[0]
	second.ID, second.Gauge.ID = "W-02", "G-06"
	third.ID, third.Gauge.ID = "W-03", "G-07"
	j.Joint.Tools = append(j.Joint.Tools, second, third)
	limits := sequence.UsualAlignment
	j.Procedure.ToolsAtOnce, j.Procedure.Alignment, j.Procedure.LeakTest = 2, &limits, true
	j.Procedure.StudGive, j.Procedure.StretchReading = unit.Compliance(joint.Elongation(j.Joint.Thread, 1, 0.3, 0.013, 205e9)), 0.01e-3
	o := opened(t)
	var findings []joint.Finding
	if o.Plan, findings = j.Plan(day); joint.Failed(findings) {
		t.Fatal(findings)
	}
	c := begin(t, o)
	c.seen = seen
	ask := func(s sequence.Step) bool { a, ok := s.(sequence.Ask); return ok && a.Question.ID == "9" }
	station := func(pass, done int) func(sequence.Step) bool {
		return func(s sequence.Step) bool {
			t, ok := s.(sequence.Tighten)
			return ok && t.Pass == pass && t.Done == done && t.Redo == 0
		}
	}
	bolts := func() []sequence.Bolt { return c.s.Walk.Next(c.at).(sequence.Tighten).Bolts }
	c.until(ask)
	c.do(c.s.Walk.Aligned(c.s.Walk.Next(c.at).(sequence.Ask).Question, sequence.Alignment{Offset: 0.002}), sequence.Released{Of: sequence.OfQuestion, Question: "9", Named: engineer})
	c.until(station(1, 0))
	first := bolts()
	c.do(sequence.ProblemFound{Bolt: first[1], What: sequence.NoStall, Reason: "hose kinked", Now: true}, sequence.BoltDone{Pass: 1, Bolts: first}, sequence.Undone{Bolts: first},
		sequence.AirChanged{Slot: 0, Reason: "longer hose"})
	c.until(station(1, 2))
	c.do(sequence.HandedOver{State: "both tools hang, air off"})
	c.name = "Cy"
	c.until(station(2, 2))
	d, err := c.s.Walk.ToolChange(1, third, joint.DateOf(c.at))
	if err != nil {
		t.Fatal(err)
	}
	d.Reason = "loses air"
	c.do(d)
	c.until(station(2, 0))
	out := bolts()[1]
	c.do(sequence.ProblemFound{Bolt: out, What: sequence.Seized, Batch: "H-441"}, sequence.Released{Of: sequence.OfProblem, Bolt: out, Tool: 1, Named: engineer}, sequence.Replaced{Bolt: out, Batch: "H-460"})
	c.until(func(s sequence.Step) bool {
		set, ok := s.(sequence.Set)
		return ok && set.AtEnd && set.Slot == 1 && set.Pass == 2
	})
	c.do(sequence.PressureSet{AtEnd: true, Tool: 1, Running: c.s.Walk.Next(c.at).(sequence.Set).Most + 0.3e5, Sure: true}, sequence.Released{Of: sequence.OfPressure, Tool: 1, Named: engineer})
	c.until(func(s sequence.Step) bool { _, ok := s.(sequence.Check); return ok })
	c.do(sequence.NutMoved{Round: 1, Bolt: 1}, sequence.ProblemFound{What: sequence.Leaking, Reason: "water at bolt 2"})
	c.until(func(s sequence.Step) bool { st, ok := s.(sequence.Stretch); return ok && st.Bolt == 3 })
	low := c.s.Walk.Next(c.at).(sequence.Stretch).Expected / 3
	c.do(c.s.Walk.StretchOf(3, low), sequence.Undone{Bolt: 3}, c.s.Walk.StretchOf(3, low))
	c.until(func(s sequence.Step) bool { _, ok := s.(sequence.LeakTest); return ok })
	c.do(sequence.LeakTested{Result: sequence.Leaked, Bolts: []sequence.Bolt{2, 3}, Note: "drips"})
	c.toTheEnd()
	return c, o
}

// TestRecordOfMessyTeam: what was measured, judged and decided stands in the record.
func TestRecordOfMessyTeam(t *testing.T) {
	c, _ := messyTeam(t, nil)
	text := strings.Join(strings.Fields(recordOf(t, c.close())), " ")
	for _, want := range []string{"LEAKED at its leak test", "Centre offset 2 mm, at most 1.5 mm: BEYOND", "handed over; on the flange: both tools hang, air off",
		"loses air", "has new parts, batch H-460", "WORK STOPPED: the joint leaks, water at bolt 2", "permit P-2", "bolt 3 stretched", ": OUTSIDE the band",
		"released, studs whose load by stretch is outside the band, by Eva", "leak test: leaked, beside bolt 2, 3, drips"} {
		if !strings.Contains(text, want) {
			t.Errorf("the record does not say %q:\n%s", want, text)
		}
	}
}
