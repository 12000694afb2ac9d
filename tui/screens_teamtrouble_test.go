package tui

import (
	"strings"
	"testing"

	"evenload/joint"
	"evenload/sequence"
)

// thirdTool gives the job of several tools another one beside.
func thirdTool(p *sequence.Plan) {
	t := p.Tools[1]
	t.ID, t.Certificate, t.Gauge.ID, t.Chart = "W-29", "C-2339", "G-49", nil
	for _, point := range p.Tools[1].Chart {
		t.Chart = append(t.Chart, joint.Point{Pressure: point.Pressure, Torque: point.Torque * 1.1})
	}
	p.Spare = []joint.Tool{t}
}

// addTeamTroubles are the screens of problems, new parts and another tool where
// several work at once. A name says covered where a question lies over the bolts.
func addTeamTroubles(add func(string, func(testing.TB) *trial)) {
	two := func(here func(sequence.Step) bool, more ...sequence.Data) func(testing.TB) *trial {
		return func(t testing.TB) *trial { return team(t, 2, 16, thirdTool).to(here).do(more...).show() }
	}
	add("team-2-covered-list", after(two(station(4)), "p", "b"))
	add("team-2-covered-seized", after(two(station(4)), "p", "b", "3", "enter", "H-441", "enter", "galled"))
	add("team-2-covered-pressure", after(two(station(4)), "p", "b", "9", "4.1"))
	add("team-2-wrong-pressure", two(station(4), sequence.ProblemFound{Bolt: 11, What: sequence.WrongPressure, Read: 4.1e5}))
	seized := []sequence.Data{sequence.ProblemFound{Bolt: 11, What: sequence.Seized, Batch: "H-441"},
		sequence.Released{Of: sequence.OfProblem, Bolt: 11, Tool: 1, Named: engineer}}
	replaced := append(seized[:2:2], sequence.Replaced{Bolt: 11, Batch: "H-460"})
	add("team-2-held", two(station(4), seized[0]))
	add("team-2-out", two(station(4), seized...))
	add("team-2-new-bolt-set", two(station(4), replaced...))
	again := func(t testing.TB) *trial {
		return team(t, 2, 16, thirdTool).to(station(4)).do(replaced...).to(stepOf[sequence.Tighten]).show()
	}
	add("team-2-new-bolt", again)
	add("team-2-covered-new-bolt", after(again, "p"))
	add("team-2-covered-which-tool", after(two(station(4)), "t"))
	add("team-2-covered-tool", after(two(station(4)), "t", "b"))
	add("team-2-covered-tool-again", after(two(station(4)), "t", "b", "1"))
	add("team-2-covered-tool-hose", after(two(station(4)), "t", "a", "h", "10 m instead of 5 m"))
	add("team-2-covered-tool-round", after(func(t testing.TB) *trial { return team(t, 2, 16, thirdTool).to(isCheck).show() }, "t"))
	changed := func(t testing.TB) *trial {
		c := team(t, 2, 16, thirdTool).to(station(4))
		d, err := c.s.Walk.ToolChange(1, c.s.Walk.OtherTools()[0], joint.DateOf(c.now))
		if err != nil {
			t.Fatal(err)
		}
		d.Reason = "no air"
		return c.do(d)
	}
	add("team-2-question-new-tool", func(t testing.TB) *trial { return changed(t).show() })
	add("team-2-set-new-tool", func(t testing.TB) *trial { return changed(t).to(slotAt(1, 2, false)).show() })
	add("team-2-new-tool", func(t testing.TB) *trial { return changed(t).to(station(0)).show() })
	add("team-4-covered-which-tool", after(func(t testing.TB) *trial { return team(t, 4, 18, thirdTool).to(station(8)).show() }, "t"))
	add("team-4-new-bolt", func(t testing.TB) *trial {
		c := team(t, 4, 18, thirdTool).to(station(8))
		b := c.s.Walk.Next(c.now).(sequence.Tighten).Bolts[2]
		return c.do(sequence.ProblemFound{Bolt: b, What: sequence.Seized}, sequence.Released{Of: sequence.OfProblem, Bolt: b, Tool: 2, Named: engineer},
			sequence.Replaced{Bolt: b, Batch: "H-460"}).to(stepOf[sequence.Tighten]).show()
	})
}

// TestTeamTroublesByKeys: the keys go to the tool that is chosen, esc leads back
// over the question which one it is.
func TestTeamTroublesByKeys(t *testing.T) {
	c := reach(t, "team-2-covered-pressure")
	if c.press("enter", "enter"); c.written() != "problem" {
		t.Fatalf("wrote %q (%s)", c.written(), c.root.notice)
	}
	if r := c.root.step.(sequence.Release); r.Of != sequence.OfProblem || r.Slot != 1 || r.Bolt != 11 {
		t.Errorf("held by %+v", r)
	}
	c = reach(t, "team-2-covered-list")
	c.press("8", "7", "enter")
	if c.press("enter"); c.written() != "problem" || c.s.Walk.MarkOf(7) != sequence.MarkDone {
		t.Fatalf("wrote %q (%s)", c.written(), c.root.notice)
	}
	if a, b := c.s.Walk.Risk(0, 5e5).Bolts, c.s.Walk.Risk(1, 5e5).Bolts; len(a) != 2 || len(b) != 3 || b[2] != 7 {
		t.Errorf("at risk by A %v, by B %v", a, b)
	}
	c = reach(t, "team-2-covered-tool")
	if c.press("esc"); !strings.Contains(c.root.View(), "Which tool is it about?") {
		t.Errorf("esc leads to\n%s", c.root.View())
	}
	c.press("b", "1", "1")
	c.write("no air")
	if c.press("enter"); c.written() != "tool_changed" || c.s.Walk.Tools()[1].ID != "W-29" || c.s.Walk.Tools()[0].ID != "W-21" {
		t.Errorf("wrote %q, tools %v (%s)", c.written(), c.s.Walk.Tools(), c.root.notice)
	}
	c = reach(t, "team-2-covered-tool-round") // tool A is alone in a round: nothing to choose
	c.press("h")
	c.write("hose")
	if c.press("enter"); c.written() != "air_changed" {
		t.Errorf("wrote %q (%s)", c.written(), c.root.notice)
	}
}
