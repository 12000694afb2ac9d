package joint

import (
	"math"
	"slices"

	"evenload/joint/unit"
)

// Strength is what bolts and gasket of a joint bear, in numbers that a card can
// keep: with it the risk of a torque is told without the joint.
type Strength struct {
	PerTorque float64    `json:"load_per_torque"`   // nominal bolt load over torque, N/(N·m)
	Friction  unit.Share `json:"friction"`          // by which friction may put one bolt above nominal
	Yield     unit.Force `json:"yield_N,omitempty"` // load at which a bolt that turns out high yields while it is tightened; 0: not known
	Crush     unit.Force `json:"crush_N,omitempty"` // bolt load at which the gasket beside it is crushed; 0: not known
	Most      unit.Force `json:"most_N,omitempty"`  // nominal bolt load that site and flange allow; 0: not given

	Least []unit.Force `json:"least_N,omitempty"` // nominal bolt loads that site and gasket want
}

// Strength of the joint, with the tool at the setting of its last pass. Yield is
// that of tension and torsion together (VDI 2230), with the friction of a bolt
// that turns out high.
func (j Joint) Strength(t Tool, s Setting) Strength {
	st := Strength{PerTorque: float64(j.Friction.Load(j.Thread, 1)), Friction: j.Friction.part(j.Thread).High}
	for _, b := range j.Bounds(t, s) {
		if b.Least > 0 {
			st.Least = append(st.Least, b.Least)
		}
		switch b.Code {
		case "bolt-yield":
			st.Yield = b.Most
		case "gasket-crush":
			st.Crush = b.Most
		case "bolt-most", "flange-most":
			if st.Most == 0 || b.Most < st.Most {
				st.Most = b.Most
			}
		}
	}
	return st
}

// HighLoad is about what one bolt may carry that turned out high, tightened by
// a tool at a setting: the high load of Scatter.
func (st Strength) HighLoad(t Tool, s Setting) unit.Force {
	high := float64(st.Friction)
	for _, p := range t.parts(s) {
		high = math.Hypot(high, float64(p.High))
	}
	return unit.Force(st.PerTorque * float64(s.Delivered) * (1 + high))
}

// Setting is a tool's for this joint, as that of Joint.Setting.
func (st Strength) Setting(t Tool, torque unit.Torque, readBack unit.Share) (Setting, error) {
	s, err := t.Setting(torque, readBack)
	if err != nil {
		return s, err
	}
	nominal := func(s Setting) unit.Force { return unit.Force(st.PerTorque * float64(s.Delivered)) }
	s, _ = t.keeping(s, func(s Setting) bool {
		within := func(load, most unit.Force) bool { return most == 0 || load <= most*(1+hair) }
		high := st.HighLoad(t, s)
		return within(high, st.Yield) && within(high, st.Crush) && within(nominal(s), st.Most)
	}, func(higher, lower Setting) bool {
		return slices.ContainsFunc(st.Least, func(least unit.Force) bool {
			return nominal(higher) >= least*(1-hair) && nominal(lower) < least*(1-hair)
		})
	})
	return s, nil
}
