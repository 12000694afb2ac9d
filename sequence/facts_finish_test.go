package sequence

import (
	"errors"
	"fmt"
)

// finish is what happened to studs and leak test.
type finish struct {
	studs   set // measured
	outside set // those of them outside the band, and not released
	high    set // those above it, and beyond yield
	beyond  set
	tested  bool
}

// measured says which rule the stretch of a stud breaks.
func (f *facts) measured(p *Plan, d StretchMeasured) error {
	if !f.still && !f.released || p.Rest > 0 && !f.rested {
		return errors.New("rule 6: a stud measured before a still round after the last change and the rest")
	}
	if p.Stretch == nil || f.finish.studs.has(int(d.Bolt)) {
		return fmt.Errorf("rule 13: the stud of bolt %d is measured twice, or nobody asked for it", d.Bolt)
	}
	f.finish.studs = f.finish.studs.with(int(d.Bolt))
	if !p.Stretch.InBand(d.Load) {
		f.finish.outside = f.finish.outside.with(int(d.Bolt))
	}
	if d.Load > p.Stretch.High {
		f.finish.high = f.finish.high.with(int(d.Bolt))
	}
	if y := p.Stretch.Yield; y > 0 && d.Load >= y {
		f.finish.beyond = f.finish.beyond.with(int(d.Bolt))
	}
	return f.gate(p)
}

// unmeasured takes the stretch of a stud back.
func (f *facts) unmeasured(d Undone) error {
	if !f.finish.studs.has(int(d.Bolt)) || len(d.Bolts) > 0 {
		return fmt.Errorf("rule 7: %s was taken back, and was not measured", d.Words())
	}
	f.finish.studs, f.finish.outside = f.finish.studs.without(int(d.Bolt)), f.finish.outside.without(int(d.Bolt))
	f.finish.high, f.finish.beyond = f.finish.high.without(int(d.Bolt)), f.finish.beyond.without(int(d.Bolt))
	return nil
}

// studsAgain says which rule it breaks to measure again. It is counted with what
// is taken back, rounds with the changes, so that an exploration ends.
func (f *facts) studsAgain(p *Plan, d StudsAgain) error {
	if f.finish.outside == 0 {
		return errors.New("rule 13: studs are measured again that are in the band")
	}
	if !d.Rounds {
		f.undos++
		f.finish.studs, f.finish.outside = f.finish.studs&^f.finish.outside, 0
		f.finish.high, f.finish.beyond = 0, 0
		return nil
	}
	if f.finish.beyond != 0 {
		return errors.New("rule 13: full torque on a stud that is beyond yield")
	}
	if f.finish.high != 0 {
		if d.Decided == nil {
			return errors.New("rule 13: full torque on a stud that is high, and nobody decided it")
		}
		if err := f.named(*d.Decided); err != nil {
			return err
		}
		f.finish.high = 0
	}
	f.changes++
	f.finish.studs, f.finish.outside = 0, 0
	f.still, f.released, f.set = false, false, 0
	f.fresh()
	return nil
}

// studsReplaced follows the decision that studs above the band get new ones. It is
// counted with the changes.
func (f *facts) studsReplaced(d Released) error {
	f.changes++
	for _, b := range d.Replace {
		if !f.finish.high.has(int(b)) {
			return fmt.Errorf("rule 13: the stud of bolt %d is replaced, and is not high", b)
		}
		f.out = f.out.with(int(b))
	}
	if f.finish.beyond&^f.out != 0 {
		return errors.New("rule 13: full torque on a stud that is beyond yield")
	}
	f.finish.studs, f.finish.outside, f.finish.high, f.finish.beyond = 0, 0, 0, 0
	f.still, f.released, f.set, f.first = false, false, 0, true
	f.fresh()
	return nil
}

// tested says which rule the result of a leak test breaks.
func (f *facts) tested(p *Plan, d LeakTested) error {
	if !p.LeakTest || f.finish.tested {
		return errors.New("rule 13: a leak test twice, or nobody asked for one")
	}
	if d.Result == Leaked && len(d.Bolts) == 0 || d.Result == Untested && d.Note == "" {
		return errors.New("rule 13: a leak without bolts, or no test without a reason")
	}
	if f.doubt != 0 {
		return errors.New("rules 1 and 5: tested with questions open")
	}
	f.finish.tested = true
	return errors.Join(f.holdKept(p, HoldBeforeClose, 0), f.finished(p))
}

// finished says what is missing before the card is closed. A bolt that an engineer
// left out has no stud to measure.
func (f *facts) finished(p *Plan) error {
	if p.Stretch != nil && ((f.finish.studs|f.out).len() != p.Bolts || f.finish.outside != 0) {
		return errors.New("rule 13: a stud was not measured, or is outside the band and nobody released it")
	}
	if p.LeakTest && !f.finish.tested {
		return errors.New("rule 13: nobody wrote down what the leak test gave")
	}
	return nil
}
