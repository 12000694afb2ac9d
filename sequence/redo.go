package sequence

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
)

// redo is the bringing up of one new bolt to its neighbours, pass by pass. The
// zero value is none.
type redo struct {
	bolt Bolt
	next int // index of the pass that comes next for it
	upTo int // passes
}

// completed counts the passes that are done.
func (w Walk) completed() int {
	switch w.phase {
	case phaseCheck:
		return len(w.plan.Passes)
	case phasePassGaps:
		return w.pass + 1
	}
	return w.pass
}

// takeOut takes a bolt whose parts have to be replaced. A broken stud holds the
// work, and so does a second bolt out at the same time, or one out after the
// first pass: the joint has lost load.
func (w *Walk) takeOut(d ProblemFound) error {
	b, why := d.Bolt, ""
	if w.isOut(b) {
		return fmt.Errorf("bolt %d is out already: its parts have to be replaced", b)
	}
	w.except("bolt %d %s %s", b, d.Words(), w.during())
	if w.phase > phaseCheck || w.phase == phaseCheck && len(w.ends) > 0 { // the last round is over
		w.roundsAgain(fmt.Sprintf("for bolt %d, which went out", b))
	}
	switch {
	case len(w.out) > 0:
		why = fmt.Sprintf("Bolt %s is out already, and only one may be at a time.", BoltList(w.out))
	case w.completed() > 0:
		why = "The first pass is done: without this bolt the joint loses load."
	}
	w.open(b)
	w.out, w.outHere = and(w.out, b), and(w.outHere, b)
	w.marks = with(w.marks, int(b), MarkLeft)
	w.why = with(w.why, int(b), d.Words())
	w.paceFrom = time.Time{}
	if why != "" || d.What == Broke {
		w.hold(d, why)
	}
	if w.redo.bolt == b {
		w.endRedo() // its tool stands at the pressure of the pass that it repeated
	}
	return nil
}

// roundsAgain owes every check round again for a bolt that went out or came in, and what
// comes behind them: a rest that was not over begins anew, studs, gaps and leak test come
// again.
func (w *Walk) roundsAgain(why string) {
	if w.phase > phaseCheck {
		w.behindAgain()
	}
	w.startCheck(why)
}

// behindAgain opens what was done behind the check rounds.
func (w *Walk) behindAgain() {
	w.studs, w.stretched, w.gaps, w.leak = nil, nil, nil, ""
	w.drop(AtEnd)
	if w.phase == phaseEnd { // the tool is off the joint, and pressure may have been on it
		w.doubt(func(Question) bool { return true })
	}
	w.holds = slices.Clone(w.holds)
	for i, h := range w.plan.Hold {
		if h.At == HoldBeforeClose || h.At == HoldBeforeRest && w.series == 0 {
			w.holds[i] = "" // what was looked at is open again
		}
	}
}

// restBehind says that the gasket has rested already: a new bolt has no rest.
func (w *Walk) restBehind() bool {
	return w.plan.Rest > 0 && w.phase == phaseCheck && w.series > 0
}

func (w *Walk) isOut(b Bolt) bool { return slices.Contains(w.out, b) }

// replaced takes a bolt in again: it repeats each pass that is done.
func (w *Walk) replaced(d Replaced) error {
	switch {
	case !w.isOut(d.Bolt):
		return fmt.Errorf("bolt %d is not out", d.Bolt)
	case w.redo.bolt > 0:
		return fmt.Errorf("bolt %d is being brought up to its neighbours: finish it first", w.redo.bolt)
	case strings.TrimSpace(d.Batch) == "":
		return errors.New("the batch of the new parts is needed")
	}
	w.out = slices.DeleteFunc(slices.Clone(w.out), func(b Bolt) bool { return b == d.Bolt })
	w.partsFirst = w.partsFirst && len(w.out) > 0
	w.open(d.Bolt)
	w.except("bolt %d has new parts, batch %s", d.Bolt, d.Batch)
	if w.plan.Rules >= 3 && w.restBehind() {
		w.except("bolt %d got them after the rest of the gasket: it had none", d.Bolt)
	}
	w.askAll(AtParts)
	if w.phase >= phaseCheck {
		w.roundsAgain(fmt.Sprintf("for the new parts of bolt %d", d.Bolt))
	}
	if n := w.completed(); n > 0 {
		w.redo = redo{bolt: d.Bolt, upTo: n}
		w.set = nil
	}
	return nil
}

// again takes a bolt that was done at the pass that it repeats.
func (w *Walk) again(s Tighten, at time.Time) {
	w.redo.next++
	w.set = nil
	w.markedAt = w.notBefore(at)
	w.paceFrom = time.Time{}
	w.touched(s.Turns[0].Slot, s.Bolts[0])
}

// endRedo goes back to the pass or round.
func (w *Walk) endRedo() {
	w.redo = redo{}
	w.set = nil
}

// troubleStep is what comes before the pass or round goes on: the bringing up of a
// new bolt, or new parts.
func (w *Walk) troubleStep() Step {
	if w.redo.bolt > 0 {
		return w.redoStep()
	}
	return w.partsStep()
}

// heldRelease asks a named person about the problem that holds the work.
func (w *Walk) heldRelease() Step {
	h := w.held[len(w.held)-1]
	during := ""
	if w.phase != phasePass && w.phase != phaseCheck {
		during = w.during()
	}
	return Release{Of: OfProblem, During: during, Place: w.place(), Bolt: h.Bolt, Reason: h.Words(), What: h.What, Why: h.why,
		Slot: h.slot, Letter: w.letter(h.slot), Read: h.Read, Band: w.current(h.slot)}
}

// redoStep is what is next for the new bolt.
func (w *Walk) redoStep() Step {
	if !w.isSet() {
		return w.setStep(false)
	}
	turns := w.turns(Station{w.redo.bolt})
	return Tighten{Place: w.place(), Bolts: []Bolt{w.redo.bolt}, Turns: turns, Off: w.off(turns),
		Work: Work{Tool: turns[0].Tool, Setting: turns[0].Setting, Done: w.redo.next, Left: w.redo.upTo - w.redo.next}}
}

// OwedWords say what is left to do for bolts that were left, that are out, or
// that are new.
func (w Walk) OwedWords() []string {
	words := w.outWords()
	for b := Bolt(1); int(b) < len(w.marks); b++ {
		if w.marks[b] == MarkLeft && !w.isOut(b) {
			words = append(words, fmt.Sprintf("%s was left: to be done, or released, at the end", w.boltName(b, w.SlotAt(b))))
		}
	}
	return words
}

// outWords say what is owed to bolts that are out or new.
func (w Walk) outWords() []string {
	var words []string
	if r := w.redo; r.bolt > 0 {
		words = append(words, fmt.Sprintf("%s: again at %s%s", w.boltName(r.bolt, w.plan.SlotOf(r.bolt)), w.shares(r.next, r.upTo), w.then()))
	}
	for _, b := range w.out {
		text := w.boltName(b, w.plan.SlotOf(b)) + " is out: replace stud and nuts"
		if n := w.completed(); n > 0 {
			text += ", again at " + w.shares(0, n)
		}
		words = append(words, text+w.then())
	}
	return words
}

// boltName is a bolt, where the job has several tools with the one of a slot.
func (w Walk) boltName(b Bolt, slot int) string {
	if !w.plan.Several() {
		return fmt.Sprintf("bolt %d", b)
	}
	return fmt.Sprintf("bolt %d (tool %s)", b, Letter(slot))
}

// shares lists those of passes: "30 %, 60 %".
func (w Walk) shares(from, to int) string {
	var parts []string
	for _, p := range w.plan.Passes[from:max(from, to)] {
		parts = append(parts, p.Share.Text())
	}
	return strings.Join(parts, ", ")
}

func (w Walk) then() string {
	next := w.pass // the pass that comes, or is under way
	switch w.phase {
	case phaseSnug, phaseSnugGaps, phasePass:
	case phasePassGaps:
		next++
	default:
		next = len(w.plan.Passes)
	}
	if next < len(w.plan.Passes) {
		return ", then " + w.plan.Passes[next].Share.Text() + " in its turn"
	}
	return ", then a check round"
}

// Out lists the bolts whose parts have to be replaced.
func (w Walk) Out() []Bolt { return slices.Clone(w.out) }

// LeftBolts are those of this pass or round that were left and can be done now.
func (w Walk) LeftBolts() []Bolt { return slices.DeleteFunc(w.markedAs(MarkLeft), w.isOut) }

// markedAs lists the bolts with a mark.
func (w Walk) markedAs(m Mark) []Bolt {
	var bolts []Bolt
	for b, is := range w.marks {
		if is == m && b > 0 {
			bolts = append(bolts, Bolt(b))
		}
	}
	return bolts
}
