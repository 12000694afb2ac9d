package plain

import (
	"fmt"
	"slices"
	"strings"

	"evenload/sequence"
)

// owed says what is left to do for bolts that were left, that are out, or new.
func (l *liner) owed() {
	for _, w := range l.s.Walk.At(l.now()).OwedWords() {
		l.say("OWED: %s", w)
	}
}

// station says which tool takes which bolt.
func (l *liner) station(s sequence.Tighten) {
	l.say("CAUTION: %s", s.Caution())
	if s.Redo == 0 {
		l.say("CAUTION: %s", sequence.TeamArms)
	}
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
	l.say("BOLTS %s, %s; %s", sequence.TurnWords(s.Turns), s.ThenWords(), s.LeftWords())
}

// bolt takes a mark of the bolts at hand, or what else may be wanted there.
func (l *liner) bolt(prompt string, bolts []sequence.Bolt, again bool, marks map[string]sequence.Data) error {
	l.owed()
	shown := l.now()
	answer, err := l.choose(prompt)
	if err != nil {
		return err
	}
	if slices.Contains([]string{"done", "still", "moved", "undo", "problem", "tool", "note"}, answer) {
		answer = answer[:1]
	}
	if d, ok := marks[answer]; ok {
		if l.now().Sub(shown) < l.opt.KeyRest {
			l.say("NOT DONE: that line came as soon as the bolt was shown. Do the bolt, then type it once")
			return errAgain
		}
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
		return l.problemAt(bolts, again)
	case "t":
		return l.toolOf()
	}
	return l.unknown(prompt)
}

// problemAt asks first which bolt of a station it is about.
func (l *liner) problemAt(bolts []sequence.Bolt, again bool) error {
	if len(bolts) == 1 {
		return l.problem(bolts[0], again)
	}
	l.say("CAUTION: %s", sequence.ProblemHint)
	prompt := "Which bolt"
	key := func(b sequence.Bolt) string { return strings.ToLower(sequence.Letter(l.s.Walk.At(l.now()).SlotAt(b))) }
	for _, b := range bolts {
		prompt += fmt.Sprintf(", %s bolt %d", key(b), b)
	}
	which, err := l.choose(prompt)
	if err != nil {
		return err
	}
	for _, b := range bolts {
		if which == key(b) {
			return l.problem(b, again)
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

func (l *liner) rest(s sequence.Rest) error {
	prompt := "g go on, h hand over, n note"
	last, undoable := l.s.Walk.Undoable()
	if undoable = undoable && !s.Over; s.Over {
		l.say("REST: it ended at %s. Next: set the pressure again, then check rounds until no nut moves.", l.clock(s.Until))
	} else {
		l.say("REST: until %s. %s", l.clock(s.Until), sequence.RestHint)
		prompt = "g go on when it is over, w waive by a named person and with it the check round after it, h hand over, n note"
	}
	if undoable {
		prompt += ", u take back " + l.s.Walk.TakesBack()
	}
	answer, err := l.choose(prompt)
	if err != nil {
		return err
	}
	switch {
	case answer == "g":
		return l.send(sequence.RestOver{})
	case answer == "w" && !s.Over:
		n, err := l.named()
		if err != nil {
			return err
		}
		return l.send(sequence.RestWaived{Named: n})
	case answer == "h":
		return l.handOver()
	case answer == "n":
		return l.note()
	case answer == "u" && undoable:
		return l.send(last)
	}
	return l.unknown(prompt)
}

func (l *liner) release(s sequence.Release) error {
	l.say("CAUTION: %s", sequence.ReleaseHint)
	for _, w := range l.s.Walk.ReleaseWords(s) {
		l.say("HELD: %s", w)
	}
	prompt := "r " + s.GoOnWord() + ", h hand over, n note"
	takeBack, restart, studs := s.Of == sequence.OfBolt && !s.Out, s.Of == sequence.OfProblem, s.Of == sequence.OfStretch
	if studs {
		prompt = l.stretchPrompt(s) + prompt
	}
	out := l.s.Walk.Out()
	replace := len(out) > 0 && (s.Of == sequence.OfBolt || s.Of == sequence.OfRounds)
	if takeBack {
		prompt += ", t take it back and do it"
	}
	last, undoable := l.s.Walk.Undoable()
	if undoable = undoable && (s.Of == sequence.OfHold || studs); undoable {
		prompt += ", u take back " + l.s.Walk.TakesBack()
	}
	if replace {
		prompt += partsPrompt(out)
	}
	anew := s.Of == sequence.OfQualification
	if anew {
		prompt += ", s sign on anew"
	}
	if restart {
		prompt += ", s start again with a new gasket"
	}
	answer, err := l.choose(prompt)
	if err != nil {
		return err
	}
	switch {
	case answer == "t" && takeBack:
		return l.send(sequence.Undone{Bolt: s.Bolt})
	case studs && (answer == "m" || answer == "c" || answer == "w"):
		return l.studsOutside(s, answer)
	case answer == "x" && replace:
		return l.parts(out)
	case answer == "s" && anew:
		return l.send(sequence.Suspended{})
	case answer == "r" || answer == "s" && restart:
		if answer == "s" {
			l.say("%s", sequence.RestartWord)
		}
		n, err := l.namedFor(s.ReasonWord())
		if err != nil {
			return err
		}
		return l.send(sequence.Released{Of: s.Of, Bolt: s.Bolt, Tool: s.Slot, Restart: answer == "s", Hold: s.Hold, Named: n})
	case answer == "h":
		return l.handOver()
	case answer == "n":
		return l.note()
	case answer == "u" && undoable:
		return l.send(last)
	}
	return l.unknown(prompt)
}

func (l *liner) closeCard() error {
	l.say("CAUTION: %s", l.s.Walk.CloseCaution())
	for _, w := range l.s.Walk.NoStudWords() {
		l.say("%s", w)
	}
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
