package plain

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/joint/unit"
	"evenload/sequence"
)

var eva = []string{"Eva", "engineer", "seen"}

func TestUndoOfABolt(t *testing.T) {
	w := walk(t, t.TempDir(), drain(t), slices.Concat(toPass1, set1, []string{"u", "d", "d", "u"})...)
	w.says(t, "BOLT 1, ", "NOT TAKEN: nothing of this pass to take back\n", "BOLT 2, then 4", "RECORDED: undone", "1 of 4 done", "BOLT 3, ")
	if got := w.last(t); !reflect.DeepEqual(got, sequence.Undone{Bolt: 3}) {
		t.Errorf("last on the card: %#v", got)
	}
}

// TestBoltLeftUndone holds its pass until a named person releases it, or it is
// taken back and done.
func TestBoltLeftUndone(t *testing.T) {
	left := slices.Concat(toPass1, set1, []string{"d", "p", "1", "1", "nut runs dry", "d", "d", "y"})
	w := walk(t, t.TempDir(), drain(t), slices.Concat(left, []string{"r", "Ann", "r"}, eva)...)
	w.says(t, "CAUTION: "+sequence.ProblemHint, "1 to f what is wrong at bolt 3, p hazard: stop the work: 1", "do it again now: 1", "Note, may stay empty: nut runs dry", "RECORDED: problem", "BOLT 2, then 4",
		"RELEASE   PASS 1 of 2   50 %", "HELD: Bolt 3 was left undone: did not stall, nut runs dry", "NOT TAKEN: r go on, bolt 3 not done, by name, h hand over, n note, t take it back and do it",
		"NOT TAKEN: ", "RECORDED: released", "READ AGAIN")
	w = walk(t, t.TempDir(), drain(t), slices.Concat(left, []string{"n", "dry thread", "t", "d"})...)
	w.says(t, "HELD: ", "RECORDED: note", "HELD: ", "RECORDED: undone", "BOLT 3, the last one", "RECORDED: done", "READ AGAIN")
}

func TestHazardStopsTheWork(t *testing.T) {
	w := walk(t, t.TempDir(), drain(t), slices.Concat(toPass1, set1, []string{"p", "z", "p", "p", "", "9", "a leak"})...)
	w.says(t, "NOT TAKEN: 1 to f what is wrong at bolt 1, p hazard: stop the work\n", "NOT TAKEN: choose from the list, or say in a word what is wrong", "NOT TAKEN: choose from the list", "RECORDED: problem", "STEP: STOP", "STOP: a leak", "CAUTION: "+sequence.StopHint)
	if got := w.last(t); got != (sequence.ProblemFound{What: sequence.OtherHazard, Reason: "a leak"}) {
		t.Errorf("last on the card: %#v", got)
	}
}

// TestNutsThatMove: another round, and after the last one a named person.
func TestNutsThatMove(t *testing.T) {
	moved := slices.Concat(toRounds, set2, []string{"m", "s", "s", "s", "s", "s", "s", "m"})
	w := walk(t, t.TempDir(), drain(t), slices.Concat(moved, []string{"4.8", "r"}, eva)...)
	w.says(t, "CHECK ROUND 1", "RECORDED: moved", "CHECK ROUND 2", "RECORDED: moved", "STEP: READ AGAIN   CHECK ROUND 2", "STEP: RELEASE   CHECK ROUND 2",
		"HELD: Nuts still moved in check round 2, the last one planned.", "HELD: Moved: bolt 4.", "RECORDED: released", "STEP: REST")
}

func TestRest(t *testing.T) {
	w := walk(t, t.TempDir(), drain(t), slices.Concat(toRest, []string{"g", "x", "n", "gasket warm", "w", "Ann", "fitter", "late", "w"}, eva)...)
	w.says(t, "STEP: REST", "NOT TAKEN: the rest is not over before 2026-11-25 08:47 UTC", "NOT TAKEN: g go on when it is over, w waive by a named person and with it the check round after it, h hand over, n note",
		"RECORDED: note", "NOT TAKEN: ", "RECORDED: waived", "GAPS   after check rounds")
}

// TestRestThatIsOver offers to go on, and no longer to do without it.
func TestRestThatIsOver(t *testing.T) {
	first := walk(t, t.TempDir(), drain(t), toRest...)
	first.says(t, "w waive by a named person")
	s, err := card.Resume(first.Path(), "", "", morning.Add(5*time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	p := &typist{lines: []string{"Ann", "", "w", "g"}, at: morning.Add(5 * time.Hour)}
	if err := Walk(s, p, &p.all, Options{Now: p.now}); err != nil {
		t.Fatal(err)
	}
	w := walked{Session: s, text: p.all.String()}
	w.says(t, "REST: it ended at ", "g go on, h hand over, n note: w\nNOT TAKEN: g go on, h hand over, n note\n", "RECORDED: rested")
}

func TestUnknownInput(t *testing.T) {
	for _, c := range []struct {
		to     []string
		prompt string
	}{
		{gate[:3], "yes or no, u undo the last answer"},
		{gate, "type done, or q to leave"},
		{slices.Concat(toPass1, set1), "d done, u undo, p problem, h hand over, t tool, n note"},
		{slices.Concat(toRounds, set2), "s still, m moved, u undo, p problem, h hand over, t tool, n note"},
	} {
		for _, typed := range []string{"", "x", "dd", "y", "no way"} {
			w := walk(t, t.TempDir(), drain(t), slices.Concat(c.to, []string{typed})...)
			w.says(t, ": "+typed+"\nNOT TAKEN: "+c.prompt+"\nSTEP: ")
		}
	}
	w := walk(t, t.TempDir(), drain(t), slices.Concat(toRest, afterwards[:len(afterwards)-2], []string{"Ann", "fitter", "Wim", ""})...)
	w.says(t, "STEP: CLOSE", "NOT TAKEN: ", "STEP: CLOSE", "NOT TAKEN: ", "STEP: CLOSE")
	if w.Walk.IsClosed() || strings.Contains(w.text, "CLOSED: ") {
		t.Error("the operator closed his own card")
	}
}

// TestStopAtAnyPrompt: a hazard at the joint reaches the stop page from where
// the operator stands, and the last bolt is taken back after the end reading's
// prompt has come.
func TestStopAtAnyPrompt(t *testing.T) {
	for name, lines := range map[string][]string{"gate": gate[:4], "snug": gate, "set": toPass1, "bolt": slices.Concat(toPass1, set1), "end": toEnd1, "rest": toRest} {
		w := walk(t, t.TempDir(), drain(t), slices.Concat(lines, []string{"stop", "a leak"})...)
		w.says(t, "What is wrong at the joint, 1 to ", " or in words: a leak", "RECORDED: problem", "STOP: a leak")
		if got := w.last(t); got != (sequence.ProblemFound{What: sequence.OtherHazard, Reason: "a leak"}) {
			t.Errorf("%s: last on the card is %#v", name, got)
		}
	}
	w := walk(t, t.TempDir(), drain(t), slices.Concat(toEnd1, []string{"u"})...)
	w.says(t, "(u takes back bolt 4): u", "RECORDED: undone", "BOLT 4")
}

// TestHoldPoint: nothing of the pass is offered before a witness released it.
func TestHoldPoint(t *testing.T) {
	o := drain(t)
	o.Plan.Hold = sequence.HoldPoints([]unit.Share{0.5, 1}, true)[2:3]
	w := walk(t, t.TempDir(), o, slices.Concat(toPass2, []string{"4.8", "r", "Ann", "n", "waits for Wim", "r", "Wim", "inspector", "gaps and marks"}, set2, []string{"d"})...)
	w.says(t, "STEP: HOLD POINT   before 100 %", "CAUTION: "+sequence.ReleaseHint, "HELD: Hold point: before 100 %.", "NOT TAKEN: r release by a named person, h hand over, n note\n",
		"Name, not the operator: Ann\nNOT TAKEN: somebody other than the operator", "RECORDED: note", "Looked at: gaps and marks\nRECORDED: released", "SET   PASS 2 of 2", "RECORDED: done")
}

// TestHandOverAtReadings: between two measurements is a good moment too.
func TestHandOverAtReadings(t *testing.T) {
	w := walk(t, t.TempDir(), drain(t), slices.Concat(toEnd1, []string{"2.7", "h", "air off", "Cy", "", "yes", "yes", "yes", "1.9", "1", "1.0", "3", "h", "air off", "Ann", "", "yes", "yes", "yes", "m", "1.2", "1", "1.0", "3"})...)
	w.says(t, "Widest gap, mm: h\nHANDOVER: stands: after the pass at 50 %, before its gaps", "RECORDED: handed_over", "NOT EVEN", "h hand over, n note: h\nHANDOVER", "RECORDED: handed_over", "RECORDED: gaps", "SET   PASS 2 of 2")
}

// TestHandOver: the two people go through the job, and who takes over answers
// the handover questions and sets the pressure.
func TestHandOver(t *testing.T) {
	w := walk(t, t.TempDir(), drain(t), slices.Concat(toPass1, []string{"h", ""}, set1, []string{"d", "h", "", "h", "tool hangs, air off", "Cy", "", "yes", "yes", "yes", "h", "air off", "Ann", "", "yes", "yes", "yes"}, set1, []string{"d"})...)
	w.says(t, "; h, where a pressure is to be set or a gap measured, hands over", "Reading while it runs, bar: h", "HANDOVER: stands: pass 1 of 2 at 50 %, 0 of 4 bolts done", "HANDOVER: pressure: not set, tool W-01, gauge G-05",
		"HANDOVER: next: set the pressure, read it back, then the 4 bolts left in this pass, then the gauge again", sequence.OnFlangeWord+"; empty goes back: \nSTEP: SET",
		"HANDOVER: bolts: last done: bolt 1, next: bolt 3", "HANDOVER: pressure: 2.7 bar running, tool W-01, gauge G-05",
		"BETTER: In the middle of a pass: if you can, do its other 3 bolts first, and hand over then.", "RECORDED: handed_over", "HANDED OVER: Ann handed over. On the flange: tool hangs, air off",
		"HANDOVER   1 of 3", "HANDOVER   3 of 3", "SET   PASS 1 of 2", "RECORDED: handed_over", "HANDED OVER: Cy handed over", "HANDOVER   1 of 3", "BOLT 3", "RECORDED: done")
}

// TestPasteOfLines: a line that came before anybody can have done the bolt marks none.
func TestPasteOfLines(t *testing.T) {
	for rest, done := range map[time.Duration]bool{time.Second: true, time.Hour: false} {
		s, err := card.Begin(t.TempDir(), "", drain(t))
		if err != nil {
			t.Fatal(err)
		}
		p := &typist{lines: slices.Concat(toPass1, set1, []string{"d"}), at: morning}
		if err := Walk(s, p, &p.all, Options{Now: p.now, KeyRest: rest}); err != nil {
			t.Fatal(err)
		}
		if said := strings.Contains(p.all.String(), "NOT DONE: "); said == done || (s.Walk.MarkOf(1) == sequence.MarkDone) != done {
			t.Errorf("with a rest of %v bolt 1 is %v, refused %v", rest, s.Walk.MarkOf(1), said)
		}
		s.Close()
	}
}
