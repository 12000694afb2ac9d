package plain

import (
	"fmt"
	"strings"

	"evenload/sequence"
)

// station says which tool takes which bolt.
func (l *liner) station(s sequence.Tighten) {
	l.say("CAUTION: %s", sequence.TeamHint)
	l.say("CAUTION: %s", sequence.TeamArms)
	for _, t := range s.Turns {
		text := fmt.Sprintf("TOOL %s %s: bolt %d, gauge %s %s, torque %s", t.Letter, sequence.OrNone(t.Tool.ID), t.Bolt,
			t.Tool.Gauged(t.Setting.Set), sequence.State(t.Tool), t.Setting.Delivered.Text(l.system))
		if t.Setting.Foot > 0 {
			text += ", foot " + t.Setting.Foot.Text(l.system) + " on its stop"
		}
		l.say("%s", text)
	}
	if off := s.OffWords(); off != "" {
		l.say("OFF: %s", off)
	}
	l.say("BOLTS %s, %s; %s", sequence.TurnWords(s.Turns), sequence.ThenWords(s.Then), s.LeftWords())
}

// bolt takes a mark of the bolts at hand, or what else may be wanted there.
func (l *liner) bolt(prompt string, turns []sequence.Turn, marks map[string]sequence.Data) error {
	answer, err := l.ask(prompt)
	if err != nil {
		return err
	}
	if d, ok := marks[answer]; ok {
		return l.send(d)
	}
	switch answer {
	case "u":
		last, ok := l.s.Walk.Undoable()
		if !ok {
			l.say("NOT TAKEN: nothing of this pass to take back")
			return errAgain
		}
		return l.send(last)
	case "n":
		return l.note()
	case "h":
		return l.handOver()
	case "p":
		return l.problemAt(turns)
	}
	return l.unknown(prompt)
}

// problemAt asks first which bolt of a station it is about.
func (l *liner) problemAt(turns []sequence.Turn) error {
	if len(turns) == 1 {
		return l.problem(turns[0].Bolt)
	}
	l.say("CAUTION: %s", sequence.ProblemHint)
	prompt := "Which bolt"
	for _, t := range turns {
		prompt += fmt.Sprintf(", %s bolt %d", strings.ToLower(t.Letter), t.Bolt)
	}
	which, err := l.ask(prompt)
	if err != nil {
		return err
	}
	for _, t := range turns {
		if which == strings.ToLower(t.Letter) {
			return l.problem(t.Bolt)
		}
	}
	return l.unknown(prompt)
}

// unknown says what an answer can be.
func (l *liner) unknown(prompt string) error {
	l.say("NOT TAKEN: %s", prompt)
	return errAgain
}

func (l *liner) note() error {
	text, err := l.ask("Note")
	if err != nil {
		return err
	}
	return l.send(sequence.NoteMade{Text: text})
}

func (l *liner) problem(b sequence.Bolt) error {
	l.say("CAUTION: %s", sequence.ProblemHint)
	prompt := fmt.Sprintf("1 bolt %d is left undone, 2 hazard: stop the work", b)
	what, err := l.ask(prompt)
	if err != nil {
		return err
	}
	if what != "1" && what != "2" {
		return l.unknown(prompt)
	}
	d := sequence.ProblemFound{Bolt: b}
	if what == "2" {
		d.Bolt = 0
	}
	if d.Reason, err = l.ask("What is wrong"); err != nil {
		return err
	}
	return l.send(d)
}

func (l *liner) rest(s sequence.Rest) error {
	l.say("REST: until %s. %s", l.clock(s.Until), sequence.RestHint)
	prompt := "g go on when it is over, w waive by a named person and with it the check round after it, h hand over, n note"
	last, undoable := l.s.Walk.Undoable()
	if undoable {
		prompt += ", u take back " + last.Words()
	}
	answer, err := l.ask(prompt)
	if err != nil {
		return err
	}
	switch answer {
	case "g":
		return l.send(sequence.RestOver{})
	case "w":
		n, err := l.named()
		if err != nil {
			return err
		}
		return l.send(sequence.RestWaived{Named: n})
	case "h":
		return l.handOver()
	case "n":
		return l.note()
	case "u":
		if undoable {
			return l.send(last)
		}
	}
	return l.unknown(prompt)
}

func (l *liner) release(s sequence.Release) error {
	l.say("CAUTION: %s", sequence.ReleaseHint)
	for _, w := range l.s.Walk.ReleaseWords(s) {
		l.say("HELD: %s", w)
	}
	prompt := "r release by a named person, n note"
	if s.Of == sequence.OfBolt {
		prompt += ", t take it back and do it"
	}
	last, undoable := l.s.Walk.Undoable()
	if undoable = undoable && s.Of == sequence.OfHold; undoable {
		prompt += ", u take back " + last.Words()
	}
	answer, err := l.ask(prompt)
	if err != nil {
		return err
	}
	switch {
	case answer == "t" && s.Of == sequence.OfBolt:
		return l.send(sequence.Undone{Bolt: s.Bolt})
	case answer == "r":
		n, err := l.namedFor(s.ReasonWord())
		if err != nil {
			return err
		}
		return l.send(sequence.Released{Of: s.Of, Bolt: s.Bolt, Tool: s.Slot, Hold: s.Hold, Named: n})
	case answer == "n":
		return l.note()
	case answer == "u" && undoable:
		return l.send(last)
	}
	return l.unknown(prompt)
}

func (l *liner) closeCard() error {
	l.say("CAUTION: %s", sequence.CloseHint)
	for _, e := range l.s.Walk.Exceptions() {
		l.say("NOT AS PLANNED: %s", e)
	}
	witness, err := l.ask("Witness, who did not work on the joint")
	if err != nil {
		return err
	}
	role, err := l.ask("Role")
	if err != nil {
		return err
	}
	return l.send(sequence.CardClosed{Witness: witness, Role: role})
}
