package report

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestEveryReadingHasARow: of any walk each reading of a gauge stands in one row of
// the passes or of the check rounds, under the tool that it was read on, and what came
// to a bolt bears a reading of its own tool.
func TestEveryReadingHasARow(t *testing.T) {
	all, spare := wandered(t)
	other := all[0].Plan.Tools[0] // the same tool with another gauge
	other.Gauge.ID = "G-99"
	spare = append(spare, other)
	rapid.Check(t, func(rt *rapid.T) {
		o := rapid.SampledFrom(all).Draw(rt, "joint")
		d, err := DoneOf(wander(rt, o, spare, 160), nil)
		if err != nil || d.State == Damaged {
			rt.Fatal(err, d.Why)
		}
		passes, rounds := d.Columns()
		for _, r := range d.Reads {
			rows := 0
			for _, c := range slices.Concat(passes, rounds) {
				if !c.Read(r) {
					continue
				}
				if c.Round > 0 {
					rows++
					continue
				}
				for _, u := range d.uses(c, r.Slot, set{d.Plan.Tools[r.Slot], r.Setting}) {
					if sameTool(u.tool, r.Tool) {
						rows++
					}
				}
			}
			if rows != 1 {
				rt.Fatalf("line %d, %+v, stands in %d rows", r.Line, r.Place, rows)
			}
		}
		for _, turn := range d.Turns {
			if turn.Line == 0 || turn.Read == 0 {
				continue
			}
			// Bolts that were tightened go by the last reading of their tool; what else
			// came to a bolt by one of its tool.
			var before []PressureRead
			for _, r := range d.Reads {
				if r.Line < turn.Line && r.Slot == turn.Slot && !r.AtEnd && sameTool(r.Tool, turn.Tool) {
					before = append(before, r)
				}
			}
			if n := len(before); n > 0 && slices.Contains([]string{ResultDone, ResultStill, ResultMoved}, turn.Result) {
				before = before[n-1:]
				if p := before[0].Place; p.RoundSet != turn.RoundSet || p.Round == 0 && p.Pass != turn.Pass {
					rt.Fatalf("line %d, bolt %d of %+v: the reading is of %+v", turn.Line, turn.Bolt, turn.Place, p)
				}
			}
			if !slices.ContainsFunc(before, func(r PressureRead) bool { return r.Gasket == turn.Gasket && r.Counts() == turn.Read }) {
				rt.Fatalf("line %d, bolt %d, %s: %v is no reading of %s %s", turn.Line, turn.Bolt, turn.Result, turn.Read, turn.Letter, turn.Tool.ID)
			}
		}
	})
}
