package sequence

import (
	"fmt"
	"strings"

	"evenload/joint"
)

// ReleaseWords says what has to be decided, and what for.
func (w Walk) ReleaseWords(r Release) []string {
	w.advance() // the release is of what comes behind what is complete
	t := w.tool(r.Slot)
	switch r.Of {
	case OfHold:
		return r.holdWords()
	case OfQualification:
		return []string{r.Reason, "A named person lets it count this time, with a reason. Somebody else, or who typed a wrong day, signs on anew."}
	case OfBolt:
		if r.Out {
			return append(w.OwedWords(), "Replace stud and nuts, lubricated, snug by hand; or have a named person let the "+r.Place.kind()+" go on without it.")
		}
		return []string{fmt.Sprintf("Bolt %d was left undone: %s", r.Bolt, r.Reason),
			"Take it back and do it, or have a named person let the work go on without it."}
	case OfPressure:
		words := append([]string{fmt.Sprintf("%s read %s at the end, the band is %s.", w.gaugeOf(r.Slot), t.Typed(r.Read), t.Band(r.Band))}, w.RiskWords(r.Slot, r.Read)...)
		return append(append(words, w.meantWords(r.Slot, r.Band)...), StallsHigh)
	case OfProblem:
		return w.problemWords(r)
	case OfStretch:
		return r.stretchWords(w.plan)
	case OfRounds:
		moved, unchecked := w.markedAs(MarkMoved), w.markedAs(MarkReleased)
		var words []string
		if len(moved) > 0 {
			words = []string{fmt.Sprintf("Nuts still moved in check round %d, the last one planned.", r.Rounds), "Moved: " + boltNames(moved) + ".",
				"More rounds seldom help: gasket, lubricant and setting are to be looked at."}
		}
		if len(unchecked) > 0 {
			words = append(words, fmt.Sprintf("Not checked in check round %d, the last one planned: %s.", r.Rounds, boltNames(unchecked)))
		}
		return append(words, "The responsible engineer decides whether the joint is good.")
	}
	return nil
}

// GoOnWord is what a named person's release lets happen.
func (r Release) GoOnWord() string {
	switch {
	case r.Of == OfBolt && r.Out:
		return fmt.Sprintf("go on WITHOUT bolt %d, by name", r.Bolt)
	case r.Of == OfBolt:
		return fmt.Sprintf("go on, bolt %d not done, by name", r.Bolt)
	}
	return "release by a named person"
}

// meantWords say what the bolts since the last good reading were meant for, nothing where
// there are none.
func (w Walk) meantWords(slot int, s joint.Setting) []string {
	if len(w.Risk(slot, 0).Bolts) == 0 {
		return nil
	}
	return []string{fmt.Sprintf("They were meant for %s; the setting gives %s.", s.Torque.Text(w.plan.System), s.Delivered.Text(w.plan.System))}
}

// roundsWord says what somebody released at the end of the last check round.
func (w Walk) roundsWord(rounds int) string {
	var parts []string
	if moved := w.markedAs(MarkMoved); len(moved) > 0 {
		parts = append(parts, fmt.Sprintf("nuts still moved in check round %d", rounds))
	}
	if unchecked := w.markedAs(MarkReleased); len(unchecked) > 0 {
		parts = append(parts, fmt.Sprintf("%s not checked in check round %d", boltNames(unchecked), rounds))
	}
	return strings.Join(parts, ", ")
}

// gaugeOf names the gauge of a tool in a sentence.
func (w Walk) gaugeOf(slot int) string {
	if !w.plan.Several() {
		return "The gauge"
	}
	return "The gauge of tool " + Letter(slot) + ", " + OrNone(w.tool(slot).ID) + ","
}

// problemWords says what holds the work, and what is at risk.
func (w Walk) problemWords(r Release) []string {
	t, _ := TroubleOf(r.What)
	words := []string{fmt.Sprintf("Bolt %d: %s.", r.Bolt, r.Reason)}
	if r.What == WrongPressure {
		tool := w.tool(r.Slot)
		words = []string{fmt.Sprintf("%s was found at %s, the band is %s.", w.gaugeOf(r.Slot), tool.Typed(r.Read), tool.Band(r.Band))}
		if note := strings.TrimSpace(strings.TrimPrefix(r.Reason, t.Name+", ")); note != t.Name {
			words[0] += " Note: " + note
		}
		words = append(append(words, w.RiskWords(r.Slot, r.Read)...), w.meantWords(r.Slot, r.Band)...)
		if r.Read < r.Band.Least {
			words = append(words, StallsLow)
		}
	}
	if r.Why != "" {
		words = append(words, r.Why, NewGasketWord)
	}
	if t.Takes() && w.restBehind() {
		words = append(words, "The rest of the gasket is behind: a new bolt comes without one, unless the engineer has it rest again.")
	}
	return append(words, t.Rule)
}
