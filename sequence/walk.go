package sequence

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"evenload/joint/unit"
)

// Walk is the order of the work on one joint and the safety rules behind it: a
// value that no event changes: Apply gives a new one, so an event that is
// refused, or that the disk refuses, leaves nothing behind.
type Walk struct {
	plan   *Plan // shared, never changed
	last   time.Time
	latest time.Time // the latest that any event had, should the clock go back

	operator   string
	second     string
	supervisor string     // of the operator, when that is a trainee
	people     []string   // all who were operator on this card
	seconds    []string   // all who were the second person
	papers     []SignedOn // of each of them, as last known
	signedOn   bool
	handed     string // what is on the flange, said at a handover that nobody took yet
	expired    bool   // the operator's qualification, and nobody let it count
	stopped    string // why the work is stopped, empty when it is not
	stopWhat   What   // what stopped it, where it is one of StopKinds
	closed     bool

	answers []state // of plan.Questions
	phase   phase
	pass    int      // index of the pass under way
	repeat  int      // times that this pass was begun again
	series  int      // of check rounds: 0 before the rest, 1 after it
	round   int      // of the series, 1 the first
	sets    []string // of check rounds begun on this card, each with after what

	set      []bool      // slots whose pressure is set and read back
	marks    []Mark      // by bolt, for the pass or round under way
	order    []Station   // the bolts marked, in the order of marking, those marked at once together
	why      []string    // by bolt, why it was left
	moved    []int       // nuts that moved in the closed rounds of this series
	ends     []ending    // by slot, the end readings of the pass that are taken
	gaps     *GapResult  // the last measurement of this stage, while it is beyond its limit
	spread   unit.Length // of the last measurement that was accepted, negative before
	measured []Gap       // its readings
	holds    []string    // by hold point of the plan, who released it, empty when nobody did
	until    time.Time   // end of the rest

	out        []Bolt   // whose parts have to be replaced
	outHere    []Bolt   // those of them that went out in this pass or round
	redo       redo     // of a bolt that is new
	partsFirst bool     // the work goes on only with the new parts of those that are out
	held       []held   // by problems, the latest last: each is decided about
	since      [][]Bolt // by slot, worked on since the pressure was last good

	fitted  []*fitted         // by slot, nil where the plan's tool is in use
	texts   map[string]string // of questions that name the tool, after a change
	newTool bool              // the pass was begun again for a new tool
	low     string            // what was low at the end of the pass or round that is done again

	paces    []time.Duration // between the last bolts
	paceFrom time.Time       // when the bolt before was marked, zero after a break
	markedAt time.Time       // of the last mark: the rest begins there

	aligned   *Alignment        // as last read
	stretched *StretchMeasured  // the last stud measured
	studs     []StretchMeasured // as measured last, by bolt; Bolt is 0 where it was not
	leak      LeakResult        // of the leak test, empty before it

	exceptions []string // what was left, released, accepted or waived, in words
}

// phase is the stage of the job, in order.
type phase int

const (
	phaseGate phase = iota
	phaseMaterials
	phaseSnug
	phaseSnugGaps
	phasePass
	phasePassGaps
	phaseCheck
	phaseRest
	phaseStretch
	phaseFinalGaps
	phaseEnd
	phaseClosed
)

// state is that of a question.
type state uint8

const (
	notAsked state = iota // it does not stand in the way
	open
	saidNo
	answered
)

// Mark is what became of a bolt in the pass or round under way.
type Mark uint8

// The marks of a bolt.
const (
	MarkOpen Mark = iota
	MarkDone
	MarkStill
	MarkMoved
	MarkLeft     // left undone, waits for a release
	MarkReleased // left undone and released
)

// New begins the walk of a plan. It refuses plans that this version plans but
// does not walk yet.
func New(plan *Plan) (Walk, error) {
	if err := checkLayout(plan); err != nil {
		return Walk{}, err
	}
	switch {
	case plan.Rules < 0 || plan.Rules > RulesNow:
		return Walk{}, fmt.Errorf("the plan is walked by rules %d, this version knows those up to %d: go on with the version that opened the card, or a later one", plan.Rules, RulesNow)
	case len(plan.Passes) == 0 || len(plan.Stations) == 0:
		return Walk{}, errors.New("the plan has no passes: mend the errors that check lists")
	case len(plan.Tools) < 1 || len(plan.Tools) > MostTools:
		return Walk{}, fmt.Errorf("the plan has %d tools at once, 1 to %d can be walked", len(plan.Tools), MostTools)
	}
	for _, p := range plan.Passes {
		if len(p.Settings) != len(plan.Tools) {
			return Walk{}, errors.New("the plan has a pass without a setting for each tool")
		}
	}
	if err := checkStations(plan); err != nil {
		return Walk{}, err
	}
	if err := errors.Join(checkHolds(plan), checkStretch(plan), checkMeasured(plan)); err != nil {
		return Walk{}, err
	}
	if !slices.ContainsFunc(plan.Questions, func(q Question) bool { return q.When == AtGate }) {
		return Walk{}, errors.New("the plan has no pre-start questions")
	}
	w := Walk{plan: plan, spread: -1, answers: make([]state, len(plan.Questions)), holds: make([]string, len(plan.Hold))}
	for i, q := range plan.Questions {
		if q.When == AtGate {
			w.answers[i] = open
		}
	}
	w.clearMarks()
	return w, nil
}

// checkStations guards against a card whose plan was written by hand.
func checkStations(plan *Plan) error {
	if plan.Bolts < FewestBolts || plan.Bolts > MostBolts {
		return fmt.Errorf("the plan has %d bolts, %d to %d can be walked", plan.Bolts, FewestBolts, MostBolts)
	}
	seen := make([]bool, plan.Bolts+1)
	count := 0
	for _, s := range plan.Stations {
		for _, b := range s {
			if b < 1 || int(b) > plan.Bolts || seen[b] {
				return fmt.Errorf("the plan's order names bolt %d twice, or the joint has none of that number", b)
			}
			seen[b] = true
			count++
		}
		if len(s) < 1 || len(s) > len(plan.Tools) {
			return fmt.Errorf("the plan has a station of %d bolts for %d tools", len(s), len(plan.Tools))
		}
	}
	if count != plan.Bolts {
		return fmt.Errorf("the plan's order has %d of %d bolts", count, plan.Bolts)
	}
	return nil
}

// Reopened is the walk when its card is opened again: whoever works signs on
// first. It is no event; replaying a card never needs it.
func (w Walk) Reopened() Walk {
	w.signedOn = false
	return w
}

// Replay applies all events of a card after its first.
func Replay(plan *Plan, events []Event) (Walk, error) {
	w, err := New(plan)
	if err != nil {
		return w, err
	}
	for i, e := range events {
		next, err := w.Apply(e)
		if err != nil {
			return w, fmt.Errorf("event %d of the card, %q: %w", i+2, string(e.Data.Kind()), err)
		}
		w = next
	}
	return w, nil
}

// Plan is what the walk goes by.
func (w Walk) Plan() *Plan { return w.plan }

// Operator is who signed on last.
func (w Walk) Operator() string { return w.operator }

// Second is the second person, as signed on.
func (w Walk) Second() string { return w.second }

// IsClosed says that the card is closed.
func (w Walk) IsClosed() bool { return w.closed }

func (w *Walk) clearMarks() {
	w.marks = make([]Mark, w.plan.Bolts+1)
	w.why = make([]string, w.plan.Bolts+1)
	w.order = nil
	for _, b := range w.out {
		w.marks[b], w.why[b] = MarkLeft, "its parts have to be replaced"
	}
	w.ends, w.outHere = nil, nil
	w.paceFrom = time.Time{}
}

// with is a list with one value changed. A walk never changes a list of its
// own: the walks before and after it share them.
func with[T any](list []T, i int, v T) []T {
	list = slices.Clone(list)
	list[i] = v
	return list
}

// and is a list with one value more.
func and[T any](list []T, v T) []T {
	longer := make([]T, len(list)+1)
	longer[copy(longer, list)] = v
	return longer
}

// RoundSets are the sets of check rounds begun on the card, each with after what
// or what for; Place.RoundSet counts them from 1.
func (w Walk) RoundSets() []string {
	w.advance()
	return w.sets
}

// tick lets time pass up to at: a break longer than the plan's, or a clock
// that went back, puts in doubt what may have changed meanwhile.
func (w *Walk) tick(at time.Time) {
	if w.last.IsZero() || w.closed {
		return
	}
	if gap := at.Sub(w.last); gap < 0 || gap > time.Duration(w.plan.RestartAfter) {
		w.doubt(func(q Question) bool { return q.AfterBreak })
	}
}

// doubt asks the chosen gate questions again, where they were answered, and
// the pressure with them.
func (w *Walk) doubt(which func(Question) bool) {
	w.askWhere(func(q Question) bool { return q.When == AtGate && which(q) })
	w.set = nil
	w.paceFrom = time.Time{}
}

// openQuestions lists those that stand in the way, in order.
func (w *Walk) openQuestions() []int {
	var open []int
	for i, a := range w.answers {
		if a == notAsked || a == answered {
			continue
		}
		open = append(open, i)
	}
	return open
}

// askAll puts all questions of a stage in the way.
func (w *Walk) askAll(when string) {
	w.askWhere(func(q Question) bool { return q.When == when })
}

// askWhere puts the chosen questions in the way.
func (w *Walk) askWhere(which func(Question) bool) {
	w.answers = slices.Clone(w.answers)
	for i, q := range w.plan.Questions {
		if which(q) {
			w.answers[i] = open
		}
	}
}

// drop takes the questions of a stage out of the way.
func (w *Walk) drop(when string) {
	w.answers = slices.Clone(w.answers)
	for i, q := range w.plan.Questions {
		if q.When == when {
			w.answers[i] = notAsked
		}
	}
}

// advance moves over what is complete, so that the walk stands at the next
// thing to do. It is never done before an undo, which reaches back.
func (w *Walk) advance() {
	for {
		switch {
		case w.redo.bolt > 0 && w.redo.next == w.redo.upTo:
			w.endRedo()
		case w.phase == phaseGate && len(w.openQuestions()) == 0:
			if w.phase = phaseSnug; w.plan.Batches {
				w.phase = phaseMaterials
			}
		case w.phase == phasePass && w.ended() && w.highSlot() < 0:
			w.phase = phasePassGaps
			w.set = nil
			w.clearMarks()
			if len(w.plan.GapPlaces) == 0 {
				w.leaveGaps()
			}
		case w.phase == phaseCheck && w.roundDone() && (w.notStill() > 0 || w.plan.Rules < 1 || w.ended() && w.highSlot() < 0):
			w.endRound()
		case w.phase == phaseStretch && w.stretchDone():
			w.stretched = nil
			w.clearMarks()
			w.toFinalGaps()
		default:
			return
		}
	}
}

// roundDone says that every bolt of the check round has its mark and nothing
// waits for a release.
func (w *Walk) roundDone() bool {
	return w.allMarked() && !slices.Contains(w.marks, MarkLeft) && !w.roundsUsedUp()
}

// roundsUsedUp says that the last round allowed is made and nuts still moved:
// only a named person can end the series then.
func (w *Walk) roundsUsedUp() bool {
	return w.phase == phaseCheck && w.allMarked() && !slices.Contains(w.marks, MarkLeft) &&
		w.notStill() > 0 && w.round >= w.plan.CheckRounds
}

// notStill counts the nuts of this round that moved or could not be checked; by the rules
// since 4 a bolt that was out before the round began, and is released, has none.
func (w *Walk) notStill() int {
	n := 0
	for b, m := range w.marks {
		if m == MarkMoved || m == MarkReleased && !(w.plan.Rules >= 4 && w.isOut(Bolt(b)) && !slices.Contains(w.outHere, Bolt(b))) {
			n++
		}
	}
	return n
}

// endRound closes a check round: another one when a nut moved, else the rest
// or the final checks.
func (w *Walk) endRound() {
	moved := w.notStill()
	w.clearMarks()
	if moved > 0 {
		w.moved = and(w.moved, moved)
		w.round++
		return
	}
	w.endSeries(w.markedAt)
}

// endSeries leaves the check rounds: for the rest the first time, where the
// plan has one, else for the final gaps.
func (w *Walk) endSeries(from time.Time) {
	w.clearMarks()
	w.set = nil
	if w.series == 0 && w.plan.Rest > 0 {
		w.phase = phaseRest
		w.until = from.Add(time.Duration(w.plan.Rest))
		return
	}
	w.startStretch()
}

func (w *Walk) toFinalGaps() {
	w.phase = phaseFinalGaps
	if len(w.plan.GapPlaces) == 0 {
		w.toEnd()
	}
}

func (w *Walk) toEnd() {
	w.phase = phaseEnd
	w.askAll(AtEnd)
}
