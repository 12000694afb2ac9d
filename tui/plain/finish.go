package plain

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"evenload/joint/unit"
	"evenload/sequence"
)

// told says lines, each with its label.
func (l *liner) told(all []sequence.Told) {
	for _, t := range all {
		l.say("%s: %s", strings.ToUpper(t.Label), t.Text)
	}
}

// hazard stops the work. A number is one of the kinds, anything else says what is wrong.
func (l *liner) hazard() error {
	l.say("CAUTION: %s", sequence.StopHint)
	for _, k := range sequence.StopKinds {
		l.say("%s  %s", k.Key, k.Name)
	}
	l.say("%s  injury or near miss: help first", sequence.InjuryKey())
	elsewhere := sequence.Shows(l.s.Walk.Next(l.now()))
	if elsewhere {
		l.say("%s  %s", sequence.ElsewhereKey, sequence.ElsewhereName)
	}
	text, err := l.ask("What is wrong at the joint, " + sequence.StopKeys(elsewhere) + ", " + sequence.InjuryKey() + " or in words")
	switch {
	case strings.EqualFold(text, sequence.InjuryKey()):
		injury, _ := sequence.TroubleOf(sequence.Injury)
		err := l.trouble(injury, 0, false)
		if errors.Is(err, errHazard) { // it stands
			return nil
		}
		return err
	case elsewhere && text == sequence.ElsewhereKey:
		err := l.elsewhere()
		if errors.Is(err, errHazard) {
			return l.hazard()
		}
		return err
	case errors.Is(err, errHazard):
		text, err = "stop", nil
	case errors.Is(err, errLeave): // whoever asked for a stop gets it
		return errors.Join(l.send(sequence.ProblemFound{What: sequence.OtherHazard, Reason: sequence.NotSaid}), err)
	case err != nil:
		return err
	}
	for _, k := range sequence.StopKinds {
		if text == k.Key {
			return l.stopped(k)
		}
	}
	if text == "" || strings.Trim(text, "0123456789") == "" {
		l.say("NOT TAKEN: choose from the list, or say in a word what is wrong")
		return l.hazard()
	}
	return l.send(sequence.ProblemFound{What: sequence.OtherHazard, Reason: text})
}

// stopped stops the work first and asks for words afterwards, so that the stop
// stands whatever comes of them.
func (l *liner) stopped(k sequence.StopKind) error {
	if k.Noted() {
		text, err := l.ask("What is wrong")
		if err != nil || text == "" {
			text = sequence.NotSaid
		}
		return errors.Join(l.send(sequence.ProblemFound{What: k.What, Reason: text}), leaving(err))
	}
	if err := l.send(sequence.ProblemFound{What: k.What}); err != nil {
		return err
	}
	note, err := l.ask("Note, may stay empty")
	if err != nil || note == "" {
		return leaving(err)
	}
	return l.send(sequence.NoteMade{Text: note})
}

// leaving is an error that ends the walk, nil for any other.
func leaving(err error) error {
	if errors.Is(err, errLeave) {
		return err
	}
	return nil
}

// shortUnit is what small lengths are typed in, and how long one of it is.
func (l *liner) shortUnit() (name string, one float64) {
	if l.system == unit.US {
		return "in", unit.Inch
	}
	return "mm", unit.Millimetre
}

// measured takes the readings of the alignment, or a release of those before.
func (l *liner) measured(s sequence.Ask) error {
	if s.SaidNo {
		if s.Read != nil {
			for _, w := range s.Read.Words(*l.s.Walk.Plan().Alignment, l.system) {
				l.say("READ: %s", w)
			}
		}
		prompt := "m measure again, r release by a named person"
		before := l.s.Walk.LastAnswered()
		if before != "" {
			prompt += ", u undo the last answer"
		}
		answer, err := l.choose(prompt)
		if err != nil {
			return err
		}
		switch {
		case answer == "m":
		case answer == "u" && before != "":
			return l.send(sequence.Undone{Question: before})
		case answer == "r":
			n, err := l.named()
			if err != nil {
				return err
			}
			return l.send(sequence.Released{Of: sequence.OfQuestion, Question: s.Question.ID, Named: n})
		default:
			return l.unknown(prompt)
		}
	}
	name, one := l.shortUnit()
	var a sequence.Alignment
	to := []*unit.Length{&a.Offset, &a.Parallel, &a.Holes, &a.Gap}
	limits := *l.s.Walk.Plan().Alignment
	for i, r := range a.Readings(limits) {
		prompt := fmt.Sprintf("%s, %s, at most %s", r.Name, name, r.Limit.Text(l.system))
		if r.IsDifference() {
			d, err := l.parsed(prompt+", or "+sequence.GapsExample(l.system), name, false, unit.ParseDifference)
			if err != nil {
				return err
			}
			*to[i], a.Widest, a.Narrowest = unit.Length(d.Value*one), unit.Length(d.More*one), unit.Length(d.Less*one)
			continue
		}
		v, err := l.number(prompt, name, false)
		if err != nil {
			return err
		}
		*to[i] = unit.Length(v * one)
	}
	return l.send(l.s.Walk.Aligned(s.Question, a))
}

// stretch takes the stretch of one stud.
func (l *liner) stretch(s sequence.Stretch) error {
	l.say("CAUTION: %s", sequence.StretchHint)
	l.say("STUD OF BOLT %d: %s. %s", s.Bolt, s.BandWords(l.system), sequence.StretchWord)
	name, one := l.shortUnit()
	read, err := l.parsed("Stretch, "+name+", or now less before: "+sequence.LengthsExample(l.system), name, false, unit.ParseDifference)
	if err != nil {
		return err
	}
	d := l.s.Walk.StretchOf(s.Bolt, unit.Length(read.Value*one)).Of(unit.Length(read.Less*one), unit.Length(read.More*one))
	if err := l.send(d); err != nil {
		return err
	}
	l.say("MEASURED: %s", d.Words(l.s.Walk.Plan()))
	return nil
}

// leakTest takes the result of the leak test.
func (l *liner) leakTest() error {
	l.say("CAUTION: %s", sequence.LeakHint)
	l.say("%s", sequence.LeakWord)
	const prompt = "1 tight, 2 it leaked, 3 not tested here, h hand over, n note"
	answer, err := l.choose(prompt)
	if err != nil {
		return err
	}
	var d sequence.LeakTested
	switch answer {
	case "1":
		d.Result = sequence.Tight
		d.Sheet, err = l.ask("Test sheet, may stay empty")
	case "3":
		d.Result = sequence.Untested
		d.Note, err = l.ask(sequence.UntestedFor)
	case "2":
		d.Result = sequence.Leaked
		l.told(sequence.LeakedWords())
		if d.Bolts, err = l.boltNumbers("Beside bolts, such as 3 4"); err == nil {
			d.Note, err = l.ask("Note, may stay empty")
		}
	case "h":
		return l.handOver()
	case "n":
		return l.note()
	default:
		return l.unknown(prompt)
	}
	if err != nil {
		return err
	}
	return l.send(d)
}

// boltNumbers asks for numbers between spaces or commas.
func (l *liner) boltNumbers(prompt string) ([]sequence.Bolt, error) {
	text, err := l.ask(prompt)
	if err != nil {
		return nil, err
	}
	var all []sequence.Bolt
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' }) {
		n, err := strconv.Atoi(word)
		if err != nil {
			l.say("NOT TAKEN: %q is no bolt number", word)
			return nil, errAgain
		}
		all = append(all, sequence.Bolt(n))
	}
	return all, nil
}
