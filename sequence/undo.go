package sequence

import (
	"errors"
	"fmt"
	"slices"
	"time"
)

// undo takes back an answer at the gate, what was marked last, or a bolt that
// was left.
func (w *Walk) undo(d Undone) error {
	if d.Question != "" {
		i := w.indexOf(d.Question)
		if w.phase != phaseGate || i < 0 || w.answers[i] != answered || w.plan.Questions[i].When != AtGate {
			return errors.New("only an answer at the gate can be taken back, until the gate is passed: write a note")
		}
		w.answers = with(w.answers, i, open)
		return nil
	}
	if len(w.held) > 0 {
		return errors.New("the work is held: a named person decides first")
	}
	back := Station(d.Bolts)
	switch {
	case len(back) == 0:
		back = Station{d.Bolt}
	case d.Bolt != 0:
		return errors.New("either a bolt or a station is taken back")
	}
	if w.redo.bolt > 0 {
		if !slices.Equal(back, Station{w.redo.bolt}) || w.redo.next == 0 {
			return fmt.Errorf("bolt %d is being brought up to its neighbours: only it can be taken back", w.redo.bolt)
		}
		w.redo.next--
		w.set = nil
		return nil
	}
	last, any := w.Undoable()
	if !any && len(w.LeftBolts()) == 0 || len(w.ends) > 0 {
		return errors.New("nothing of this pass to take back; what is closed stays as it is: write a note")
	}
	left := len(back) == 1 && slices.Contains(w.LeftBolts(), back[0])
	if !left && (!any || !slices.Equal(back, w.order[len(w.order)-1])) {
		if len(last.Bolts) > 0 {
			return fmt.Errorf("%s were marked last: only they can be taken back, together", last.Words())
		}
		return fmt.Errorf("%s was marked last: only it can be taken back", last.Words())
	}
	for _, b := range back {
		if w.marks[b] == MarkReleased { // else the release would be all that is known of it
			w.except("what was released at bolt %d was taken back: it was open again", b)
		}
		if w.marks[b] == MarkLeft {
			w.except("bolt %d was left, %s, and taken up again", b, w.why[b])
		}
		w.open(b)
		if w.phase == phaseStretch {
			w.studs = with(w.studs, int(b), StretchMeasured{})
		}
	}
	w.paceFrom = time.Time{}
	w.stretched = nil
	return nil
}
