package plain

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"evenload/joint"
	"evenload/sequence"
)

// withSpare gives the job of four bolts a second tool.
func withSpare(t fataler) sequence.CardOpened {
	o := drain(t)
	spare := o.Plan.Tools[0]
	spare.ID, spare.Gauge.ID, spare.Chart = "W-02", "G-06", nil
	for _, p := range o.Plan.Tools[0].Chart {
		spare.Chart = append(spare.Chart, joint.Point{Pressure: p.Pressure, Torque: p.Torque * 1.1})
	}
	o.Plan.Spare = []joint.Tool{spare}
	return o
}

// TestNewPartsInAnyOrder: where two bolts are out, whichever has its parts first is taken in.
func TestNewPartsInAnyOrder(t *testing.T) {
	lines := slices.Concat(toPass1, set1, []string{"p", "3", "", "H-1", "", "p", "3", "", "H-2", "", "r"}, eva, []string{"x", "2", "N-1", "x", "three", "x", "3", "N-2"})
	w := walk(t, t.TempDir(), drain(t), lines...)
	w.says(t, "HELD: Bolt 1 is out already", "RECORDED: released", "x new parts are in: x", "New parts of bolt, of 1, 3: 2", "NOT TAKEN: bolt 2 is not out",
		"New parts of bolt, of 1, 3: three\nNOT TAKEN: ", "New parts of bolt, of 1, 3: 3", "RECORDED: replaced", "x bolt 1: new parts are in")
	if got := w.last(t); got != (sequence.Replaced{Bolt: 3, Batch: "N-2"}) {
		t.Errorf("last on the card: %#v", got)
	}
}

// TestNewParts: a bolt that seized in the second pass, held, replaced and
// brought up.
func TestNewParts(t *testing.T) {
	lines := slices.Concat(toPass2, set2, []string{"d", "p", "3", "", "H-1", "galled", "s", "Ann", "r"}, eva, []string{"x", "", "x", "N-2"},
		set1, []string{"d", "u"}, set1, []string{"p", "1", "hose straight", "d"}, set2, []string{"d"})
	w := walk(t, t.TempDir(), drain(t), lines...)
	w.says(t, "FIRST: Release the trigger and add no pressure.", "RECORD: ", "THEN: Stud and nuts are replaced.", "HELD: Bolt 3: seized or galled, galled.", "HELD: The first pass is done",
		sequence.RestartWord, "NOT TAKEN: somebody other", "RECORDED: released", "HELD: bolt 3 is out: replace stud and nuts, again at 50 %, then 100 % in its turn",
		"x bolt 3: new parts are in: x", sequence.PartsHint, "NOT TAKEN: the batch of the new parts is needed", "RECORDED: replaced", "SET   BOLT 3 AGAIN   50 %", "AGAIN: Bolt 3 is new",
		"BOLT 3, this bolt alone", "RECORDED: undone", "BOLT 3 AGAIN", "RECORDED: problem", "RECORDED: done", "SET   PASS 2 of 2", "BOLT 3, then", "RECORDED: done", "BOLT 2")
	if got := w.last(t); !slices.Equal(got.(sequence.BoltDone).Bolts, []sequence.Bolt{3}) {
		t.Errorf("last on the card: %#v", got)
	}
}

// TestProblemsByTheirKeys: those that ask for more than a note.
func TestProblemsByTheirKeys(t *testing.T) {
	lines := slices.Concat(toPass1, set1, []string{"d", "d", "p", "7", "x", "p", "7", "1", "", "d", "p", "8", "4", "read wrong", "p", "9", "nine", "p", "9", "3.2", "", "r"}, eva, set1,
		[]string{"p", "1", "3", "p", "a", "2", "bulges", "r"}, eva, []string{"P", "D", ""})
	w := walk(t, t.TempDir(), drain(t), lines...)
	w.says(t, `NOT TAKEN: "x" is no bolt number`, "RECORDED: problem", "BOLT 1, ", "RECORDED: done", "RECORDED: problem", "BOLT 2, the last one", "The gauge reads, bar: nine", "NOT TAKEN: ",
		"HELD: The gauge was found at 3.2 bar, the band is 2.62 to 2.81 bar.", "HELD: At risk, since the pressure was last good: bolts 1, 3, 4.", "RECORDED: released", "SET   ", "BOLT 2",
		"NOT TAKEN: 1 leave it", "HELD: Bolt 2: gasket comes out between the faces, bulges.", "RECORDED: problem", "STOP: injury or near miss, "+sequence.NotSaid, "NOW: Help first.")
}

// TestOtherTool: chosen from the job, from a file, and refused where it cannot
// do a pass or is out of date; the hose alone.
func TestOtherTool(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "w.toml")
	text := "id = \"W-99\"\ndue = 2020-01-01\ncurve = [{ pressure = \"1 bar\", torque = \"10 N·m\" }, { pressure = \"6 bar\", torque = \"TOP\" }]\n[gauge]\nspan = \"0 to 10 bar\"\ndivision = \"0.1 bar\"\n"
	write := func(top string) {
		if err := os.WriteFile(file, []byte(strings.Replace(text, "TOP", top, 1)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	again := []string{"yes", "yes", "yes", "yes"}
	lines := slices.Concat(toPass1, set1, []string{"d", "t", "z", "t", "b", "t", "1", "1", "no air"}, again, []string{"t", "h", "10 m"}, again[:3], []string{"2.5", ""}, []string{"d", "q"})
	w := walk(t, t.TempDir(), withSpare(t), lines...)
	w.says(t, "IN USE: W-01, gauge G-05", "1: W-02, gauge G-06, chart made running", "NOT TAKEN: number of a tool", "NEW: 50 %: 2.5 bar running", sequence.RepeatPass, "RECORDED: tool_changed",
		"QUESTION: Are tool W-02, gauge G-06, and chart one set?", "AGAIN: Again: a tool was changed", sequence.AirWord, "RECORDED: air_changed", "GATE   14 of 18", "BOLT 1, ", "RECORDED: done", "BOLT 3")
	write("50 N·m")
	w = walk(t, t.TempDir(), drain(t), slices.Concat(toPass1, set1, []string{"t", "f", file, "t", "f", dir})...)
	w.says(t, "f a tool of a file", "NOT TAKEN: tool W-99 cannot do the pass at 50 %", "NOT TAKEN: tool file: ")
	write("150 N·m")
	w = walk(t, t.TempDir(), drain(t), slices.Concat(toPass1, set1, []string{"d", "t", "f", file, "2", "dropped"}, eva, []string{"ann", "t", "f", file, "2", "dropped"}, eva, eva)...)
	w.says(t, "OUT OF DATE: tool W-99 was due for calibration on 2020-01-01", "Who lets the pass go on?", "Who allows a tool that is out of date?", "NOT TAKEN: somebody other", "RECORDED: tool_changed", "GATE   13 of 18")
}

// TestGraveProblemsStand: what stops or holds the work does so by being chosen, also
// when whoever chose it leaves before the rest is said.
func TestGraveProblemsStand(t *testing.T) {
	at := slices.Concat(toPass1, set1, []string{"d"})
	for key, want := range map[string]sequence.What{"3": sequence.Seized, "4": sequence.Broke, "a": sequence.GasketOut, "c": sequence.FacesTouch, "d": sequence.Injury} {
		w := walk(t, t.TempDir(), drain(t), slices.Concat(at, []string{"p", key, "q"})...)
		w.says(t, "RECORDED: problem", "LEFT: ")
		all := w.events(t)
		found := false
		for _, d := range all {
			p, is := d.(sequence.ProblemFound)
			found = found || is && p.What == want
		}
		if !found {
			t.Errorf("%s was chosen, and the card ends with %+v", want, all[len(all)-2:])
		}
	}
	w := walk(t, t.TempDir(), drain(t), slices.Concat(at, []string{"p", "7", "q"})...)
	if d, is := w.last(t).(sequence.BoltDone); !is {
		t.Errorf("a missed bolt without its number is kept as %+v", d)
	}
}

// TestTypingErrorKeepsTheRest: what was read before an error is not asked again.
func TestTypingErrorKeepsTheRest(t *testing.T) {
	w := walk(t, t.TempDir(), drain(t), slices.Concat(gate, []string{"done", "1.3", "wide", "1.0"}, set1, []string{"d"})...)
	w.says(t, "NOT TAKEN: \"wide\" is no reading, type it such as 3.4 mm\nGap beside bolt", "RECORDED: gaps", "RECORDED: done")
}

// TestElsewhere: what shows at any bolt is told where none is at hand, and at another
// bolt than the one at hand.
func TestElsewhere(t *testing.T) {
	for name, c := range map[string]struct {
		at, keys []string
		want     sequence.ProblemFound
	}{
		"other bolt":   {slices.Concat(toPass1, set1, []string{"d", "d"}), []string{"p", "4", "9", "one", "1", "B-1", "a bang"}, sequence.ProblemFound{Bolt: 1, What: sequence.Broke, Batch: "B-1", Reason: "a bang"}},
		"setting":      {toPass1, []string{"stop", "9", "2", "stop", "9", "3", "", "2", "", ""}, sequence.ProblemFound{Bolt: 2, What: sequence.Seized}},
		"gaps":         {gate, []string{"done", "stop", "9", "c", "3", ""}, sequence.ProblemFound{Bolt: 3, What: sequence.FacesTouch}},
		"snug":         {gate, []string{"stop", "9", "3", "2", "", ""}, sequence.ProblemFound{Bolt: 2, What: sequence.Seized}},
		"rest":         {toRest, []string{"stop", "9", "4", "3", "B-1", ""}, sequence.ProblemFound{Bolt: 3, What: sequence.Broke, Batch: "B-1"}},
		"no bolt":      {toRest, []string{"stop", "9", "4", "q"}, sequence.ProblemFound{What: sequence.OtherHazard, Reason: "stud broke, not said at which bolt"}},
		"no choice":    {toRest, []string{"stop", "9", "q"}, sequence.ProblemFound{What: sequence.OtherHazard, Reason: sequence.NotSaid}},
		"no elsewhere": {gate[:4], []string{"stop", "9", "1", ""}, sequence.ProblemFound{What: sequence.UnderPressure}},
	} {
		w := walk(t, t.TempDir(), drain(t), slices.Concat(c.at, c.keys, []string{"q"})...)
		all := w.events(t)
		i := slices.IndexFunc(all, func(d sequence.Data) bool { p, is := d.(sequence.ProblemFound); return is && p == c.want })
		if i < 0 {
			t.Errorf("%s: %+v is not among %+v\n%s", name, c.want, all[len(all)-2:], w.text)
		}
	}
}
