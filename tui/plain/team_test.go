package plain

import (
	"reflect"
	"slices"
	"testing"

	"evenload/data/job"
	"evenload/joint"
	"evenload/sequence"
)

// booster freezes the job of two tools.
func booster(t *testing.T) sequence.CardOpened {
	t.Helper()
	j, err := job.Load("../../testdata/jobs/booster-dn300-pn25.toml")
	if err != nil {
		t.Fatal(err)
	}
	plan, _ := j.Plan(joint.DateOf(morning))
	return sequence.CardOpened{Format: 1, Program: "evenload test", JobFile: "booster-dn300-pn25.toml", Plan: plan}
}

var (
	teamToSet = slices.Concat([]string{"Ann", "Bo", "2-D"}, slices.Repeat([]string{"yes"}, 18), []string{"done"}, slices.Repeat([]string{"1.2"}, 8))
	teamSet   = []string{"2.0", "", "1.9", ""}
	gapsTeam  = []string{"1.2", "1", "1.2", "9"}
	toRound   = slices.Concat(teamToSet, teamSet, slices.Repeat([]string{"d"}, 8), []string{"2.0", "1.9"}, gapsTeam,
		[]string{"3.5", "", "3.2", ""}, slices.Repeat([]string{"d"}, 8), []string{"3.5", "3.2"}, gapsTeam,
		[]string{"5.5", "", "5.1", ""}, slices.Repeat([]string{"d"}, 8), []string{"5.5", "5.1"}, gapsTeam)
)

// TestTeamOnLines: who sets what, which tool takes which bolt, one answer for a
// station, what is wrong for one bolt of it.
func TestTeamOnLines(t *testing.T) {
	w := walk(t, t.TempDir(), booster(t), slices.Concat(teamToSet, teamSet, []string{"d", "u", "d", "p", "x", "p", "b", "1", "1", "it binds", "d"})...)
	w.says(t, "Are these tools and gauges in use, each with its chart: A W-21 with G-41, B W-22 with G-42?", "Has each tool, A and B, its own chart and setting, its own regulator?",
		"STEP: SET A   PASS 1 of 3   30 %", "CAUTION: "+sequence.TeamSetCaution, "TOOL A W-21, gauge G-41", "all together   A 2.0 bar   B 1.9 bar", sequence.TeamSetWord,
		"Turn tool A UP to 2.0 bar with ALL tools running free", "STEP: SET B   PASS 1 of 3   30 %", "Turn tool B UP to 1.9 bar with ALL tools running free",
		"CAUTION: "+sequence.TeamHint, "CAUTION: "+sequence.TeamArms, "TOOL A W-21: bolt 1, gauge 2.0 bar running, torque 175 N·m", "TOOL B W-22: bolt 9, gauge 1.9 bar running",
		"BOLTS A 1   B 9, then 5+13, then 3+11; 0 of 16 done", "d all done, u undo, p problem, h hand over, t tool, n note: d", "RECORDED: done", "RECORDED: undone", "BOLTS A 1   B 9", "RECORDED: done",
		"BOLTS A 5   B 13", "Which bolt, a bolt 5, b bolt 13: x", "NOT TAKEN", "Which bolt, a bolt 5, b bolt 13: b", "1 leave it, to be done or released before the end", "RECORDED: problem",
		"OFF: Tool B stays off, air off.", "BOLTS A 5, then 3+11")
	all := w.events(t)
	want := []sequence.Data{sequence.BoltDone{Pass: 1, Bolts: []sequence.Bolt{1, 9}}, sequence.Undone{Bolts: []sequence.Bolt{1, 9}}, sequence.BoltDone{Pass: 1, Bolts: []sequence.Bolt{1, 9}},
		sequence.ProblemFound{Bolt: 13, What: sequence.NoStall, Reason: "it binds"}, sequence.BoltDone{Pass: 1, Bolts: []sequence.Bolt{5}}, sequence.Suspended{}}
	if got := all[len(all)-len(want):]; !reflect.DeepEqual(got, want) {
		t.Errorf("on the card: %+v", got)
	}
}

// TestTeamsEndAndRounds: each tool is read at the end, one that was high is
// released by its name, and the first goes round alone.
func TestTeamsEndAndRounds(t *testing.T) {
	end := slices.Concat(teamToSet, teamSet, slices.Repeat([]string{"d"}, 8), []string{"2.0", "2.4", "y", "n", "B sagged", "r"}, eva)
	w := walk(t, t.TempDir(), booster(t), end...)
	w.says(t, "READ AGAIN A", "(u takes back bolts 8, 16): 2.0", "Read the gauge of tool B again with ALL tools running free", "LOOK AGAIN: ",
		"HELD: The gauge of tool B, W-22, read 2.4 bar", "At risk, since the pressure of tool B was last good: bolts 9, 13, 11, 15, 10, 14, 12, 16.", "RECORDED: released", "GAPS   after pass at 30 %")
	w = walk(t, t.TempDir(), booster(t), slices.Concat(toRound, []string{"5.5", "", "s"})...)
	w.says(t, "SET A   CHECK ROUND 1", "CAUTION: "+sequence.SetCaution, "Check rounds go clockwise with one tool, A. Air off all others.",
		"Turn tool A UP to 5.5 bar alone, running free, others off", "TOOL A alone", "BOLT 1, clockwise", "RECORDED: still")
}
