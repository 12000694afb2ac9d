package sequence

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
)

// Apply gives the walk after an event, or says why the event is refused; then
// nothing has changed. Only what Next offers at that time is accepted, beside
// signing on, leaving, handing over, notes, a hazard, and undoing.
func (w Walk) Apply(e Event) (Walk, error) {
	if e.Data == nil {
		return w, errors.New("an event without data")
	}
	next := w
	next.tick(e.At)
	if err := next.apply(e); err != nil {
		return w, err
	}
	next.last = e.At
	if e.At.After(next.latest) {
		next.latest = e.At
	}
	return next, nil
}

func (w *Walk) apply(e Event) error {
	switch d := e.Data.(type) {
	case CardOpened:
		return errors.New("the card is open already")
	case TailCut:
		return nil
	case SignedOn:
		return w.signOn(e.By, d, e.At)
	}
	switch {
	case w.closed:
		return errors.New("the card is closed")
	case !w.signedOn:
		return errors.New("nobody has signed on")
	case !SameName(e.By, w.operator):
		return fmt.Errorf("%s has signed on: %s signs on first", w.operator, e.By)
	}
	switch d := e.Data.(type) {
	case Suspended:
		w.signedOn = false
		return nil
	case NoteMade:
		if strings.TrimSpace(d.Text) == "" {
			return errors.New("the note is empty")
		}
		return nil
	case ProblemFound:
		if d.Bolt == 0 {
			return w.hazard(d)
		}
	}
	if w.stopped != "" {
		return errors.New("the work is stopped: only a new sign-on with a permit number reopens it")
	}
	switch d := e.Data.(type) {
	case Undone:
		return w.undo(d)
	case HandedOver:
		return w.handOver(d)
	}
	w.advance()
	return w.take(e)
}

// take accepts an event that does what the next step asks for.
func (w *Walk) take(e Event) error {
	step := w.step(e.At)
	if taken, err := w.besides(step, e); taken {
		return err
	}
	switch s := step.(type) {
	case Ask:
		switch d := e.Data.(type) {
		case Answered:
			return w.answer(s, d)
		case Released:
			if d.Of == OfQuestion && d.Question == s.Question.ID {
				return w.releaseQuestion(s, d)
			}
		}
	case Materials:
		if d, ok := e.Data.(MaterialsNoted); ok {
			return w.noteMaterials(d)
		}
	case Snug:
		if _, ok := e.Data.(Snugged); ok {
			w.phase = phaseSnugGaps
			if len(w.plan.GapPlaces) == 0 {
				w.leaveGaps()
			}
			return nil
		}
	case GapCheck:
		switch d := e.Data.(type) {
		case GapsMeasured:
			return w.measureGaps(s, d)
		case GapsAccepted:
			return w.acceptGaps(s, d)
		}
	case Set:
		if d, ok := e.Data.(PressureSet); ok {
			return w.setPressure(s, d)
		}
	case Tighten:
		switch d := e.Data.(type) {
		case BoltDone:
			if d.Pass != s.Pass || !slices.Equal(d.Bolts, s.Bolts) {
				return fmt.Errorf("%s of pass %d is next", takeBack(s.Bolts).Words(), s.Pass)
			}
			if s.Redo > 0 {
				w.again(s, e.At)
				return nil
			}
			w.mark(s.Bolts, MarkDone, e.At)
			for _, t := range s.Turns {
				w.touched(t.Slot, t.Bolt)
			}
			return nil
		case ProblemFound:
			return w.trouble(s.Bolts, d, e.At)
		}
	case Check:
		switch d := e.Data.(type) {
		case NutStill:
			return w.check(s, d.Round, d.Bolt, MarkStill, e.At)
		case NutMoved:
			return w.check(s, d.Round, d.Bolt, MarkMoved, e.At)
		case ProblemFound:
			return w.trouble(Station{s.Bolt}, d, e.At)
		}
	case Rest:
		return w.rest(s, e)
	case Stretch:
		if d, ok := e.Data.(StretchMeasured); ok {
			return w.measureStretch(s, e, d)
		}
	case LeakTest:
		if d, ok := e.Data.(LeakTested); ok {
			return w.leakTest(d)
		}
	case Release:
		switch d := e.Data.(type) {
		case Released:
			return w.release(s, d, e.At)
		case StudsAgain:
			if s.Of == OfStretch {
				return w.studsAgain(s, d)
			}
		}
	case Close:
		if d, ok := e.Data.(CardClosed); ok {
			if err := w.notOperator(Named{Name: d.Witness, Role: d.Role, Reason: "witness"}); err != nil {
				return err
			}
			if w.worked(d.Witness) {
				return fmt.Errorf("%s worked on this joint: the witness is somebody who did not", strings.TrimSpace(d.Witness))
			}
			w.closed, w.phase = true, phaseClosed
			return nil
		}
	}
	return fmt.Errorf("not now: next is %s", stepName(step))
}

func (w *Walk) stop(reason string, what What) error {
	w.stopped, w.stopWhat = reason, what
	w.set = nil
	w.except("work stopped by %s: %s", w.operator, reason)
	return nil
}

func (w *Walk) indexOf(id string) int {
	return slices.IndexFunc(w.plan.Questions, func(q Question) bool { return q.ID == id })
}

func (w *Walk) answer(s Ask, d Answered) error {
	q := s.Question
	if d.Question != q.ID {
		return fmt.Errorf("question %q is next", q.Text)
	}
	if err := w.judgeAlignment(q, d); err != nil {
		return err
	}
	if err := w.told(q, d); err != nil {
		return err
	}
	if d.Measured != nil {
		w.aligned = d.Measured
	}
	i := w.indexOf(q.ID)
	switch d.Answer {
	case Yes:
		if q.Typed != "" && !strings.EqualFold(strings.TrimSpace(d.Typed), q.Typed) {
			return errors.New("that is not how the tag of this job ends: stop and find the joint")
		}
		w.answers = with(w.answers, i, answered)
	case No:
		w.answers = with(w.answers, i, saidNo)
		if q.OnNo == StopPage {
			return w.stop("answered no: "+q.Text, stopsOn(q))
		}
	case NotApplicable:
		if !q.MayNot {
			return errors.New("this question always applies")
		}
		if strings.TrimSpace(d.Reason) == "" {
			return errors.New("say why it does not apply")
		}
		w.answers = with(w.answers, i, answered)
	default:
		return fmt.Errorf("%q is no answer", string(d.Answer))
	}
	return nil
}

// except keeps in words what is to be known before the card is closed.
func (w *Walk) except(format string, a ...any) {
	w.exceptions = and(w.exceptions, fmt.Sprintf(format, a...))
}

func (w *Walk) releaseQuestion(s Ask, d Released) error {
	switch {
	case s.Question.OnNo != Override:
		return errors.New("nobody can release this question: it needs a yes")
	case !s.SaidNo:
		return errors.New("only a question answered no can be released")
	}
	if err := w.notOperator(d.Named); err != nil {
		return err
	}
	w.answers = with(w.answers, w.indexOf(s.Question.ID), answered)
	if s.Question.Measured {
		w.except("alignment beyond its limits, released by %s: %s", d.Name, d.Reason)
		return nil
	}
	w.except("answered no and released by %s: %s", d.Name, s.Question.Text)
	return nil
}

// mark writes down what became of bolts together, and how long one of them took.
func (w *Walk) mark(s Station, m Mark, at time.Time) {
	for _, b := range s {
		w.marks = with(w.marks, int(b), m)
	}
	w.order = and(w.order, s)
	w.markedAt = w.notBefore(at)
	if !w.paceFrom.IsZero() && m != MarkLeft {
		w.paces = and(w.paces, at.Sub(w.paceFrom)/time.Duration(len(s)))
		w.paces = w.paces[max(0, len(w.paces)-pacesKept):]
	}
	w.paceFrom = at
}

// pacesKept is over how many bolts the crew's pace is taken.
const pacesKept = 9

// notBefore is the time of a mark: a clock that went back never shortens the rest.
func (w *Walk) notBefore(at time.Time) time.Time {
	if w.latest.After(at) {
		return w.latest
	}
	return at
}

func (w *Walk) check(s Check, round int, b Bolt, m Mark, at time.Time) error {
	if round != s.Round || b != s.Bolt {
		return fmt.Errorf("%s is next", stepName(s))
	}
	w.mark(Station{b}, m, at)
	w.touched(0, b)
	return nil
}

func (w *Walk) release(s Release, d Released, at time.Time) error {
	if d.Of != s.Of || d.Bolt != s.Bolt || d.Tool != s.Slot || d.Restart && s.Of != OfProblem {
		return fmt.Errorf("not now: next is %s", stepName(s))
	}
	if err := w.notOperator(d.Named); err != nil {
		return err
	}
	if len(d.Replace) > 0 && s.Of != OfStretch {
		return errors.New("only studs above their band are replaced so")
	}
	switch s.Of {
	case OfBolt:
		w.marks = with(w.marks, int(s.Bolt), MarkReleased)
		w.except("bolt %d left undone in %s (%s), released by %s: %s", s.Bolt, s.Place.where(), s.Reason, d.Name, d.Reason)
	case OfPressure:
		w.ends = with(w.ends, s.Slot, ending{endedGood, s.Read})
		w.except("pressure high at the end of %s, %s%s, released by %s: %s", s.Place.where(), toolWord(s.Letter), w.tool(s.Slot).Typed(s.Read), d.Name, d.Reason)
		w.judgeEnd()
	case OfHold:
		return w.releaseHold(s, d)
	case OfQualification:
		w.expired = false
		w.except("%s Let count by %s: %s", s.Reason, d.Name, d.Reason)
	case OfProblem:
		w.releaseProblem(d)
	case OfStretch:
		if len(d.Replace) > 0 {
			return w.replaceStuds(s, d)
		}
		for _, stud := range s.Studs {
			w.marks = with(w.marks, int(stud.Bolt), MarkReleased)
		}
		w.except("load by stretch outside the band at bolt %s, released by %s: %s", BoltList(boltsOf(s.Studs)), d.Name, d.Reason)
	case OfRounds:
		from := at
		if w.plan.Rules >= 3 {
			from = w.notBefore(at)
		}
		w.except("%s, released by %s: %s", w.roundsWord(s.Rounds), d.Name, d.Reason)
		w.endSeries(from)
	}
	return nil
}

func (w *Walk) rest(s Rest, e Event) error {
	switch d := e.Data.(type) {
	case RestOver:
		if !s.Over {
			return fmt.Errorf("the rest is not over before %s", s.Until.UTC().Format("2006-01-02 15:04 UTC"))
		}
		w.series = 1
		w.startCheck("after the rest")
		return nil
	case RestWaived:
		if err := w.notOperator(d.Named); err != nil {
			return err
		}
		w.startStretch()
		w.except("rest waived by %s, and with it the check round after it: %s", d.Name, d.Reason)
		return nil
	}
	return errors.New("not now: the gasket rests")
}

// startCheck begins a set of check rounds; why says after what, for the record.
func (w *Walk) startCheck(why string) {
	w.phase, w.round, w.moved, w.set = phaseCheck, 1, nil, nil
	w.low = ""
	w.sets = and(w.sets, why)
	w.clearMarks()
}

func (w *Walk) startPass(i int) {
	w.phase, w.pass, w.repeat, w.newTool, w.set = phasePass, i, 0, false, nil
	w.low = ""
	w.clearMarks()
}
