package plain

import (
	"slices"
	"strings"
	"testing"

	"evenload/data/card"
	"evenload/data/report"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// boosterSpare is the job of two tools with a third one beside.
func boosterSpare(t *testing.T) sequence.CardOpened {
	o := booster(t)
	spare := o.Plan.Tools[1]
	spare.ID, spare.Certificate, spare.Gauge.ID, spare.Chart = "W-23", "C-2333", "G-43", nil
	for _, p := range o.Plan.Tools[1].Chart {
		spare.Chart = append(spare.Chart, joint.Point{Pressure: p.Pressure, Torque: p.Torque * 1.1})
	}
	o.Plan.Spare = []joint.Tool{spare}
	return o
}

// TestTeamWithTroubles: a nut of tool B seizes in the second pass, its bolt gets
// new parts and is brought up with B alone; then B is changed and the pass begins
// again; at its end the new B reads high. The record of the closed card names the
// tool that was at each bolt, and each reading's.
func TestTeamWithTroubles(t *testing.T) {
	o := boosterSpare(t)
	begun, err := sequence.New(&o.Plan)
	if err != nil {
		t.Fatal(err)
	}
	change, err := begun.ToolChange(1, o.Plan.Spare[0], joint.DateOf(morning))
	if err != nil {
		t.Fatal(err)
	}
	gauge := func(p unit.Pressure) string { return p.Reading(change.Tool.Gauge.Unit, change.Tool.Gauge.Division) }
	second, third := gauge(change.Settings[1].Set), gauge(change.Settings[2].Set)
	tooHigh := gauge(change.Settings[1].Most + 0.4*unit.Bar)
	eight, yes := slices.Repeat([]string{"d"}, 8), slices.Repeat([]string{"yes"}, 5)
	gaps := slices.Repeat([]string{"1.2"}, 8)
	lines := slices.Concat(teamToSet, teamSet, eight, []string{"2.0", "1.9"}, gapsTeam,
		[]string{"3.5", "", "3.2", "", "d", "p", "b", "3", "", "H-441", "galled", "r"}, eva,
		[]string{"r"}, eva, []string{"p", "x", "H-460", "1.9", "", "d", "3.5", "", "3.2", "", "d", "d", "t", "x", "t", "b", "1", "1", "loses air"}, yes,
		[]string{"3.5", "", second, ""}, eight, []string{"3.5", tooHigh, "y", "r"}, eva, gapsTeam,
		[]string{"5.5", "", third, ""}, eight, []string{"5.5", third}, gapsTeam,
		[]string{"5.5", "", "m"}, slices.Repeat([]string{"s"}, 15), []string{"t", "h", "longer hose"}, yes[:4], []string{"5.5", ""}, slices.Repeat([]string{"s"}, 16),
		[]string{"5.5", "w"}, eva, gaps, []string{"yes", "yes", "yes", "Wim", "inspector"})
	w := walk(t, t.TempDir(), o, lines...)
	w.says(t, "Which bolt, a bolt 5, b bolt 13: b", "what is wrong at bolt 13", "HELD: Bolt 13: seized or galled, galled.", "TOOL A W-21: bolt 5", "OFF: Tool B stays off", "OWED: bolt 13 (tool B) is out",
		"STEP: SET B   BOLT 13 AGAIN   30 %", "Bolt 13 is brought up alone with its own tool, B. Air off all others.", "Turn tool B UP to 1.9 bar alone, running free, others off",
		"CAUTION: "+sequence.TightenHint, "OFF: Tool A stays off, air off.\n", "BOLTS B 13, this bolt alone", "STEP: SET A   PASS 2 of 3", "STEP: SET B   PASS 2 of 3", "BOLTS A 5   B 13",
		"Which tool, a W-21, b W-22: x", "NOT TAKEN: Which tool", "Which tool, a W-21, b W-22: b", "TOOL B IN USE: W-22", "1: W-23", sequence.TeamAsked, "1: "+sequence.TeamRepeat, "RECORDED: tool_changed",
		"A W-21 with G-41, B W-23 with G-43?", "STEP: SET A", "AGAIN: Again: a tool was changed", "STEP: SET B", "TOOL B W-23, gauge G-43", "BOLTS A 1   B 9",
		"HELD: The gauge of tool B, W-23, read "+tooHigh, "HELD: At risk, since the pressure of tool B was last good: bolts 9, 13, ", "RECORDED: released",
		"TOOL A IN USE: W-21", sequence.TeamAir, "RECORDED: air_changed", "CLOSED: ")
	if text, ok := report.Verify(w.Path()); !ok || !strings.Contains(text, ": closed, ") {
		t.Fatal(text)
	}
	read, err := card.Read(w.Path())
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if err := report.Record(&out, read); err != nil {
		t.Fatal(err)
	}
	record := unsealed(read, out.String())
	hold(t, "record-team.txt", record)
	// Bolt by bolt, whatever the golden text says: B is W-22 before the change
	// and W-23 after it, a nut in a round has A.
	tool := map[bool]string{false: "W-22", true: "W-23"}
	changed, done := false, 0
	_, rows, _ := strings.Cut(record, "\nAS DONE")
	lined := strings.Split(rows, "\n")[1:]
	for i, e := range read.Entries {
		row := lined[i]
		switch d := e.Event.Data.(type) {
		case sequence.ToolChanged:
			changed = true
		case sequence.BoltDone:
			for _, b := range d.Bolts {
				want := " with tool A W-21"
				if o.Plan.SlotOf(b) == 1 {
					want = " with tool B " + tool[changed]
				}
				if done++; !strings.Contains(row, "bolt "+sequence.BoltList([]sequence.Bolt{b})+want) {
					t.Errorf("bolt %d: %s", b, row)
				}
			}
		case sequence.PressureSet:
			want := " with tool A W-21 "
			if d.Tool == 1 {
				want = " with tool B " + tool[changed] + " "
			}
			if !strings.Contains(row, want) {
				t.Errorf("tool %d: %s", d.Tool, row)
			}
		case sequence.NutStill, sequence.NutMoved:
			if !strings.HasSuffix(strings.TrimSpace(row), " with tool A W-21") {
				t.Errorf("in a round: %s", row)
			}
		}
	}
	if !changed || done != 16+1+6+16+16 {
		t.Errorf("tool changed %v, %d bolts done", changed, done)
	}
}
