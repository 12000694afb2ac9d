package sequence

import (
	"errors"
	"fmt"
	"slices"

	"evenload/joint"
)

// repeat is what a new bolt has to repeat: passes done of those owed. It is
// kept when the last is done, until something else comes: that one can be
// taken back.
type repeat struct {
	bolt       Bolt
	next, upTo int
}

// fresh begins a pass or round: bolts that are out are left from its start.
func (f *facts) fresh() { f.marked, f.turned, f.left, f.outHere = f.out, f.out, f.out, 0 }

// endRedo is when something else follows the last pass of a new bolt.
func (f *facts) endRedo() {
	if f.redo.bolt > 0 && f.redo.next == f.redo.upTo {
		f.redo = repeat{}
	}
}

// asksForMarks says that a pass or round under way has marks.
func (f facts) asksForMarks(p *Plan) bool {
	f.endRedo()
	return f.marked&^f.out != 0 && f.marked.len() < p.Bolts
}

// hasParts says that a bolt is worked on that has none.
func (f *facts) hasParts(b Bolt) error {
	if f.out.has(int(b)) {
		return fmt.Errorf("rule 3: bolt %d is worked on, and its parts were not replaced", b)
	}
	return nil
}

// partsFirst says which rule it breaks to go on while new parts are owed.
func (f *facts) partsFirst() error {
	if f.first && f.left&f.out != 0 {
		return fmt.Errorf("rule 3: the work goes on without the new parts of bolts %b", f.left&f.out)
	}
	return nil
}

// again says which rule it breaks to bring a new bolt up by a pass.
func (f *facts) again(p *Plan, pass int, bolts []Bolt) error {
	b := bolts[0]
	if len(bolts) != 1 || f.redo.bolt != b || pass != f.redo.next+1 || pass > f.redo.upTo || f.redo.upTo != f.pass {
		return fmt.Errorf("rule 4: bolt %d at pass %d again, owed is %+v, closed are %d", b, pass, f.redo, f.pass)
	}
	return errors.Join(f.work(p, f.needs(p)), f.hasParts(b))
}

// atBolt says which rule it breaks to be at a bolt, with the tool in hand.
func (f *facts) atBolt(p *Plan) error {
	switch {
	case f.redo.bolt > 0:
		return f.work(p, f.needs(p))
	case f.pass == len(p.Passes):
		return f.inRound(p)
	}
	return f.inPass(p, f.pass+1)
}

// anywhere says which rule it breaks to tell what shows at any bolt.
func (f *facts) anywhere(p *Plan) error {
	switch {
	case !f.snugged && p.Batches && !f.noted:
		return errors.New("rule 12: a problem at a bolt before the materials were asked for")
	case !f.snugged:
		return f.gate(p)
	}
	return nil
}

// notLooked opens again what was looked at behind the check rounds, which are owed again.
func (f *facts) notLooked(p *Plan) {
	f.finish = finish{}
	if f.pass < len(p.Passes) || f.gapsAfter < f.pass {
		return
	}
	if f.ended {
		f.doubtAll(p, func(q Question) bool { return q.When == AtGate })
		f.ended, f.set = false, 0
	}
	f.doubtAll(p, func(q Question) bool { return q.When == AtEnd })
	for i, h := range p.Hold {
		if h.At == HoldBeforeClose || h.At == HoldBeforeRest && !f.rested {
			f.holds = f.holds.without(i)
		}
	}
}

// moved are the bolts of this round whose nut was not still; by the rules since 4 one
// that was out when it began has none.
func (f *facts) moved(p *Plan) set {
	if p.Rules >= 4 {
		return f.turned &^ (f.out &^ f.outHere)
	}
	return f.turned
}

// trouble follows a problem at a bolt.
func (f *facts) trouble(p *Plan, d ProblemFound) error {
	err := f.anywhere(p)
	if !slices.Contains([]What{Seized, Broke, Unfit, GasketOut, FacesTouch}, d.What) {
		err = f.atBolt(p)
	}
	b := int(d.Bolt)
	round := f.pass == len(p.Passes)
	if round && f.redo.bolt == 0 && f.marked.len() == p.Bolts && f.left == 0 && f.moved(p) != 0 && f.round < p.CheckRounds {
		f.fresh() // else its pressure is still to be read
	}
	mark := func() {
		f.marked = f.marked.with(b)
		if round {
			f.turned, f.still = f.turned.with(b), false
		}
	}
	switch d.What {
	case "":
		if f.redo.bolt > 0 {
			return errors.New("rule 4: a new bolt was left below its neighbours")
		}
		f.left = f.left.with(b)
		mark()
	case NoStall: // put right at once
	case Seized, Broke, Unfit:
		if f.out.has(b) {
			return fmt.Errorf("rule 3: bolt %d went out twice", b)
		}
		if d.What == Broke || f.out != 0 || f.pass > 0 {
			f.held++
		}
		if f.redo.bolt == d.Bolt {
			f.set, f.redo = 0, repeat{} // for another pass
		}
		f.out, f.left, f.outHere = f.out.with(b), f.left.with(b), f.outHere.with(b)
		mark()
		f.usedUp, f.released = false, false // check rounds are owed again
		f.notLooked(p)
	case Missed:
		if !f.marked.has(b) || f.left.has(b) {
			return fmt.Errorf("rule 7: bolt %d was opened, and is not done", b)
		}
		f.marked, f.turned, f.still = f.marked.without(b), f.turned.without(b), false
	case WrongBolt:
		if f.marked.has(b) {
			return fmt.Errorf("rule 7: bolt %d was marked again", b)
		}
		mark()
	default:
		f.held++
		if d.What == WrongPressure {
			f.set = 0
		}
	}
	return err
}

func (f *facts) replaced(p *Plan, d Replaced) error {
	b := int(d.Bolt)
	if !f.out.has(b) || f.held > 0 || f.redo.bolt > 0 || d.Batch == "" {
		return fmt.Errorf("rule 3: bolt %d was replaced: out %b, held %d, owed %+v, batch %q", b, f.out, f.held, f.redo, d.Batch)
	}
	f.first = f.first && f.out.len() > 1
	f.out, f.left, f.marked, f.turned = f.out.without(b), f.left.without(b), f.marked.without(b), f.turned.without(b)
	f.still, f.usedUp, f.released = false, false, false
	err := f.gate(p)
	f.notLooked(p)
	f.doubtAll(p, func(q Question) bool { return q.When == AtParts })
	if f.pass == len(p.Passes) {
		f.fresh() // a whole round is owed
	}
	if f.pass > 0 {
		f.redo, f.set = repeat{d.Bolt, 0, f.pass}, 0
	}
	return err
}

func (f *facts) toolChanged(p *Plan, d ToolChanged) error {
	f.changes++
	if err := f.gate(p); err != nil {
		return err
	}
	if err := f.mayChange(p, d.Slot); err != nil {
		return err
	}
	if slices.Contains(f.tool[:], d.Tool.ID) {
		return fmt.Errorf("rule 5: tool %s came, and is in use: %v", d.Tool.ID, f.tool)
	}
	f.tool[d.Slot], f.set = d.Tool.ID, 0
	f.doubtAll(p, func(q Question) bool { return slices.Contains([]string{"12", "13", "14", "15", "21"}, q.ID) })
	begun := f.marked&^f.out != 0
	if d.GoOn != nil {
		return f.named(*d.GoOn)
	}
	f.redo.next = 0
	if begun {
		f.fresh()
	}
	return nil
}

// mayChange says which rule it breaks to change a tool or its air now.
func (f *facts) mayChange(p *Plan, slot int) error {
	if !f.needs(p).has(slot) || f.read != 0 {
		return fmt.Errorf("rule 5: tool %d was changed, in use are %b, end readings %b", slot, f.needs(p), f.read)
	}
	return nil
}

// needs are the slots of the tools in use for the work under way.
func (f *facts) needs(p *Plan) set {
	switch {
	case f.redo.bolt > 0:
		return set(0).with(p.SlotOf(f.redo.bolt))
	case f.pass == len(p.Passes):
		return 1
	}
	return 1<<len(p.Tools) - 1
}

// setting is that of a tool in use for the work under way.
func (f *facts) setting(p *Plan, slot int) joint.Setting {
	pass := p.Passes[min(f.pass, len(p.Passes)-1)]
	if f.redo.bolt > 0 {
		pass = p.Passes[f.redo.next]
	}
	if f.tool[slot] == p.Tools[slot].ID {
		return pass.Settings[slot]
	}
	all := slices.Concat(p.Tools, p.Spare)
	i := slices.IndexFunc(all, func(t joint.Tool) bool { return t.ID == f.tool[slot] })
	s, _ := all[i].Setting(pass.Settings[slot].Torque, p.ReadBack)
	return s
}

// restart is a new gasket: nothing of what was done counts.
func (f *facts) restart(p *Plan) {
	f.doubtAll(p, func(q Question) bool { return q.When == AtGate })
	f.out, f.redo = 0, repeat{}
	f.snugged, f.wide, f.still, f.rested, f.released, f.usedUp = false, false, false, false, false, false
	f.set, f.read, f.low, f.high = 0, 0, 0, 0
	f.pass, f.gapsAfter = 0, -1
	f.noted, f.holds, f.first, f.finish, f.ended, f.held = false, 0, false, finish{}, false, 0
	f.fresh()
}

func (f *facts) undone(p *Plan, d Undone) error {
	f.undos++
	if d.Question != "" {
		i := p.place(d.Question)
		if f.snugged || f.doubt.has(i) {
			return fmt.Errorf("rule 7: the answer to question %s was taken back late", d.Question)
		}
		f.doubt = f.doubt.with(i)
		return nil
	}
	if f.held > 0 {
		return errors.New("rule 3: a bolt was taken back while a problem holds the work")
	}
	if f.read != 0 {
		return errors.New("rule 7: a bolt was taken back after an end reading of its pass")
	}
	if f.redo.bolt > 0 {
		if d.Bolt != f.redo.bolt || len(d.Bolts) > 0 || f.redo.next == 0 {
			return fmt.Errorf("rule 7: %s was taken back, %d is being brought up", d.Words(), f.redo.bolt)
		}
		f.redo.next--
		f.set = 0
		return nil
	}
	if f.finish.studs != 0 {
		return f.unmeasured(d)
	}
	for _, b := range append(slices.Clone(d.Bolts), d.Bolt) {
		b := int(b)
		if b > 0 && (!f.marked.has(b) || f.out.has(b)) || b == 0 && len(d.Bolts) == 0 {
			return fmt.Errorf("rule 7: bolt %d was taken back, and has no mark in this pass or round", b)
		}
		f.marked, f.turned, f.left = f.marked.without(b), f.turned.without(b), f.left.without(b)
	}
	f.still = false
	return nil
}

func (f *facts) wasReleased(p *Plan, d Released) error {
	switch d.Of {
	case OfQuestion:
		if slices.Contains([]string{"1", "2", "3", "4", workQuestion}, d.Question) {
			return errors.New("rule 9: isolation and identity have no override")
		}
		f.doubt = f.doubt.without(p.place(d.Question))
	case OfBolt:
		if f.first && !f.left.has(int(d.Bolt)) {
			f.fresh() // a new round, which begins with what is out
		}
		f.left = f.left.without(int(d.Bolt))
	case OfPressure:
		if !f.high.has(d.Tool) {
			return fmt.Errorf("rule 9: the pressure of tool %d was released, and was not high", d.Tool)
		}
		f.high = f.high.without(d.Tool)
		f.passEnds(p)
	case OfRounds:
		if !f.usedUp {
			return errors.New("rule 6: moving nuts were released, and nobody read the pressure that moved them")
		}
		f.released, f.usedUp = true, false
		f.fresh()
	case OfHold:
		return f.witnessed(p, d)
	case OfStretch:
		if f.finish.outside == 0 {
			return errors.New("rule 13: studs were released that are in the band")
		}
		if len(d.Replace) > 0 {
			if err := f.studsReplaced(d); err != nil {
				return err
			}
			break
		}
		f.finish.outside, f.finish.high, f.finish.beyond = 0, 0, 0
	case OfQualification:
		if !f.expired {
			return errors.New("rule 11: a qualification was let count that had not expired")
		}
		f.expired = false
	case OfProblem:
		if f.held == 0 {
			return errors.New("rule 9: a problem was released that holds nothing")
		}
		f.held--
		f.first = f.out != 0
		if d.Restart {
			f.restart(p)
		}
	}
	return f.named(d.Named)
}
