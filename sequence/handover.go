package sequence

import (
	"errors"
	"fmt"
	"strings"
	"time"
)

// handOver gives the work to whoever signs on next. The pressure is set and
// read again by that person.
func (w *Walk) handOver(d HandedOver) error {
	if strings.TrimSpace(d.State) == "" {
		return errors.New("say what is on the flange now: tool, hose, air")
	}
	w.signedOn, w.set, w.handed = false, nil, strings.TrimSpace(d.State)
	return nil
}

// OnFlangeWord asks what is on the flange at a handover.
const OnFlangeWord = "What is on the flange now: tool hanging, hose, air off"

// Told is one line of a handover.
type Told struct{ Label, Text string }

// HandoverWords are what two people go through when the work changes hands:
// where the job stands, what is wrong, what is open, what comes next.
func (w Walk) HandoverWords(now time.Time) []Told {
	w = w.At(now)
	var problems, open, released []string
	for _, h := range w.held {
		problems = append(problems, fmt.Sprintf("%s: %s", w.boltName(h.Bolt, h.slot), h.Words()))
		open = append(open, "who decides about it")
	}
	problems = append(problems, w.outWords()...)
	for b, m := range w.marks {
		if m == MarkReleased {
			problems = append(problems, fmt.Sprintf("%s, released undone: %s", w.boltName(Bolt(b), w.SlotAt(Bolt(b))), w.why[b]))
		}
		if m == MarkLeft && !w.isOut(Bolt(b)) {
			problems = append(problems, fmt.Sprintf("%s was left: %s", w.boltName(Bolt(b), w.SlotAt(Bolt(b))), w.why[b]))
			open = append(open, fmt.Sprintf("bolt %d, or who releases it", b))
		}
	}
	for _, i := range w.openQuestions() {
		open = append(open, "the question: "+w.text(w.plan.Questions[i]))
	}
	for i, h := range w.plan.Hold {
		if who := w.holds[i]; who != "" {
			released = append(released, fmt.Sprintf("%s by %s", h.Name, who))
		} else {
			open = append(open, "hold point "+h.Name)
		}
	}
	return []Told{{"stands", w.standing()}, {"bolts", w.lastAndNext()}, {"pressure", w.pressureNow()},
		{"problems", orNone(problems)}, {"open", orNone(open)}, {"next", strings.Join(w.ahead(now), ", then ")},
		{"witnessed", orNone(released)}, {"so far", orNone(w.exceptions)}}
}

// counted says how many, in words of its own for one.
func counted(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return fmt.Sprintf(more, n)
}

func orNone(all []string) string {
	if len(all) == 0 {
		return "none"
	}
	return strings.Join(all, "; ")
}

// standing says where in the job the walk is.
func (w Walk) standing() string {
	switch w.phase {
	case phasePass, phaseCheck:
		p := w.Under() // a new bolt alone is told with the problems
		text := fmt.Sprintf("pass %d of %d at %s", p.Pass, p.Of, p.Share.Text())
		if p.Round > 0 {
			text = "check round " + p.roundName() + " at full torque"
		}
		return text + fmt.Sprintf(", %d of %d bolts done", w.done(), w.plan.Bolts)
	case phaseGate:
		return "at the gate"
	case phaseMaterials, phaseSnug, phaseSnugGaps:
		return "before the first pass"
	case phasePassGaps:
		return fmt.Sprintf("after the pass at %s, before its gaps", w.plan.Passes[w.pass].Share.Text())
	case phaseRest:
		return "the gasket rests after the check rounds"
	case phaseStretch:
		return fmt.Sprintf("all bolts done, %d of %d studs measured", w.done(), w.plan.Bolts)
	}
	return "all bolts done, before closing"
}

func (w Walk) lastAndNext() string {
	if w.phase != phasePass && w.phase != phaseCheck {
		return "none at hand"
	}
	last, next := w.Last(1), w.next(1)
	text := "none of this pass is done"
	if len(last) > 0 {
		text = "last done: " + takeBack(last[0]).Words()
	}
	if len(next) > 0 {
		text += ", next: " + takeBack(next[0]).Words()
	}
	return text
}

// pressureNow says what is set, with the tool and its gauge.
func (w Walk) pressureNow() string {
	var all []string
	for _, slot := range w.InUse() {
		t, value := w.tool(slot), "not set"
		if w.slotIsSet(slot) {
			value = t.Gauged(w.current(slot).Set) + " " + State(t)
		}
		all = append(all, fmt.Sprintf("%s, tool %s, gauge %s", value, OrNone(t.ID), OrNone(t.Gauge.ID)))
	}
	return strings.Join(all, "; ")
}

// ahead is the next three steps, in words; questions that are open are told apart.
func (w Walk) ahead(now time.Time) []string {
	w.answers, w.signedOn = make([]state, len(w.answers)), true
	var all []string
	step := w.step(now)
	release, held := step.(Release)
	switch {
	case held && release.Of == OfHold:
		all = append(all, "hold point "+release.Hold)
	case held:
		all = append(all, stepName(step))
	}
	left, set, gauge := w.left(), "set the pressure, read it back", "the gauge again"
	if !w.isSet() && left > 0 && (w.phase == phasePass || w.phase == phaseCheck) {
		all = append(all, set)
	}
	if r := w.redo; r.bolt > 0 {
		all = append(all, w.boltName(r.bolt, w.plan.SlotOf(r.bolt))+" again at "+w.shares(r.next, r.upTo))
	}
	switch w.phase {
	case phasePass:
		if left > 0 {
			all = append(all, counted(left, "the last bolt of this pass", "the %d bolts left in this pass"))
		}
		if !w.ended() {
			all = append(all, gauge)
		}
		all = append(all, "the gaps after the pass", set)
	case phaseCheck:
		after := "the last gaps"
		if w.series == 0 && w.plan.Rest > 0 {
			after = "the rest of the gasket"
		}
		switch {
		case left > 0:
			all = append(all, counted(left, "the last nut of this round", "the %d nuts left in this round"), "rounds until no nut moves")
		case !w.ended():
			all = append(all, gauge)
		}
		all = append(all, after)
	case phaseRest:
		all = append(all, "wait for the end of the rest", set, "check rounds until no nut moves")
	default:
		if !held {
			all = append(all, stepName(step))
		}
	}
	return all[:min(3, len(all))]
}

// BetterLater advises against a handover in the middle of a pass, empty
// elsewhere and where the pass cannot go on (common practice).
func (w Walk) BetterLater(now time.Time) string {
	w = w.At(now)
	if _, held := w.step(now).(Release); held {
		return ""
	}
	left := w.left()
	if w.phase != phasePass && w.phase != phaseCheck || left == 0 || left == w.plan.Bolts {
		return ""
	}
	return "In the middle of a pass: if you can, do " + counted(left, "its last bolt", "its other %d bolts") + " first, and hand over then."
}

// HandedWord says who handed over and what is on the flange, empty when nobody did.
func (s SignOn) HandedWord() string {
	if s.OnFlange == "" {
		return ""
	}
	return fmt.Sprintf("%s handed over. On the flange: %s", s.Before, s.OnFlange)
}
