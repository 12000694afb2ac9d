package sequence

import (
	"errors"
	"fmt"
	"math/bits"
	"slices"
	"strings"
)

// facts is what happened on the way to a state, kept apart from the walk and
// only from accepted events: the nine rules are held against it. Two of them
// that are equal tell the same, so that an exploration can compare them.
type facts struct {
	doubt      set  // questions, by their place in the plan, that want a yes
	away       bool // nobody has signed on
	operator   string
	stopped    bool
	noted      bool // the materials
	snugged    bool
	set        set  // tools whose pressure is set, for the work under way
	marked     set  // bolts of this pass or round
	turned     set  // those of them whose nut was not still
	left       set  // bolts left and not released
	pass       int  // passes closed by their end reading
	read       set  // tools with their end reading of this pass
	low, high  set  // those of them below and above their band
	gapsAfter  int  // passes whose gaps are accepted, -1 before snug's
	wide       bool // gaps were measured beyond the limit
	still      bool // the last whole round was still and the pressure held to its end, after the last change
	rested     bool // or waived
	usedUp     bool // the last round allowed had nuts that moved, and the pressure was read at its end
	released   bool // the rounds
	round      int  // of check rounds, of the last nut checked
	closed     bool
	holds      set // hold points of the plan that were released
	second     string
	supervisor string
	worked     string // the names of all operators, second persons and supervisors
	lapsed     string // those whose qualification has expired
	trainees   string
	expired    bool // the operator's qualification, and nobody let it count

	out     set  // bolts whose parts have to be replaced
	outHere set  // those that went out in this pass or round
	held    int  // by problems, of which each is decided about
	ended   bool // the tool was said to be off the joint
	first   bool // parts of bolts that are out come before the work goes on
	redo    repeat
	tool    [MostTools]string // in use, by slot

	finish finish // of studs and leak test

	undos    int
	problems int // bolts left and hazards
	changes  int // long breaks, and sign-ons of another person after the first of them
	persons  int // another person took over: 0 or 1
}

// set is a set of small numbers: bolts, or places of questions.
type set uint64

func (s set) with(i int) set    { return s | 1<<i }
func (s set) without(i int) set { return s &^ (1 << i) }
func (s set) has(i int) bool    { return s&(1<<i) != 0 }
func (s set) len() int          { return bits.OnesCount64(uint64(s)) }

// nothingYet is what happened before the first sign-on.
func nothingYet(p *Plan) facts {
	f := facts{away: true, gapsAfter: -1}
	for slot, t := range p.Tools {
		f.tool[slot] = t.ID
	}
	f.doubtAll(p, func(q Question) bool { return q.When == AtGate || q.When == AtEnd })
	return f
}

// work says which rule it breaks to turn nuts with the tools needed.
func (f *facts) work(p *Plan, need set) error {
	if err := f.gate(p); err != nil {
		return err
	}
	if f.held > 0 {
		return errors.New("rule 3: work while a problem holds it")
	}
	if need&^f.set != 0 {
		return fmt.Errorf("rules 2 and 5: work without the pressures of tools %b set and read back, set are %b", need, f.set)
	}
	return nil
}

// inPass says which rule it breaks to tighten bolts of a pass.
func (f *facts) inPass(p *Plan, pass int) error {
	if f.redo.bolt > 0 {
		return fmt.Errorf("rule 4: pass %d goes on while new bolt %d has %d of %d passes", pass, f.redo.bolt, f.redo.next, f.redo.upTo)
	}
	if pass != f.pass+1 || f.gapsAfter < f.pass || f.read != 0 {
		return fmt.Errorf("rule 4: pass %d with %d closed, gaps accepted after %d, end readings %b", pass, f.pass, f.gapsAfter, f.read)
	}
	return errors.Join(f.partsFirst(), f.holdKept(p, HoldBeforePass, pass), f.work(p, 1<<len(p.Tools)-1))
}

// inRound says which rule it breaks to check nuts.
func (f *facts) inRound(p *Plan) error {
	switch {
	case f.redo.bolt > 0:
		return fmt.Errorf("rule 4: a check round while new bolt %d has %d of %d passes", f.redo.bolt, f.redo.next, f.redo.upTo)
	case f.gapsAfter < len(p.Passes):
		return errors.New("rule 4: a check round before all passes are closed and their gaps accepted")
	case f.marked.len() == p.Bolts && f.left != 0:
		return errors.New("rule 3: a new round with a bolt left and not released")
	}
	return errors.Join(f.partsFirst(), f.work(p, 1))
}

// checked follows the check of a nut.
func (f *facts) checked(p *Plan, b Bolt, turned bool) error {
	err := f.inRound(p)
	if f.marked.len() == p.Bolts {
		f.fresh()
	}
	f.marked = f.marked.with(int(b))
	if turned {
		f.turned = f.turned.with(int(b))
	}
	f.still, f.usedUp = false, false
	return err
}

// shown says which rule a step breaks that is shown.
func (f facts) shown(p *Plan, s Step, longBreak bool) error {
	if longBreak {
		f.longBreak(p)
	}
	f.endRedo()
	switch s.(type) {
	case Snug, GapCheck, Set, Tighten, Check, Rest, Stretch, LeakTest, Close:
		if f.held > 0 {
			return fmt.Errorf("rule 3: %T is shown while a problem holds the work", s)
		}
	}
	switch s := s.(type) {
	case Stop, Closed:
		return nil
	case SignOn:
		if f.stopped {
			return errors.New("rule 9: a stop page is not shown")
		}
		return nil
	case Ask:
		if f.stopped {
			return errors.New("rule 9: a question instead of a stop page")
		}
		return nil
	case Rest:
		if f.stopped {
			return errors.New("rule 9: a rest instead of a stop page")
		}
		return f.holdKept(p, HoldBeforeRest, 0)
	case Release:
		if f.away || f.stopped {
			return errors.New("rules 5 and 9: a release and nobody works")
		}
		if f.expired != (s.Of == OfQualification) {
			return errors.New("rule 11: another release than that of a qualification")
		}
		if s.Of == OfQualification {
			return nil // nothing is worked on there
		}
		if (f.held > 0) != (s.Of == OfProblem) {
			return fmt.Errorf("rule 3: %d problems hold it, and %s is to be released", f.held, s.Of)
		}
		if s.Of == OfHold {
			return nil
		}
	case Snug:
		return errors.Join(f.holdKept(p, HoldAfterGate, 0), f.gate(p))
	case Set:
		if s.Round == 0 && !s.AtEnd {
			return errors.Join(f.holdKept(p, HoldBeforePass, s.Pass), f.gate(p))
		}
	case Close:
		return errors.Join(f.holdKept(p, HoldBeforeClose, 0), f.gate(p))
	case Tighten:
		if s.Redo > 0 {
			return f.again(p, s.Pass, s.Bolts)
		}
		return errors.Join(f.inPass(p, s.Pass), f.station(p, s.Bolts))
	case Check:
		if s.Round > p.CheckRounds {
			return fmt.Errorf("rule 6: check round %d, and nobody decided after %d", s.Round, p.CheckRounds)
		}
		return errors.Join(f.inRound(p), f.hasParts(s.Bolt))
	}
	return f.gate(p)
}

// check follows one accepted event and says which rule it breaks.
func (f *facts) check(p *Plan, e Event, longBreak bool) error {
	if longBreak {
		f.longBreak(p)
	}
	if e.Data.Kind() == "tail_cut" {
		return nil
	}
	if f.closed {
		return errors.New("rule 7: something was added to a closed card")
	}
	if d, ok := e.Data.(SignedOn); ok {
		return f.signedOn(p, e.By, d)
	}
	if f.away || e.By != f.operator {
		return fmt.Errorf("rules 1 and 5: a word of %q, who has not signed on", e.By)
	}
	switch d := e.Data.(type) {
	case Suspended:
		f.away = true
		return nil
	case NoteMade:
		return nil
	case ProblemFound:
		if d.Bolt == 0 {
			f.problems++
			f.set, f.stopped = 0, true
			if _, is := StopKindOf(d.What); d.What != "" && d.What != Injury && !is {
				return fmt.Errorf("rule 9: %q stopped the work, and no bolt is named", d.What)
			}
			return nil
		}
	}
	if f.stopped {
		return errors.New("rule 9: something went on behind a stop page")
	}
	if d, ok := e.Data.(Released); f.expired && e.Data.Kind() != "undone" && e.Data.Kind() != "handed_over" && (!ok || d.Of != OfQualification) {
		return errors.New("rule 11: something went on with a qualification that has expired")
	}
	if d, ok := e.Data.(HandedOver); ok {
		f.away, f.set = true, 0
		if strings.TrimSpace(d.State) == "" {
			return errors.New("rule 5: handed over without a word of what is on the flange")
		}
		return nil
	}
	return f.followed(p, e.Data)
}

// followed is check for the events that bring the job on or back.
func (f *facts) followed(p *Plan, d Data) error {
	if d, ok := d.(Undone); ok {
		return f.undone(p, d)
	}
	f.endRedo()
	switch d.(type) {
	case GapsMeasured, GapsAccepted, PressureSet, RestOver, RestWaived, StretchMeasured, LeakTested, CardClosed:
		if f.held > 0 {
			return fmt.Errorf("rule 3: %s while a problem holds the work", d.Kind())
		}
	}
	switch d := d.(type) {
	case Answered:
		return f.answered(p, d)
	case MaterialsNoted:
		if f.noted || f.snugged || d.Ambient != nil && *d.Ambient > 100 {
			return errors.New("rule 12: materials noted twice, late, or at a temperature that cannot be")
		}
		f.noted = true
		return f.gate(p)
	case Snugged:
		f.snugged = true
		if p.Batches && !f.noted {
			return errors.New("rule 12: snug before the materials were asked for")
		}
		return errors.Join(f.holdKept(p, HoldAfterGate, 0), f.gate(p))
	case GapsMeasured:
		if f.wide = d.Readings[0].Gap > 0.005; f.wide {
			return nil
		}
		return f.gapsAccepted()
	case GapsAccepted:
		if !f.wide {
			return errors.New("rule 4: gaps accepted that nobody measured")
		}
		f.wide = false
		return errors.Join(f.gapsAccepted(), f.named(d.Named))
	case PressureSet:
		return f.pressure(p, d)
	case BoltDone:
		if f.redo.bolt > 0 {
			err := f.again(p, d.Pass, d.Bolts)
			f.redo.next++
			f.set = 0
			return err
		}
		err := errors.Join(f.inPass(p, d.Pass), f.station(p, d.Bolts))
		for _, b := range d.Bolts {
			f.marked = f.marked.with(int(b))
		}
		return err
	case NutStill:
		f.round = d.Round
		return f.checked(p, d.Bolt, false)
	case NutMoved:
		f.round = d.Round
		return f.checked(p, d.Bolt, true)
	case ProblemFound:
		f.problems++
		return f.trouble(p, d)
	case Replaced:
		return f.replaced(p, d)
	case ToolChanged:
		return f.toolChanged(p, d)
	case AirChanged:
		err := f.gate(p)
		f.changes++
		f.set = 0
		f.doubtAll(p, func(q Question) bool { return slices.Contains([]string{"13", "14", "15", "21"}, q.ID) })
		return errors.Join(err, f.mayChange(p, d.Slot))
	case Released:
		return f.wasReleased(p, d)
	case RestOver:
		if err := f.holdKept(p, HoldBeforeRest, 0); err != nil {
			return err
		}
		if !f.still && !f.released {
			return errors.New("rule 6: a rest before a still round")
		}
		f.rested, f.still, f.released, f.set = true, false, false, 0
		f.fresh()
	case RestWaived:
		f.rested = true
		f.fresh()
		return errors.Join(f.holdKept(p, HoldBeforeRest, 0), f.named(d.Named))
	case StretchMeasured:
		return f.measured(p, d)
	case StudsAgain:
		return errors.Join(f.gate(p), f.studsAgain(p, d))
	case LeakTested:
		return f.tested(p, d)
	case CardClosed:
		if err := f.finished(p); err != nil {
			return err
		}
		if !f.still && !f.released || p.Rest > 0 && !f.rested {
			return errors.New("rule 6: closed without a still round after the last change and the rest")
		}
		if f.doubt != 0 {
			return errors.New("rules 1 and 5: closed with questions open")
		}
		f.closed = true
		if err := f.holdKept(p, HoldBeforeClose, 0); err != nil {
			return err
		}
		if strings.Contains(f.worked, d.Witness) {
			return fmt.Errorf("rule 10: %s worked on the joint and witnessed its close", d.Witness)
		}
		return f.named(Named{Name: d.Witness, Role: d.Role})
	}
	return nil
}

func (f *facts) gapsAccepted() error {
	switch {
	case !f.snugged:
		return errors.New("rule 4: gaps accepted before the joint was snug")
	case f.read != 0:
		return errors.New("rule 4: gaps accepted while a high pressure waits for its release")
	}
	f.gapsAfter = f.pass
	f.fresh()
	return nil
}
