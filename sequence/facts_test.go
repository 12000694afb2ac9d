package sequence

import "fmt"

// facts is what happened on the way to a state, kept apart from the walk and
// only from accepted events: the nine rules are held against it.
type facts struct {
	yes       map[string]bool
	set       bool
	marked    map[Bolt]bool // in this pass or round; true when its nut was not still
	left      map[Bolt]bool // not released
	pass      int           // passes closed by their end reading
	gapsAfter int           // passes whose gaps are accepted, -1 before snug's
	still     bool          // the last whole round was still, after the last change
	rested    bool          // or waived
	released  bool          // the rounds
	operator  string
	high      bool
	snugged   bool
	breaks    int
	undos     int
	problems  int
	persons   int
	stopped   bool
	others    int // sign-ons again, hazards, answers no, readings out of limits
}

func (f facts) copy() facts {
	clone := func(m map[Bolt]bool) map[Bolt]bool {
		c := map[Bolt]bool{}
		for k, v := range m {
			c[k] = v
		}
		return c
	}
	yes := map[string]bool{}
	for k, v := range f.yes {
		yes[k] = v
	}
	f.yes, f.marked, f.left = yes, clone(f.marked), clone(f.left)
	return f
}

// check follows one accepted event and says which rule it breaks.
func (f *facts) check(p *Plan, e Event, longBreak bool) error {
	if longBreak {
		f.set = false
		for _, q := range p.Questions {
			if q.AfterBreak {
				f.yes[q.ID] = false
			}
		}
	}
	work := func() error {
		if f.stopped {
			return fmt.Errorf("work behind a stop page")
		}
		for _, q := range p.Questions {
			if (q.When == AtGate || q.When == AtHandover && f.persons > 0) && !f.yes[q.ID] {
				return fmt.Errorf("rules 1 and 5: work with question %s open", q.ID)
			}
		}
		if !f.set {
			return fmt.Errorf("rules 2 and 5: work without a pressure set and read back")
		}
		return nil
	}
	named := func(n Named) error {
		if sameName(n.Name, f.operator) {
			return fmt.Errorf("rule 7: the operator released his own work")
		}
		return nil
	}
	round := func(b Bolt, moved bool) error {
		if f.gapsAfter < len(p.Passes) {
			return fmt.Errorf("rule 4: a check round before all passes are closed and their gaps accepted")
		}
		if len(f.marked) == p.Bolts {
			if len(f.left) > 0 {
				return fmt.Errorf("rule 3: a new round with a bolt left and not released")
			}
			f.marked = map[Bolt]bool{}
		}
		f.marked[b] = moved
		f.still = len(f.marked) == p.Bolts
		for _, m := range f.marked {
			f.still = f.still && !m
		}
		return work()
	}
	switch d := e.Data.(type) {
	case SignedOn:
		if f.operator != "" && f.operator != d.Name {
			f.persons++
			f.set = false
			for _, q := range p.Questions {
				if q.When == AtHandover {
					f.yes[q.ID] = false
				}
			}
		}
		f.operator = d.Name
		if f.stopped && d.Permit == "" {
			return fmt.Errorf("a stop page was left without a permit number")
		}
		if f.stopped {
			f.stopped, f.set = false, false
			for _, q := range p.Questions {
				if q.When == AtGate {
					f.yes[q.ID] = false
				}
			}
		}
	case Answered:
		f.yes[d.Question] = d.Answer != No
		if d.Answer == No && d.Question == "3" {
			f.set, f.stopped = false, true
		}
	case Snugged:
		f.snugged = true
	case GapsMeasured, GapsAccepted:
		if a, ok := d.(GapsAccepted); ok {
			if err := named(a.Named); err != nil {
				return err
			}
		} else if m := d.(GapsMeasured); m.Readings[0].Gap > 0.005 {
			return nil // beyond the limit
		}
		if f.gapsAfter < 0 && f.snugged {
			f.gapsAfter = 0
		} else if f.pass > f.gapsAfter {
			f.gapsAfter = f.pass
		}
		if f.gapsAfter == len(p.Passes) && len(f.marked) < p.Bolts {
			f.marked = map[Bolt]bool{}
		}
	case PressureSet:
		if !d.AtEnd {
			f.set = true
			return nil
		}
		if len(f.marked) != p.Bolts || len(f.left) > 0 {
			return fmt.Errorf("rule 3: a pass was closed with %d marks and %d bolts left", len(f.marked), len(f.left))
		}
		f.set, f.marked = false, map[Bolt]bool{}
		if s := p.Passes[f.pass].Settings[0]; d.Running >= s.Least {
			f.high = d.Running > s.Most
			f.pass++
		}
	case BoltDone:
		if d.Pass != f.pass+1 || f.gapsAfter < f.pass || f.high {
			return fmt.Errorf("rule 4: pass %d with %d closed, gaps accepted after %d", d.Pass, f.pass, f.gapsAfter)
		}
		f.marked[d.Bolts[0]] = false
		return work()
	case NutStill:
		return round(d.Bolt, false)
	case NutMoved:
		return round(d.Bolt, true)
	case ProblemFound:
		if d.Bolt == 0 {
			f.set, f.stopped = false, true
			return nil
		}
		f.problems++
		if f.pass == len(p.Passes) {
			err := round(d.Bolt, true)
			f.left[d.Bolt] = true
			return err
		}
		f.left[d.Bolt], f.marked[d.Bolt] = true, false
		return work()
	case Undone:
		f.undos++
		delete(f.marked, d.Bolt)
		delete(f.left, d.Bolt)
		f.still = false
	case Released:
		if d.Of == OfQuestion {
			f.yes[d.Question] = true
		}
		if d.Question == "1" || d.Question == "3" {
			return fmt.Errorf("isolation and identity have no override")
		}
		delete(f.left, d.Bolt)
		f.released = f.released || d.Of == OfRounds
		f.high = f.high && d.Of != OfPressure
		return named(d.Named)
	case RestOver:
		if !f.still && !f.released {
			return fmt.Errorf("rule 6: a rest before a still round")
		}
		f.rested, f.still, f.released, f.set, f.marked = true, false, false, false, map[Bolt]bool{}
	case RestWaived:
		f.rested = true
		return named(d.Named)
	case CardClosed:
		if !f.still && !f.released || p.Rest > 0 && !f.rested {
			return fmt.Errorf("rule 6: closed without a still round after the last change and the rest")
		}
	}
	return nil
}
