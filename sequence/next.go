package sequence

import (
	"slices"
	"time"
)

// Next is the one thing to do now. It asks again what a long break until now
// puts in doubt.
func (w Walk) Next(now time.Time) Step {
	at := w.At(now)
	return at.step(now)
}

// At is the walk when time has passed up to now and what is complete was left:
// what a screen draws. An undo reaches back behind it.
func (w Walk) At(now time.Time) Walk {
	w.tick(now)
	w.advance()
	return w
}

// step is the next thing to do when time has passed and what is complete was left.
func (w *Walk) step(now time.Time) Step {
	switch {
	case w.closed:
		return Closed{At: w.last}
	case w.stopped != "":
		return Stop{Reason: w.stopped, What: w.stopWhat}
	case !w.signedOn:
		return SignOn{Before: w.operator, OnFlange: w.handed}
	case w.expired:
		return w.qualification()
	case w.phase == phaseRest && len(w.held) == 0:
		if hold, held := w.holdAt(); held {
			return hold
		}
		return Rest{Until: w.until, Over: !now.Before(w.until)}
	}
	if open := w.openQuestions(); len(open) > 0 && !(len(w.held) > 0 && w.plan.Questions[open[0]].When == AtEnd) {
		return w.ask(open[0])
	}
	if len(w.held) > 0 {
		return w.heldRelease()
	}
	if hold, held := w.holdAt(); held {
		return hold
	}
	switch w.phase {
	case phaseMaterials:
		return Materials{}
	case phaseSnug:
		return Snug{Snugging: w.plan.Snug, Order: w.plan.SnugOrder()}
	case phaseSnugGaps, phasePassGaps, phaseFinalGaps:
		return w.gapCheck()
	case phasePass:
		return w.passStep()
	case phaseCheck:
		return w.checkStep()
	case phaseStretch:
		return w.stretchStep()
	}
	if w.plan.LeakTest && w.leak == "" {
		return LeakTest{}
	}
	return Close{Leaked: w.leak == Leaked}
}

func (w *Walk) ask(i int) Ask {
	q := w.plan.Questions[i]
	q.Text = w.text(q)
	if q.When == AtGate && q.Heading == headReady && w.phase > phaseSnug {
		q.MayNot = true // the joint is closed: who cannot see it any more says so
	}
	a := Ask{Question: q, SaidNo: w.answers[i] == saidNo, Begun: w.phase > phaseSnug && len(w.ends) == 0}
	for j, other := range w.plan.Questions {
		if other.When == q.When {
			a.Of++
			if j <= i {
				a.Number++
			}
		}
	}
	if q.Measured && a.SaidNo {
		a.Read = w.aligned
	}
	if q.When == AtResume || q.When == AtHandover {
		a.Last = w.Last(3)
	}
	return a
}

func (w *Walk) place() Place {
	if r := w.redo; r.bolt > 0 && r.next < r.upTo {
		return Place{Pass: r.next + 1, Of: len(w.plan.Passes), Share: w.plan.Passes[r.next].Share, Redo: r.bolt}
	}
	p := Place{Pass: w.pass + 1, Of: len(w.plan.Passes), Share: w.plan.Passes[w.pass].Share, Repeat: w.repeat, NewTool: w.newTool}
	if w.phase == phaseCheck {
		p.Round, p.RoundSet = w.round, len(w.sets)
	}
	return p
}

func (w *Walk) passStep() Step {
	if step := w.troubleStep(); step != nil {
		return step
	}
	if !w.ended() && w.allMarked() {
		if left := w.markedAs(MarkLeft); len(left) > 0 {
			return w.leftRelease(left[0])
		}
		return w.setStep(true)
	}
	if slot := w.highSlot(); slot >= 0 {
		return w.highRelease(slot)
	}
	if !w.isSet() {
		return w.setStep(false)
	}
	next := w.next(3)
	turns := w.turns(next[0])
	return Tighten{Place: w.place(), Bolts: next[0], Turns: turns, Off: w.off(turns), Then: next[1:], Work: w.work(turns[0].Slot)}
}

func (w *Walk) checkStep() Step {
	if step := w.troubleStep(); step != nil {
		return step
	}
	next := w.next(3)
	if len(next) == 0 {
		if left := w.markedAs(MarkLeft); len(left) > 0 {
			return w.leftRelease(left[0])
		}
		slot := w.highSlot()
		switch used := w.roundsUsedUp(); {
		case slot >= 0:
			return w.highRelease(slot)
		case used && (w.ended() || w.plan.Rules < 3):
			return Release{Of: OfRounds, Place: w.place(), Rounds: w.round}
		}
		return w.setStep(true)
	}
	if !w.isSet() {
		return w.setStep(false)
	}
	moved := append(slices.Clone(w.moved), w.notStill())
	return Check{Place: w.place(), Bolt: next[0][0], Then: next[1:], Moved: moved, Letter: w.letter(0), Work: w.work(0)}
}

// leftRelease asks a named person about a bolt that was left.
func (w *Walk) leftRelease(b Bolt) Release {
	return Release{Of: OfBolt, Place: w.place(), Bolt: b, Reason: w.why[b], Out: w.isOut(b)}
}

// highRelease asks a named person about a pressure that was high at the end.
func (w *Walk) highRelease(slot int) Release {
	return Release{Of: OfPressure, Place: w.place(), Slot: slot, Letter: w.letter(slot), Read: w.ends[slot].read, Band: w.setting(slot)}
}

func (w *Walk) setStep(atEnd bool) Set {
	slot := w.toSet()
	if atEnd {
		slot = len(w.ends)
	}
	why := ""
	if w.phase == phaseCheck && w.round == 1 && w.redo.bolt == 0 && !atEnd {
		why = w.sets[len(w.sets)-1]
	}
	return Set{Place: w.place(), AtEnd: atEnd, Why: why, Low: w.low, Slot: slot, Letter: w.letter(slot), Team: w.team(), Tool: w.tool(slot), Setting: w.current(slot)}
}

// work is what a tool needs for the bolts at hand.
func (w *Walk) work(slot int) Work {
	left, done := w.left(), w.done()
	return Work{Tool: w.tool(slot), Setting: w.setting(slot),
		Done: done, Undone: w.plan.Bolts - done - left, Left: left, Pace: median(w.paces)}
}

// left counts the bolts without a mark.
func (w *Walk) left() int { return w.count(MarkOpen) }

// done counts those that are done: a bolt that was left, or is out, is not.
func (w *Walk) done() int { return w.count(MarkDone, MarkStill, MarkMoved) }

// count counts the bolts with one of some marks. It is asked at every event.
func (w *Walk) count(of ...Mark) int {
	n := 0
	for _, m := range w.marks[1:] {
		if slices.Contains(of, m) {
			n++
		}
	}
	return n
}

func (w *Walk) gapCheck() GapCheck {
	g := GapCheck{All: true, Places: w.plan.GapPlaces, Limit: w.gapLimit(), Before: w.spread, Same: w.sameSpread(), Was: w.measured, Over: w.gaps}
	switch w.phase {
	case phaseSnugGaps:
		g.After = "snug"
	case phasePassGaps:
		g.All, g.After = false, "pass at "+w.plan.Passes[w.pass].Share.Text()
	default:
		g.After = "check rounds"
	}
	return g
}

func median(d []time.Duration) time.Duration {
	if len(d) == 0 {
		return 0
	}
	var few [pacesKept]time.Duration
	sorted := append(few[:0], d...)
	slices.Sort(sorted)
	return sorted[len(sorted)/2]
}

// MarkOf is what became of a bolt in the pass or round under way.
func (w Walk) MarkOf(b Bolt) Mark {
	if b < 1 || int(b) >= len(w.marks) {
		return MarkOpen
	}
	return w.marks[b]
}

// LastAnswered is the gate question that an undo would open again, empty when
// there is none.
func (w Walk) LastAnswered() string {
	if w.phase != phaseGate {
		return ""
	}
	last := ""
	for i, q := range w.plan.Questions {
		if q.When == AtGate && w.answers[i] == answered {
			last = q.ID
		}
	}
	return last
}

// Undoable is the event that takes back the last mark: the bolts of a station
// together. False when there is none to take back.
func (w Walk) Undoable() (Undone, bool) {
	switch {
	case len(w.held) > 0:
		return Undone{}, false
	case w.redo.bolt > 0:
		return Undone{Bolt: w.redo.bolt}, w.redo.next > 0
	case len(w.order) == 0 || len(w.ends) > 0:
		return Undone{}, false
	}
	return takeBack(w.order[len(w.order)-1]), true
}

// TakesBack says what Undoable takes back.
func (w Walk) TakesBack() string {
	last, _ := w.Undoable()
	if w.phase == phaseStretch {
		return "the stretch of " + last.Words()
	}
	return last.Words()
}

// Exceptions are what was left, released, accepted or waived on this card, in words.
func (w Walk) Exceptions() []string { return slices.Clone(w.exceptions) }

// Last gives up to n stations marked last in the pass or round under way, the
// latest first; with one tool each is one bolt.
func (w Walk) Last(n int) []Station {
	last := slices.Clone(w.order)
	slices.Reverse(last)
	return last[:min(n, len(last))]
}
