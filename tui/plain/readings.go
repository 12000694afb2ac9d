package plain

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// number asks for a reading in a unit: comma, point or space. Where the gauge is
// read, another tool can be taken too.
func (l *liner) number(prompt, in string, optional bool) (float64, error) {
	d, err := l.parsed(prompt, in, optional, func(text, in string) (unit.Difference, error) {
		v, err := unit.ParseReading(text, in)
		return unit.Difference{Value: v}, err
	})
	return d.Value, err
}

// parsed asks for what parse reads in a unit.
func (l *liner) parsed(prompt, in string, optional bool, parse func(text, in string) (unit.Difference, error)) (unit.Difference, error) {
	last, undoable := l.s.Walk.Undoable()
	tool, hand := false, false
	what := "takes back " + l.s.Walk.TakesBack()
	switch s := l.s.Walk.Next(l.now()).(type) {
	case sequence.Set:
		tool, hand = s.MayChange(), !s.AtEnd
	case sequence.GapCheck, sequence.Stretch:
		hand = true
	case sequence.Ask:
		last = sequence.Undone{Question: l.s.Walk.LastAnswered()}
		undoable, what = last.Question != "", "undoes the last answer"
	}
	if undoable {
		prompt += " (u " + what + ")"
	}
	for {
		text, err := l.choose(prompt)
		if err != nil || text == "" && optional {
			return unit.Difference{}, err
		}
		switch {
		case text == "h" && hand:
			return unit.Difference{}, again(l.handOver())
		case text == "n":
			return unit.Difference{}, again(l.note())
		case text == "t" && tool:
			return unit.Difference{}, errTool
		case text == "u" && undoable:
			return unit.Difference{}, again(l.send(last))
		}
		d, err := parse(text, in)
		if err == nil {
			return d, nil
		}
		l.say("NOT TAKEN: %v", err) // what was read before stays
	}
}

// again puts the step anew after something else was done in place of a reading.
func again(err error) error {
	if err != nil {
		return err
	}
	return errAgain
}

func (l *liner) gaps(s sequence.GapCheck) error {
	l.say("CAUTION: %s", sequence.GapHint)
	l.owed()
	l.readings(s)
	for _, w := range l.s.Walk.GapWords(s, l.system) {
		l.say("NOT EVEN: %s", w)
	}
	if s.Over != nil {
		const prompt = "m measure again, a accept by a named person, h hand over, n note"
		answer, err := l.choose(prompt)
		if err != nil {
			return err
		}
		switch answer {
		case "m":
		case "a":
			n, err := l.named()
			if err != nil {
				return err
			}
			return l.send(sequence.GapsAccepted{Named: n})
		case "h":
			return l.handOver()
		case "n":
			return l.note()
		default:
			return l.unknown(prompt)
		}
	}
	name, factor := l.shortUnit()
	limit := "GAPS: spread at most " + s.Limit.Text(l.system)
	if s.Before >= 0 {
		limit += ", and at most " + s.Same.Text(l.system) + " above the " + s.Before.Text(l.system) + " before"
	}
	l.say("%s. %s", limit, s.TakeWords())
	var readings []sequence.Gap
	if s.All {
		for _, b := range s.Places {
			v, err := l.number(fmt.Sprintf("Gap beside bolt %d, %s", b, name), name, false)
			if err != nil {
				return err
			}
			readings = append(readings, sequence.Gap{Bolt: b, Gap: unit.Length(v * factor)})
		}
		return l.sendGaps(s, readings)
	}
	for _, which := range []string{"Widest", "Narrowest"} {
		v, err := l.number(which+" gap, "+name, name, false)
		if err != nil {
			return err
		}
		text, err := l.ask("Beside bolt")
		if err != nil {
			return err
		}
		b, err := strconv.Atoi(text)
		if err != nil {
			l.say("NOT TAKEN: %q is no bolt number", text)
			return errAgain
		}
		readings = append(readings, sequence.Gap{Bolt: sequence.Bolt(b), Gap: unit.Length(v * factor)})
	}
	if readings[0].Gap < readings[1].Gap {
		l.say("NOT TAKEN: the widest gap is smaller than the narrowest: read them again")
		return errAgain
	}
	return l.sendGaps(s, readings)
}

// sendGaps has a measurement accepted, and says its spread and trend. Where it
// is beyond its limit the step is asked again, with all that is to be said.
func (l *liner) sendGaps(s sequence.GapCheck, readings []sequence.Gap) error {
	before := l.s.Walk
	if err := l.send(sequence.GapsMeasured{Readings: readings}); err != nil {
		return err
	}
	r := before.JudgeGaps(s, readings)
	if !r.OverLimit && !r.Grown {
		l.say("GAPS TAKEN: %s", strings.Join(before.SpreadWords(s, r, l.system), " "))
	}
	return nil
}

// readings says the measurement that is not even, reading by reading, or the
// one before.
func (l *liner) readings(s sequence.GapCheck) {
	word, all := "BEFORE", s.Was
	var r sequence.GapResult
	if s.Over != nil {
		word, all, r = "READ", s.Over.Readings, *s.Over
	}
	var parts []string
	for _, g := range all {
		text := fmt.Sprintf("bolt %d %s", g.Bolt, g.Gap.Text(l.system))
		switch {
		case s.Over != nil && g == r.Widest:
			text += " widest"
		case s.Over != nil && g == r.Narrowest:
			text += " narrowest"
		}
		parts = append(parts, text)
	}
	if len(parts) > 0 {
		l.say("%s: %s", word, strings.Join(parts, ", "))
	}
}

func (l *liner) set(s sequence.Set) error {
	l.say("CAUTION: %s", s.Caution())
	if s.Letter != "" {
		l.say("TOOL %s %s, gauge %s", s.Letter, sequence.OrNone(s.Tool.ID), sequence.OrNone(s.Tool.Gauge.ID))
	}
	for _, w := range s.TeamWords() {
		l.say("%s", w)
	}
	if again := s.RepeatWord(); again != "" && !s.AtEnd {
		l.say("AGAIN: %s", again)
	}
	l.say("%s (in band %s, gives %s, %s)", strings.Join(s.SetWords(), " "), s.Tool.Band(s.Setting), s.Delivered.Text(l.system), sequence.MadeIn(s.Tool))
	if s.AtEnd {
		l.say("%s", s.HeldWords())
	} else {
		l.say("%s", sequence.TooHighWord)
	}
	if s.MayChange() {
		l.say("KEYS: t, where a reading is asked for, changes tool, hose or regulator")
	}
	static := s.Tool.Reading == joint.Static
	u := s.Tool.Gauge.Unit
	d := sequence.PressureSet{AtEnd: s.AtEnd, Tool: s.Slot}
	if !static {
		v, err := l.number("Reading while it runs, "+string(u), string(u), false)
		if err != nil {
			return err
		}
		d.Running = u.Of(v)
	}
	if static || !s.AtEnd {
		prompt := "Reading at rest, " + string(u)
		if !static {
			prompt += ", may stay empty"
		}
		v, err := l.number(prompt, string(u), !static)
		if err != nil {
			return err
		}
		d.Static = u.Of(v)
	}
	if _, err := l.s.Walk.Apply(l.event(d)); errors.Is(err, sequence.ErrLookAgain) {
		l.say("LOOK AGAIN: %v", err)
		answer, err := l.choose("y keeps it")
		if err != nil {
			return err
		}
		d.Sure = answer == "y"
	}
	return l.send(d)
}
