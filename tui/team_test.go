package tui

import (
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/tui/draw"
)

// The job with two tools at once.
const booster = "../testdata/jobs/booster-dn300-pn25.toml"

// team begins the booster's job with two or four tools on some bolts.
func team(t testing.TB, tools, bolts int, changes ...func(*sequence.Plan)) *trial {
	t.Helper()
	j, err := job.Load(booster)
	if err != nil {
		t.Fatal(err)
	}
	for slot := len(j.Joint.Tools); slot < tools; slot++ {
		tool := j.Joint.Tools[slot%2]
		tool.ID, tool.Gauge.ID = fmt.Sprintf("W-2%d", slot+1), fmt.Sprintf("G-4%d", slot+1)
		j.Joint.Tools = append(j.Joint.Tools, tool)
	}
	j.Joint.Bolts, j.Procedure.ToolsAtOnce = bolts, tools
	return startJob(t, j, changes...)
}

// slotAt is the setting of a tool, or its end reading, in a pass.
func slotAt(slot, pass int, atEnd bool) func(sequence.Step) bool {
	return func(s sequence.Step) bool {
		set, ok := s.(sequence.Set)
		return ok && set.Slot == slot && set.Pass == pass && set.AtEnd == atEnd && set.Round == 0
	}
}

// station is a step with so many bolts done in the second pass.
func station(done int) func(sequence.Step) bool {
	return func(s sequence.Step) bool { t, ok := s.(sequence.Tighten); return ok && t.Pass == 2 && t.Done == done }
}

func inRound(s sequence.Step) bool { set, ok := s.(sequence.Set); return ok && set.Round == 1 }

// high is an end reading above its band, looked at twice.
func high(slot int) func(*trial) *trial {
	return func(c *trial) *trial {
		s := c.s.Walk.Next(c.now).(sequence.Set)
		return c.do(sequence.PressureSet{AtEnd: true, Tool: slot, Running: s.Set + unit.Pressure(0.4*unit.Bar), Sure: true})
	}
}

func addTeam(add func(string, func(testing.TB) *trial)) {
	two := func(here func(sequence.Step) bool, more ...sequence.Data) func(testing.TB) *trial {
		return func(t testing.TB) *trial { return team(t, 2, 16).to(here).do(more...).show() }
	}
	add("team-2-sets", two(question("12")))
	add("team-2-gate", two(question("21")))
	add("team-2-set", after(two(slotAt(0, 2, false)), "3.5"))
	add("team-2-set-b", two(slotAt(1, 2, false)))
	add("team-2-set-at-rest", func(t testing.TB) *trial {
		c := team(t, 2, 16)
		c.s.Walk.Plan().Tools[1].Reading = joint.Static
		return c.to(slotAt(1, 2, false)).show()
	})
	add("team-2-end", two(slotAt(1, 2, true)))
	add("team-2-first", two(station(0)))
	add("team-2-middle", two(station(8)))
	add("team-2-last", two(station(14)))
	add("team-2-smaller", two(station(4), noBolt(3)))
	add("team-2-problem", after(two(station(4)), "p"))
	add("team-2-undone", after(two(station(4)), "u"))
	add("team-2-resume", two(station(8), sequence.Suspended{}, sequence.SignedOn{Name: "Ann Berg"}))
	add("team-2-release", func(t testing.TB) *trial { return high(1)(team(t, 2, 16).to(slotAt(1, 2, true))).show() })
	add("team-2-check-set", two(inRound))
	add("team-2-check", func(t testing.TB) *trial { return moved(team(t, 2, 16).to(isCheck), 1, 3, 4).show() })
	add("team-2-crowded", func(t testing.TB) *trial { return team(t, 2, 200).to(station(100)).show() })
	add("team-4-set", func(t testing.TB) *trial { return team(t, 4, 18).to(slotAt(3, 2, false)).show() })
	add("team-4-middle", func(t testing.TB) *trial { return team(t, 4, 18).to(station(8)).show() })
	add("team-4-fewer", func(t testing.TB) *trial { return team(t, 4, 18).to(station(16)).show() })
	add("team-4-problem", after(func(t testing.TB) *trial { return team(t, 4, 18).to(station(8)).show() }, "p"))
}

// TestSmallWindowKeepsEveryTool: in every window that takes keys, each tool's
// letter is there with its bolt and its pressure, and the key.
func TestSmallWindowKeepsEveryTool(t *testing.T) {
	tried := 0
	for _, s := range screens() {
		if !strings.HasPrefix(s.name, "team-") {
			continue
		}
		c := s.reach(t)
		step, ok := c.root.step.(sequence.Tighten)
		if !ok || c.root.help || strings.HasSuffix(s.name, "problem") || strings.Contains(s.name, "covered") {
			continue
		}
		tried++
		c.root.opt.Theme = theme(t, "mono", true, false)
		for width := 40; width <= 84; width++ {
			for height := 10; height <= 24; height++ {
				c.send(tea.WindowSizeMsg{Width: width, Height: height})
				frame := strings.ReplaceAll(c.root.View(), "\n", " \n")
				for _, turn := range step.Turns {
					pressure := turn.Tool.Gauged(turn.Setting.Set)
					small := strings.Contains(frame, fmt.Sprintf("%s %d ", turn.Letter, turn.Bolt))
					large := strings.Contains(frame, turn.Letter+"  "+pressure+" running") && strings.Contains(frame, draw.Big(fmt.Sprint(turn.Bolt))[2])
					if !small && !large || !strings.Contains(frame, pressure) || !strings.Contains(frame, "SPACE ") {
						t.Fatalf("%s at %dx%d: no tool %s, bolt %d, or no key\n%s", s.name, width, height, turn.Letter, turn.Bolt, frame)
					}
				}
			}
		}
	}
	if tried < 8 {
		t.Errorf("only %d stations were tried", tried)
	}
}

// TestStationByKeys: one key confirms a station, one takes it back, and what is
// wrong is asked of one of its bolts.
func TestStationByKeys(t *testing.T) {
	c := reach(t, "team-4-middle")
	bolts := c.root.step.(sequence.Tighten).Bolts
	c.press(" ")
	for _, b := range bolts {
		if c.s.Walk.MarkOf(b) != sequence.MarkDone {
			t.Errorf("bolt %d is not done", b)
		}
	}
	if c.press("u"); c.written() != "undone" || c.root.step.(sequence.Tighten).Done != 8 {
		t.Errorf("u wrote %q, next is %+v", c.written(), c.root.step)
	}
	c.press("p", "c", "1", "1")
	c.write("it binds")
	c.press("enter")
	next := c.root.step.(sequence.Tighten)
	if c.s.Walk.MarkOf(bolts[2]) != sequence.MarkLeft || len(next.Bolts) != 3 || next.Off != "C" {
		t.Errorf("after a problem at C: %+v", next)
	}
	// p again, over the question which bolt, is a hazard at the joint.
	c.press("p", "p", "8")
	c.write("steam")
	if c.press("enter"); !stepOf[sequence.Stop](c.root.step) {
		t.Errorf("after a hazard next is %+v", c.root.step)
	}
	// Released is the tool that was high, and no other.
	c = reach(t, "team-2-release")
	c.press("r")
	for _, text := range typed {
		if text == "enter" {
			c.press(text)
		} else {
			c.write(text)
		}
	}
	if c.press("enter"); c.written() != "released" || !stepOf[sequence.GapCheck](c.root.step) {
		t.Errorf("wrote %q, next is %+v (%s)", c.written(), c.root.step, c.root.notice)
	}
}
