package plain

import (
	"strings"

	"evenload/sequence"
)

func (l *liner) question(s sequence.Ask) error {
	q := s.Question
	for _, marked := range s.Last {
		l.say("MARKED LAST: %s", l.s.Walk.MarkedWords(marked))
	}
	l.say("QUESTION: %s", q.Text)
	l.say("WHY: %s", q.Why)
	l.say("IF NO: %s", q.IfNo)
	if s.SaidNo {
		l.say("OPEN: %s", sequence.SaidNoWord)
	}
	if q.Measured {
		return l.measured(s)
	}
	prompt := "yes or no"
	if q.Typed != "" {
		prompt = "last characters of the tag, or no"
	}
	if q.MayNot {
		prompt += ", a does not apply"
	}
	release := s.SaidNo && q.OnNo == sequence.Override
	if release {
		prompt += ", r release by a named person"
	}
	var undo sequence.Undone
	undoable := false
	if len(s.Last) > 0 {
		if undo, undoable = l.s.Walk.Undoable(); undoable {
			prompt += ", u undo the last bolt"
		}
	} else if undo.Question = l.s.Walk.LastAnswered(); undo.Question != "" {
		undoable = true
		prompt += ", u undo the last answer"
	}
	answer, err := l.ask(prompt)
	if err != nil {
		return err
	}
	switch {
	case q.Typed != "" && strings.EqualFold(answer, q.Typed): // a tag may end in no
		return l.send(sequence.Answered{Question: q.ID, Answer: sequence.Yes, Typed: answer})
	case strings.EqualFold(answer, "no") && q.OfWork():
		return errHazard
	case strings.EqualFold(answer, "no"):
		return l.send(sequence.Answered{Question: q.ID, Answer: sequence.No})
	case strings.EqualFold(answer, "a") && q.MayNot:
		reason, err := l.ask("Why it does not apply")
		if err != nil {
			return err
		}
		return l.send(sequence.Answered{Question: q.ID, Answer: sequence.NotApplicable, Reason: reason})
	case strings.EqualFold(answer, "r") && release:
		n, err := l.named()
		if err != nil {
			return err
		}
		return l.send(sequence.Released{Of: sequence.OfQuestion, Question: q.ID, Named: n})
	case strings.EqualFold(answer, "u") && undoable:
		return l.send(undo)
	case q.Typed != "" && answer != "":
		l.say("OTHER TAG: %s", sequence.OtherTag)
		return l.send(q.TypedAnswer(answer))
	case strings.EqualFold(answer, "yes"):
		d := sequence.Answered{Question: q.ID, Answer: sequence.Yes}
		for _, asked := range q.Asks {
			text, err := l.ask(asked.Prompt())
			if err != nil {
				return err
			}
			d.Told = append(d.Told, text)
		}
		return l.send(d)
	}
	return l.unknown(prompt)
}

func (l *liner) named() (sequence.Named, error) { return l.namedFor("Reason") }

// namedFor asks who decides, and for what reason or after a look at what.
func (l *liner) namedFor(reason string) (n sequence.Named, err error) {
	for _, f := range []struct {
		label string
		to    *string
	}{{"Name, not the operator", &n.Name}, {"Role", &n.Role}, {reason, &n.Reason}} {
		if *f.to, err = l.ask(f.label); err != nil {
			return n, err
		}
		if f.to != &n.Name || n.Name == "" {
			continue
		}
		if err := l.s.Walk.MayDecide(n.Name); err != nil {
			l.say("NOT TAKEN: %v", err)
			return n, errAgain
		}
	}
	return n, nil
}
