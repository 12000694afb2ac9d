package practice

import (
	"evenload/sequence"
)

// Happened does to the simulated joint what an event of the walk says, once it is
// on the card. The step is the one that the event answered. An error is of the model: then
// the practice cannot go on.
func (r *Run) Happened(step sequence.Step, d sequence.Data) error {
	if r.joint == nil {
		return nil
	}
	switch d.(type) {
	case sequence.Suspended:
		if r.sent && !r.again {
			r.again = true
			r.ahead += r.awayFor()
		}
		return nil
	case sequence.Snugged:
		return r.snug()
	}
	switch s := step.(type) {
	case sequence.Set:
		if _, read := d.(sequence.PressureSet); read && s.AtEnd && s.Round == 0 && s.Slot == len(r.plan.Tools)-1 {
			r.even.Asked += r.plan.Bolts
			r.even.Right += r.joint.even()
		}
	case sequence.Tighten:
		switch d := d.(type) {
		case sequence.BoltDone:
			return r.stalled(s)
		case sequence.ProblemFound:
			if d.Bolt > 0 && r.noLoadAt(s) {
				r.met = true
			}
		}
	case sequence.Check:
		switch d.(type) {
		case sequence.NutMoved, sequence.NutStill:
			return r.checked(s)
		}
	}
	return nil
}

// snug brings all bolts to the hand wrench's share, in order.
func (r *Run) snug() error {
	for range 2 {
		for _, b := range r.plan.SnugOrder() {
			t := r.plan.Snug.Torque
			if err := r.joint.stall([]pull{{b, t, t}}, "snug"); err != nil {
				return err
			}
		}
	}
	r.joint.last = nil
	return nil
}

func (r *Run) stalled(s sequence.Tighten) error {
	var pulls []pull
	noLoad := r.noLoadAt(s)
	for i, t := range s.Turns {
		p := pull{bolt: t.Bolt, real: t.Setting.Delivered, right: t.Setting.Delivered}
		if read, ok := r.actual[setKey(s.Place, t.Slot)]; ok {
			p.real = 0 // below the chart the tool hardly turns
			if torque, err := t.Tool.Chart.Torque(read); err == nil {
				p.real = torque
			}
		}
		if i == 0 && noLoad {
			p.real, r.met = 0, true
		}
		pulls = append(pulls, p)
	}
	r.look = !noLoad || len(pulls) > 1 // a nut that took no load shows nothing new
	return r.joint.stall(pulls, r.at(s))
}

func (r *Run) checked(s sequence.Check) error {
	if r.lowAt(s) {
		r.lowDone, r.look = true, false
		return nil
	}
	r.look = true
	return r.joint.check(s.Bolt, s.Setting.Delivered, r.at(s))
}
