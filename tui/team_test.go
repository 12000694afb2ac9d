package tui

import (
	"fmt"
	"testing"

	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// The job with two tools at once.
const booster = "../testdata/jobs/booster-dn300-pn25.toml"

// team begins the booster's job with two or four tools on some bolts.
func team(t testing.TB, tools, bolts int) *trial {
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
	return startJob(t, j)
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
