package plain

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"evenload/sequence"
)

// TestFinish: alignment, studs and leak test by lines, each refused once and
// beyond its limits once.
func TestFinish(t *testing.T) {
	o := drain(t)
	limits := sequence.UsualAlignment
	o.Plan.Alignment, o.Plan.LeakTest = &limits, true
	o.Plan.Stretch = &sequence.Stretching{Give: 4e-9, Expected: 0.08e-3, Reading: 0.01e-3, Low: 15e3, High: 25e3}
	for i, q := range o.Plan.Questions {
		o.Plan.Questions[i].Measured = q.ID == "9"
	}
	beforeNine := slices.Concat([]string{"Ann", "Bo", "-D1"}, slices.Repeat([]string{"yes"}, 8))
	aligned := []string{"x", "1.6", "2.6-3.1", "3.1-2.6", "1", "y", "m", "1.6", "0.5", "2", "r", "Eva", "engineer", "spool is rolled"}
	w := walk(t, t.TempDir(), o, slices.Concat(beforeNine, aligned)...)
	w.says(t, "Centre offset, mm, at most 1.5 mm (u undoes the last answer): x\nNOT TAKEN: ", "Centre offset, mm, at most 1.5 mm (u undoes the last answer): 1.6", "Gap difference, mm, at most 0.8 mm, or 3.2-2.6 (u undoes the last answer): 2.6-3.1\nNOT TAKEN: ", "or 3.2-2.6 (u undoes the last answer): 3.1-2.6", "RECORDED: answered", "READ: Centre offset 1.6 mm, at most 1.5 mm: BEYOND",
		"READ: Gap difference 0.5 mm (3.1 mm less 2.6 mm), at most 0.8 mm",
		"m measure again, r release by a named person, u undo the last answer: y\nNOT TAKEN: ", "RECORDED: answered", "RECORDED: released")

	end := len(straight) - len(closing)
	studs := []string{"182.49-182.41", "0.9", "0.03", "u", "0.08", "0.08", "0.03", "m", "0.03", "r", "Eva", "engineer", "agreed"}
	toTest := slices.Concat(slices.Replace(slices.Clone(straight[:end]), 11, 12, "1", "0.5", "2"), studs, closing[:5])
	w = walk(t, t.TempDir(), o, slices.Concat(toTest, []string{"x", "2", "two", "2", "9", "", "2", "2, 3", "at the drain", "Wim", "inspector"})...)
	w.says(t, "STEP: STRETCH   bolt 1", "CAUTION: "+sequence.StretchHint, "STUD OF BOLT 1: 0.080 mm expected; in the band from 0.060 mm to 0.100 mm", "RECORDED: stretch", "MEASURED: bolt 1 stretched 0.080 mm (182.490 mm less 182.410 mm), about 20 kN",
		"Stretch, mm, or now less before: 182.57-182.41 (u takes back the stretch of bolt 1): 0.9\nNOT TAKEN: ", "OUTSIDE the band", "RECORDED: undone", "STEP: STRETCH   bolt 2", "STEP: RELEASE   stretch of studs", "HELD: Loads by stretch outside 15 kN to 25 kN. LOW: bolt 4 7.5 kN.",
		"m measure those again, c check rounds again, r release by a named person, h hand over, n note, u take back the stretch of bolt 4: m", "RECORDED: studs_again", "STEP: STRETCH   bolt 4", "RECORDED: released",
		"STEP: LEAK TEST", "CAUTION: "+sequence.LeakHint, ": x\nNOT TAKEN: ", "FIRST: Have the pressure taken off.", `NOT TAKEN: "two" is no bolt number`, "NOT TAKEN: there is no bolt 9", "RECORDED: leak_tested",
		"NOT AS PLANNED: LEAKED at the test beside bolt 2, 3", "CLOSED: ")
	if got := w.Walk.Leak(); got != sequence.Leaked {
		t.Errorf("the leak test gave %q", got)
	}
	toStuds := slices.Replace(slices.Clone(straight[:end]), 11, 12, "1", "0.5", "2")
	w = walk(t, t.TempDir(), o, slices.Concat(toStuds, []string{"0.03", "0.08", "0.08", "0.13", "c"}, eva)...)
	w.says(t, "LOW: bolt 1 7.5 kN. HIGH: bolt 4 33 kN.", "HELD: Check rounds can bring up", "HELD: No round takes load off", "m measure those again, w new stud for bolt 4 by a named person, c check rounds again by a named person, r release", "RECORDED: studs_again", "STEP: SET")
	if len(w.Walk.Studs()) != 0 {
		t.Errorf("behind new rounds count %+v", w.Walk.Studs())
	}
	o.Plan.Stretch.Yield = 30e3
	w = walk(t, t.TempDir(), o, slices.Concat(toStuds, []string{"0.03", "0.08", "0.08", "0.13", "c", "w", "Ann", "fitter", "mine", "w"}, eva, []string{"x", "N-1"})...)
	w.says(t, "MEASURED: bolt 4 stretched 0.130 mm: BEYOND YIELD, its load is at least 30 kN and not elastic", "BEYOND YIELD: bolt 4 at least 30 kN.", "NOT TAKEN: a stud is beyond yield",
		"NOT TAKEN: somebody other", "RECORDED: released", "HELD: bolt 4 is out: replace stud and nuts, again at 50 %, 100 %", "RECORDED: replaced", "SET   BOLT 4 AGAIN   50 %")
	o.Plan.Stretch.Yield = 0
	w = walk(t, t.TempDir(), o, slices.Concat(toTest, []string{"3", "", "3", "the site tests"})...)
	if got := w.last(t); !reflect.DeepEqual(got, sequence.LeakTested{Result: sequence.Untested, Note: "the site tests"}) {
		t.Errorf("last on the card: %#v", got)
	}
}

// TestOtherWorkAtTheGate: who says that the work is another one is asked which,
// and no order is shown, nor anything else until a sign-on with a permit.
func TestOtherWorkAtTheGate(t *testing.T) {
	for _, k := range sequence.StopKinds {
		w := walk(t, t.TempDir(), drain(t), slices.Concat(gate[:3], []string{"no", k.Key, "as the order says", "yes", "", ""})...)
		w.says(t, "GATE   2 of 18", k.Key+"  "+k.Name, "STEP: STOP", "NOW: "+k.Now, "WHY: "+k.Why, "ASK: "+k.Ask, "NOT TAKEN: the work is stopped", "STEP: STOP")
		if s, ok := w.Walk.Next(morning.Add(time.Hour)).(sequence.Stop); !ok || s.What != k.What {
			t.Errorf("%s: %+v is next", k.Name, w.Walk.Next(morning.Add(time.Hour)))
		}
		if strings.Contains(w.text, "BOLT ") || strings.Contains(w.text, "GATE   3") || strings.Contains(w.text, "SNUG") {
			t.Errorf("%s: more than the stop page is shown:\n%s", k.Name, w.text)
		}
	}
}

// TestStopKinds: a number is one of the kinds, whose page says what to do and whom to ask.
func TestStopKinds(t *testing.T) {
	for _, k := range sequence.StopKinds {
		w := walk(t, t.TempDir(), drain(t), slices.Concat(gate, []string{"stop", k.Key, "seen"})...)
		w.says(t, k.Key+"  "+k.Name, "RECORDED: problem", "STEP: STOP", "NOW: "+k.Now, "WHY: "+k.Why, "ASK: "+k.Ask)
		want := sequence.Data(sequence.NoteMade{Text: "seen"}) // the stop stands before it
		if k.Noted() {
			want = sequence.ProblemFound{What: k.What, Reason: "seen"}
		}
		if got := w.last(t); got != want {
			t.Errorf("last on the card: %#v", got)
		}
		left := walk(t, t.TempDir(), drain(t), slices.Concat(gate, []string{"stop", k.Key, "q"})...)
		if s, ok := left.Walk.Next(morning.Add(time.Hour)).(sequence.SignOn); ok {
			t.Errorf("%s: left at the note, %+v is next", k.What, s)
		}
	}
}

// TestKeysOfMeasuredSteps: where readings are asked for, the last answer is undone and the
// work handed over as on the screens.
func TestKeysOfMeasuredSteps(t *testing.T) {
	o := drain(t)
	limits := sequence.UsualAlignment
	o.Plan.Alignment = &limits
	o.Plan.Stretch = &sequence.Stretching{Give: 4e-9, Expected: 0.08e-3, Reading: 0.01e-3, Low: 15e3, High: 25e3}
	for i, q := range o.Plan.Questions {
		o.Plan.Questions[i].Measured = q.ID == "9"
	}
	beforeNine := slices.Concat([]string{"Ann", "Bo", "-D1"}, slices.Repeat([]string{"yes"}, 8))
	w := walk(t, t.TempDir(), o, slices.Concat(beforeNine, []string{"u", "yes", "1.6", "0.5", "2", "u"})...)
	w.says(t, "Centre offset, mm, at most 1.5 mm (u undoes the last answer): u\nRECORDED: undone", "r release by a named person, u undo the last answer: u\nRECORDED: undone")
	end := len(straight) - len(closing)
	toStuds := slices.Replace(slices.Clone(straight[:end]), 11, 12, "1", "0.5", "2")
	w = walk(t, t.TempDir(), o, slices.Concat(toStuds, []string{"0.08", "h", "gauge on stud 2, air off"})...)
	w.says(t, "HANDOVER: stands: all bolts done, 1 of 4 studs measured", "RECORDED: handed_over")
}
