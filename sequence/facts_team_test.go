package sequence

import (
	"errors"
	"fmt"
	"slices"
)

// pressure follows a reading of one of the tools.
func (f *facts) pressure(p *Plan, d PressureSet) error {
	if d.Tool >= len(p.Tools) {
		return fmt.Errorf("rule 2: %+v is of a tool that there is not", d)
	}
	s := f.setting(p, d.Tool)
	low, high := d.Running < s.Least, d.Running > s.Most // the tools' charts were made running
	if !d.AtEnd {
		if low || high || !f.needs(p).has(d.Tool) {
			return fmt.Errorf("rule 2: %+v was taken for a pressure inside the band of this pass", d)
		}
		f.set = f.set.with(d.Tool)
		if f.pass < len(p.Passes) {
			return errors.Join(f.holdKept(p, HoldBeforePass, f.pass+1), f.gate(p))
		}
		return f.gate(p)
	}
	if f.marked.len() != p.Bolts || f.left != 0 || f.held > 0 || f.redo.bolt > 0 {
		return fmt.Errorf("rule 3: a pass was closed with %d marks and %d bolts left", f.marked.len(), f.left.len())
	}
	if f.read.has(d.Tool) {
		return fmt.Errorf("rule 2: a second end reading of tool %d", d.Tool)
	}
	if f.pass == len(p.Passes) && f.moved(p) != 0 && f.round < p.CheckRounds {
		return errors.New("rule 6: the pressure was read at the end of a round with nuts that moved, and another comes")
	}
	f.read = f.read.with(d.Tool)
	if low {
		f.low = f.low.with(d.Tool)
	}
	if high {
		f.high = f.high.with(d.Tool)
	}
	f.passEnds(p)
	return nil
}

// passEnds closes a pass, or begins it again, when all its end readings are
// taken and none that was high waits for a release. Behind the passes it closes
// the check rounds.
func (f *facts) passEnds(p *Plan) {
	if f.pass == len(p.Passes) {
		if f.high == 0 {
			f.still, f.usedUp = f.low == 0 && f.moved(p) == 0, f.low == 0 && f.moved(p) != 0
			f.set, f.read, f.low = 0, 0, 0
			f.fresh()
		}
		return
	}
	if f.read.len() < len(p.Tools) || f.high != 0 {
		return
	}
	if f.low == 0 {
		f.pass++
	}
	f.set, f.read, f.low = 0, 0, 0
	f.fresh()
}

// station says which rule it breaks to tighten bolts together: they are those of
// one station, in the order of its tools, that were neither done nor left nor out.
func (f *facts) station(p *Plan, bolts []Bolt) error {
	for _, b := range bolts {
		if err := f.hasParts(b); err != nil {
			return err
		}
	}
	for _, s := range p.Stations {
		open := slices.DeleteFunc(slices.Clone(s), func(b Bolt) bool { return f.marked.has(int(b)) })
		if slices.Equal(open, bolts) {
			return nil
		}
	}
	return fmt.Errorf("rule 3: bolts %v are not the open ones of a station", bolts)
}
