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

func TestNoAtTheGate(t *testing.T) {
	// A question that stays open is asked until somebody answers yes.
	w := walk(t, t.TempDir(), drain(t), "Ann", "", "no", "-D2", "-d1", "yes", "NO", "YES")
	w.says(t, "GATE   1 of 18", "GATE   1 of 18", "OPEN: "+sequence.SaidNoWord, "OTHER TAG: "+sequence.OtherTag, "RECORDED: answered",
		"GATE   1 of 18", "GATE   2 of 18", "GATE   3 of 18", "GATE   3 of 18", "OPEN: ", "GATE   4 of 18")
	if got := w.last(t); !reflect.DeepEqual(got, sequence.Answered{Question: "2", Answer: sequence.Yes}) {
		t.Errorf("last on the card: %#v", got)
	}
	if strings.Contains(w.text, "release by a named person") {
		t.Error("a release is offered of a question that has none")
	}
}

// TestStopPage: isolation answered no stops the work; no order is shown, and
// only a sign-on with a permit number reopens the card, at its first question.
func TestStopPage(t *testing.T) {
	w := walk(t, t.TempDir(), drain(t), slices.Concat(gate[:5], []string{"no", "Ann", "", "", "Cy", "", "P-3371"})...)
	w.says(t, "GATE   4 of 18", "STOP: answered no: Is the line isolated, vented, drained, proven at zero?", "CAUTION: "+sequence.StopHint,
		"Number of the permit that allows the work again: \n", "NOT TAKEN: the work is stopped: sign on with the number of the permit that allows it again",
		"STOP: answered no", "RECORDED: signed_on", "GATE   1 of 18")
	if got := w.last(t); got != (sequence.SignedOn{Name: "Cy", Permit: "P-3371"}) {
		t.Errorf("last on the card: %#v", got)
	}
	if strings.Contains(w.text, "BOLT") {
		t.Error("a stopped walk shows bolts")
	}
}

// TestReleaseOfAQuestion: by a named person, never by the operator.
func TestReleaseOfAQuestion(t *testing.T) {
	w := walk(t, t.TempDir(), drain(t), slices.Concat(gate[:9], []string{"r", "no", "r", "ann", "foreman", "good enough", "r", "Eva", "", "seen", "r", "Eva", "engineer", "seen"})...)
	w.says(t, "Are both faces clean and undamaged?", "NOT TAKEN: yes or no, u undo the last answer\n", "yes or no, r release by a named person, u undo the last answer: r",
		"NOT TAKEN: ", "NOT TAKEN: name, role and reason are needed", "RECORDED: released", "GATE   9 of 18")
	want := sequence.Released{Of: sequence.OfQuestion, Question: "7", Named: sequence.Named{Name: "Eva", Role: "engineer", Reason: "seen"}}
	if got := w.last(t); !reflect.DeepEqual(got, want) {
		t.Errorf("last on the card: %#v", got)
	}
}

func TestDoesNotApply(t *testing.T) {
	w := walk(t, t.TempDir(), drain(t), slices.Concat(gate[:5], []string{"a"}, gate[5:17], []string{"a", "", "a", "no lubricator"})...)
	w.says(t, "GATE   4 of 18", "NOT TAKEN: yes or no", "GATE   16 of 18", "Why it does not apply: \n", "NOT TAKEN: say why it does not apply", "GATE   17 of 18")
	if got := w.last(t); !reflect.DeepEqual(got, sequence.Answered{Question: "15", Answer: sequence.NotApplicable, Reason: "no lubricator"}) {
		t.Errorf("last on the card: %#v", got)
	}
}

func TestUndoOfAnAnswer(t *testing.T) {
	w := walk(t, t.TempDir(), drain(t), slices.Concat(gate[:5], []string{"u"})...)
	w.says(t, "GATE   4 of 18", "u undo the last answer: u", "RECORDED: undone", "GATE   3 of 18")
	if got := w.last(t); !reflect.DeepEqual(got, sequence.Undone{Question: "2"}) {
		t.Errorf("last on the card: %#v", got)
	}
}

// TestSignOn: a name is needed, and the second person is somebody else.
func TestSignOn(t *testing.T) {
	w := walk(t, t.TempDir(), drain(t), "", "", "Ann", "ANN", "Ba\u0308rbel", "")
	w.says(t, "NOT TAKEN: a name is needed", "NOT TAKEN: the second person is somebody else, or nobody", "RECORDED: signed_on", "GATE   1 of 18")
	if got := w.last(t); got != (sequence.SignedOn{Name: "Ba\u0308rbel"}) {
		t.Errorf("last on the card: %#v", got)
	}
}

// TestMaterials: each may stay empty; a temperature that is none is asked again.
func TestMaterials(t *testing.T) {
	o := drain(t)
	o.Plan.Batches = true
	w := walk(t, t.TempDir(), o, slices.Concat(gate, []string{"G-4471", "", "", "", "warm", "90 C", "G-4471", "S 9", "", "", "54 F"})...)
	w.says(t, "STEP: MATERIALS", sequence.MaterialsWord, `NOT TAKEN: "warm" is no temperature`, "NOT TAKEN: 90 °C about the joint is not believable", "RECORDED: materials", "STEP: SNUG")
	if d, ok := w.last(t).(sequence.MaterialsNoted); !ok || d.Gasket != "G-4471" || d.Stud != "S 9" || d.Ambient.Text(unit.SI) != "12.2 °C" {
		t.Errorf("last on the card: %#v", w.last(t))
	}
}

// TestSignOnWithPapers: more asks for what is known of the person; a trainee
// has a supervisor, also when signing on again; what has expired is held.
func TestSignOnWithPapers(t *testing.T) {
	w := walk(t, t.TempDir(), drain(t), "Ann", "more", "Bo", "fitter", "Works crew 2", "BT-114", "soon", "2026-11-20", "Eva", "r", "Ann", "fitter", "fine", "r", "Eva", "foreman", "course is booked", "r", "Ida", "foreman", "course is booked", "-D1")
	w.says(t, "Second person (more: also role, company, qualification, trainee), may stay empty: ", `NOT TAKEN: "soon" is not a date`, "RECORDED: signed_on", "STEP: QUALIFICATION   TRAINEE with Eva",
		"HELD: The qualification of Ann, BT-114, was valid until 2026-11-20.", "NOT TAKEN: somebody other than the operator", "NOT TAKEN: the supervisor answers for the trainee's work", "RECORDED: released", "STEP: GATE   1 of 18   TRAINEE with Eva")
	s, err := card.Resume(w.Path(), "", "", morning.Add(time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	again := typeInto(t, s, "Ann", "", "Ann", "more", "", "", "", "", "", "Ann", "Ann", "more", "", "", "", "", "", "Jo")
	again.says(t, "NOT TAKEN: Ann is a trainee on this card: who supervises today", "NOT TAKEN: Ann cannot be the own supervisor", "RECORDED: signed_on", "STEP: QUALIFICATION   TRAINEE with Jo")
}
