package sequence

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
)

// Words says in short what was wrong.
func (d ProblemFound) Words() string {
	name := ""
	if t, ok := TroubleOf(d.What); ok && d.What != OtherTrouble {
		name = t.Name
	} else if k, ok := StopKindOf(d.What); ok && d.What != OtherHazard {
		name = k.Name
	}
	switch note := strings.TrimSpace(d.Reason); {
	case name == "":
		return note
	case note == "":
		return name
	default:
		return name + ", " + note
	}
}

// held is why the work waits for a named person.
type held struct {
	ProblemFound
	why  string
	slot int // of the tool that was at the bolt
}

// trouble takes a problem found at one of the bolts at hand; at any other, where it can
// show there.
func (w *Walk) trouble(s Station, d ProblemFound, at time.Time) error {
	t, ok := TroubleOf(d.What)
	switch {
	case d.What == "":
		t = Trouble{follows: leaves}
	case !ok:
		return fmt.Errorf("%q is no problem that this version knows", string(d.What))
	}
	if (d.What == "" || t.Noted()) && strings.TrimSpace(d.Reason) == "" {
		return errors.New("say in a word what is wrong")
	}
	if t.follows != leaves && d.Now {
		return errors.New("only a bolt that would be left can be put right at once")
	}
	switch {
	case len(s) == 0 && !t.Anywhere():
		return errors.New("no bolt is at hand: only a stud, the gasket or the faces can be told here")
	case t.Chooses() || slices.Contains(s, d.Bolt):
	case !t.Anywhere():
		return fmt.Errorf("%s is next", takeBack(s).Words())
	case d.Bolt < 1 || int(d.Bolt) > w.plan.Bolts:
		return w.noBolt(d.Bolt)
	}
	if d.Tool != 0 && d.What != WrongBolt {
		return errors.New("the tool is that of the bolt: only at a wrong bolt it is told")
	}
	switch t.follows {
	case leaves:
		return w.leave(d, at)
	case takes:
		return w.takeOut(d)
	case opens, marks:
		return w.outOfOrder(s, d, t, at)
	}
	if d.What == WrongPressure {
		if err := w.wrong(d); err != nil {
			return err
		}
		w.set = nil
	}
	w.hold(d, "")
	w.except("%s at bolt %d %s", d.Words(), d.Bolt, w.during())
	return nil
}

// during says at what something was found, in words.
func (w *Walk) during() string {
	switch w.phase {
	case phaseSnug:
		return "while nuts were made snug"
	case phaseSnugGaps, phasePassGaps, phaseFinalGaps:
		return "at the gaps after " + w.gapCheck().After
	case phaseRest:
		return "in the rest"
	case phaseStretch:
		return "while studs were measured"
	case phaseEnd:
		return "before closing"
	}
	return "in " + w.place().where()
}

func (w *Walk) noBolt(b Bolt) error {
	return fmt.Errorf("there is no bolt %d, the bolts are 1 to %d", b, w.plan.Bolts)
}

// hold keeps the work until a named person decides.
func (w *Walk) hold(d ProblemFound, why string) {
	w.held = and(w.held, held{d, why, w.SlotAt(d.Bolt)})
	w.paceFrom = time.Time{}
}

func (w *Walk) leave(d ProblemFound, at time.Time) error {
	switch {
	case d.Now:
		w.except("bolt %d in %s: %s, put right at once", d.Bolt, w.place().where(), d.Words())
		w.paceFrom = time.Time{}
		return nil
	case w.redo.bolt > 0:
		return fmt.Errorf("bolt %d is being brought up to its neighbours: put it right at once, or its parts are replaced again", d.Bolt)
	}
	w.mark(Station{d.Bolt}, MarkLeft, at)
	w.why = with(w.why, int(d.Bolt), d.Words())
	return nil
}

// outOfOrder takes a bolt that was missed, or one tightened out of order.
func (w *Walk) outOfOrder(s Station, d ProblemFound, t Trouble, at time.Time) error {
	switch {
	case d.Bolt < 1 || int(d.Bolt) > w.plan.Bolts:
		return w.noBolt(d.Bolt)
	case w.redo.bolt > 0:
		return fmt.Errorf("bolt %d is being brought up to its neighbours: finish it first, or write a note", w.redo.bolt)
	}
	m := w.marks[d.Bolt]
	if t.follows == opens {
		if m != MarkDone && m != MarkStill && m != MarkMoved {
			return fmt.Errorf("bolt %d is not marked as done in %s: it still comes", d.Bolt, w.place().where())
		}
		w.open(d.Bolt)
	} else {
		switch {
		case slices.Contains(s, d.Bolt):
			return fmt.Errorf("bolt %d is one that is in order now", d.Bolt)
		case !slices.ContainsFunc(s, func(b Bolt) bool { return w.SlotAt(b) == d.Tool }):
			return errors.New("the tool at a wrong bolt is one that works now")
		case m != MarkOpen:
			return fmt.Errorf("bolt %d has its mark in %s already: write a note", d.Bolt, w.place().where())
		case w.phase == phaseCheck:
			w.mark(Station{d.Bolt}, MarkMoved, at)
		default:
			w.mark(Station{d.Bolt}, MarkDone, at)
		}
		w.touched(d.Tool, d.Bolt)
	}
	w.paceFrom = time.Time{}
	w.except("%s: bolt %d in %s", d.Words(), d.Bolt, w.place().where())
	return nil
}

// open takes the mark off a bolt.
func (w *Walk) open(b Bolt) {
	w.marks = with(w.marks, int(b), MarkOpen)
	w.why = with(w.why, int(b), "")
	var order []Station
	for _, s := range w.order {
		if slices.Contains(s, b) {
			s = slices.DeleteFunc(slices.Clone(s), func(o Bolt) bool { return o == b })
		}
		if len(s) > 0 {
			order = append(order, s)
		}
	}
	w.order = order
}

// wrong judges a pressure that was found to be wrong. It can be as low as a gauge shows:
// the air may be failing, and that has to be said.
func (w *Walk) wrong(d ProblemFound) error {
	slot := w.SlotAt(d.Bolt)
	s := Set{Place: w.place(), Tool: w.tool(slot), Setting: w.current(slot)}
	if low := d.Read > 0 && d.Read < s.Least; !low {
		if err := plausible(d.Read, s); err != nil {
			return err
		}
	}
	if s.InBand(d.Read) {
		return fmt.Errorf("%s lies in the band %s: it is not wrong", s.Tool.Typed(d.Read), s.Tool.Band(s.Setting))
	}
	return nil
}

// releaseProblem lets the work go on, or begins it again with a new gasket.
func (w *Walk) releaseProblem(d Released) {
	h := w.held[len(w.held)-1]
	w.held = w.held[:len(w.held)-1]
	if d.Restart {
		w.restart()
		w.except("begun again with a new gasket, decided by %s: %s (%s)", d.Name, d.Reason, h.Words())
		return
	}
	w.partsFirst = w.plan.Rules >= 2 && len(w.out) > 0
	w.except("went on after %s, released by %s: %s", h.Words(), d.Name, d.Reason)
}

// restart begins at the gate again: the joint is opened and gets a new gasket.
func (w *Walk) restart() {
	w.phase, w.pass, w.repeat, w.series, w.round = phaseGate, 0, 0, 0, 0
	w.partsFirst, w.held = false, nil
	w.drop(AtEnd)
	w.out, w.redo, w.set, w.gaps, w.spread, w.measured = nil, redo{}, nil, nil, -1, nil
	w.moved, w.since, w.stretched, w.studs, w.leak = nil, nil, nil, nil, ""
	w.holds = make([]string, len(w.plan.Hold)) // what was looked at is open again
	w.clearMarks()
	w.askAll(AtGate)
}
