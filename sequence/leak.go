package sequence

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// LeakResult is how a leak test ended.
type LeakResult string

// The results. The test itself has its own permit; here only its result is kept.
const (
	Tight    LeakResult = "tight"
	Leaked   LeakResult = "leaked"
	Untested LeakResult = "not tested"
)

// Follows names the card before this one on the same joint, and beside which
// bolts that one leaked.
type Follows struct {
	Card   string `json:"card"` // file name
	Seal   string `json:"seal"`
	Leaked []Bolt `json:"leaked,omitempty"`
}

// Words name the card, its seal and its leak.
func (f Follows) Words() string {
	text := "card " + f.Card + ", seal " + f.Seal
	if len(f.Leaked) > 0 {
		text += ", which LEAKED beside bolt " + BoltList(f.Leaked)
	}
	return text
}

// AfterLeak has the gate ask for the cause of a leak that the card before had.
func (p *Plan) AfterLeak(bolts []Bolt) {
	if len(bolts) == 0 {
		return
	}
	i := slices.IndexFunc(p.Questions, func(q Question) bool { return q.When == AtGate && q.Heading == headReady })
	p.Questions = slices.Insert(slices.Clone(p.Questions), max(0, i), Question{ID: "leak", When: AtGate, Heading: headReady,
		Text: "It leaked beside bolt " + BoltList(bolts) + ". Is the cause found and put right, as the responsible engineer said?",
		Why:  "More torque alone rarely cures a leak, and it can crush the gasket or break bolts.",
		IfNo: "Stop. Look at faces, gasket, gaps and torque without pressure. The responsible engineer decides.", OnNo: StayOpen,
		Asks: []Asked{{Label: "Cause"}, {Label: "What was done"}, {Label: "Responsible engineer", Other: true}}})
}

// LeakTested: what the leak test gave. A leak names the bolts nearest to it.
type LeakTested struct {
	Result LeakResult `json:"result"`
	Sheet  string     `json:"sheet,omitempty"` // of the test
	Bolts  []Bolt     `json:"bolts,omitempty"`
	Note   string     `json:"note,omitempty"`
}

// Kind of the event, as it stands in the card.
func (LeakTested) Kind() Kind { return "leak_tested" }

// LeakTest: write down what the leak test gave.
type LeakTest struct{}

func (LeakTest) step() {}

// Words for the result of a leak test.
const (
	LeakHint    = "A leak: pressure off FIRST. Stay out of line. Never tighten under pressure."
	LeakWord    = "The test has its own permit and people. Only its result is written down here."
	UntestedFor = "Say why it is not tested, and who tests it."
)

// LeakedWords say what is done after a leak, each with its label.
func LeakedWords() []Told {
	return []Told{{"First", "Have the pressure taken off. Everybody out of line with the leak. Leave the nuts."},
		{"Then", "Without pressure: look at torque, gaps and gasket for the cause. The responsible engineer decides."},
		{"Card", "This one is closed as it is, and stays. The next evenload walk of the job begins a new one at the gate, which names this one."}}
}

// leakTest takes the result.
func (w *Walk) leakTest(d LeakTested) error {
	for i, b := range d.Bolts {
		switch {
		case b < 1 || int(b) > w.plan.Bolts:
			return fmt.Errorf("there is no bolt %d, the bolts are 1 to %d", b, w.plan.Bolts)
		case slices.Contains(d.Bolts[:i], b):
			return fmt.Errorf("bolt %d is named twice", b)
		}
	}
	switch {
	case d.Result == Leaked && len(d.Bolts) == 0:
		return errors.New("say beside which bolts it leaked")
	case d.Result != Leaked && len(d.Bolts) > 0:
		return errors.New("bolts are named only where it leaked")
	case d.Result == Untested && strings.TrimSpace(d.Note) == "":
		return errors.New("say why it is not tested")
	case d.Result == Leaked:
		w.except("LEAKED at the test beside bolt %s", BoltList(d.Bolts))
	case d.Result == Untested:
		w.except("not leak tested: %s", d.Note)
	case d.Result != Tight:
		return fmt.Errorf("%q is no result of a leak test", string(d.Result))
	}
	w.leak = d.Result
	return nil
}

// Leak is the result of the leak test, empty before it.
func (w Walk) Leak() LeakResult { return w.leak }

// CloseCaution is what whoever closes the card is warned of: the joint may still
// leak.
func (w Walk) CloseCaution() string {
	if w.leak == Leaked {
		return LeakHint
	}
	return CloseHint
}

// Words say the result in a sentence.
func (d LeakTested) Words() string {
	text := "leak test: " + string(d.Result)
	if len(d.Bolts) > 0 {
		text += ", beside bolt " + BoltList(d.Bolts)
	}
	if d.Sheet != "" {
		text += ", test sheet " + d.Sheet
	}
	if d.Note != "" {
		text += ", " + d.Note
	}
	return text
}
