package sequence

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Asked is one thing that a yes to a question has to tell.
type Asked struct {
	Label string `json:"label"`
	Other bool   `json:"other,omitempty"` // the name of a person who does not work here
}

// Prompt is what is asked for, as lines say it.
func (a Asked) Prompt() string {
	if a.Other {
		return a.Label + ", not the operator"
	}
	return a.Label
}

// told refuses a yes that does not tell all that its question asks for.
func (w *Walk) told(q Question, d Answered) error {
	if d.Answer != Yes {
		if len(d.Told) > 0 {
			return errors.New("only a yes tells more")
		}
		return nil
	}
	if len(d.Told) != len(q.Asks) {
		return fmt.Errorf("a yes to this question tells %d things, %d were told", len(q.Asks), len(d.Told))
	}
	for i, a := range q.Asks {
		switch text := strings.TrimSpace(d.Told[i]); {
		case text == "":
			return fmt.Errorf("%s: needed", a.Label)
		case a.Other:
			if err := w.notOperator(Named{Name: text, Role: a.Label, Reason: q.Text}); err != nil {
				return fmt.Errorf("%s: %w", a.Label, err)
			}
		}
	}
	return nil
}

// ToldWords are what was told with a yes, each with its label: "cause: a scratch".
func (q Question) ToldWords(d Answered) string {
	var parts []string
	for i, text := range d.Told {
		if i < len(q.Asks) {
			text = q.Asks[i].Label + ": " + text
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, "; ")
}

// Question is that of an id, false where the plan has none.
func (w Walk) Question(id string) (Question, bool) {
	i := w.indexOf(id)
	if i < 0 {
		return Question{}, false
	}
	return w.plan.Questions[i], true
}

// The questions about lengths before tightening, by their ids.
const (
	lengthsQuestion   = "lengths"
	newLengthQuestion = "new_length"
)

// PartsWords say how new parts have to be in.
func (p *Plan) PartsWords() string {
	if slices.ContainsFunc(p.Questions, func(q Question) bool { return q.ID == newLengthQuestion }) {
		return partsMeasured
	}
	return PartsWord
}

// askLengths has the gate ask for the length of every stud before its nut is
// turned, and once more for each new stud: without it no stretch can be told
// (common practice).
func (p *Plan) askLengths() {
	asks := []Asked{{Label: "Who read or zeroed"}, {Label: "Sheet of the lengths, or gauge zeroed"}}
	at := 1 + slices.IndexFunc(p.Questions, func(q Question) bool { return q.ID == "11" })
	p.Questions = slices.Insert(slices.Clone(p.Questions), at, Question{ID: lengthsQuestion, When: AtGate, Heading: headReady,
		Text: "Is each stud's length written down, or the gauge zeroed on each, before any nut is turned?",
		Why:  "The load is told from how much a stud grows. Tightened, its free length cannot be read any more.",
		IfNo: "Stop. Turn no nut. Read every stud, or zero the gauge on it.", OnNo: StayOpen, Asks: asks})
	p.Questions = append(p.Questions, Question{ID: newLengthQuestion, When: AtParts, Heading: headReady,
		Text: "Is the new stud's length written down, or the gauge zeroed on it, before its nut is turned?",
		Why:  "It has another length than the old one: without it its load cannot be told.",
		IfNo: "Stop. Turn no nut. Read the stud, or zero the gauge on it.", OnNo: StayOpen, Asks: asks})
}
