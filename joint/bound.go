package joint

import (
	"fmt"
	"math"

	"evenload/joint/unit"
)

// Bound is one limit of a joint, told as the load of one bolt at which it is
// reached, so that all limits can be compared. It is an estimate like every
// bolt load.
type Bound struct {
	Code   string // of the finding that says it is broken
	Key    string // of the job where it comes from
	Name   string
	Source string     // standard or practice
	Least  unit.Force // the bolts have to reach it; 0: no such side
	Most   unit.Force // the bolts must not pass it; 0: no such side
	AtHigh Severity   // of a single bolt that turns out high and passes Most; empty: such a bolt is not looked at
	Near   string     // code of the warning from nearMost of Most on; empty: none
	AtLow  bool       // the mean of all bolts that turns out low, or one such bolt, is said too
	basis  func(unit.System) string
}

// Basis is the limit in its own quantity.
func (b Bound) Basis(system unit.System) string {
	if b.basis == nil {
		return ""
	}
	return b.basis(system)
}

// The sources that bounds name.
const (
	pcc1Limits = "ASME PCC-1 Appendix O, from memory"
	codeLoads  = "ASME VIII-1 Appendix 2"
)

// Bounds are the limits that are known of a joint, at a tool's setting: the
// bolt's yield depends on the friction that the torque and the high load of the
// setting stand for. What is not given is not there.
func (j Joint) Bounds(t Tool, s Setting) []Bound {
	all := make([]Bound, 0, 10) // as many as there are kinds
	if y := j.Yield; y > 0 {
		high := j.Scatter(t, s).HighLoad()
		perNewton := Combined(j.Thread, 1, j.impliedFriction(s.Delivered, high))
		all = append(all, Bound{Code: "bolt-yield", Key: "target", Name: "bolt: yield while it is tightened", Source: "VDI 2230", Most: unit.Force(y / perNewton), AtHigh: Error, Near: "bolt-near-yield",
			basis: func(to unit.System) string { return y.Text(to) + ", tension and torsion" }})
		share := func(of unit.Share) (unit.Force, func(unit.System) string) {
			return unit.Force(float64(of) * float64(y) * float64(j.Thread.RootArea())),
				func(unit.System) string { return of.Text() + " of yield on the root area" }
		}
		if most := j.Limits.BoltMost; most > 0 {
			load, basis := share(most)
			all = append(all, Bound{Code: "bolt-most", Key: "limits.bolt_most", Name: "bolt: most that the site allows", Source: pcc1Limits, Most: load, AtHigh: Note, basis: basis})
		}
		if least := j.Limits.BoltLeast; least > 0 {
			load, basis := share(least)
			all = append(all, Bound{Code: "bolt-least", Key: "limits.bolt_least", Name: "bolt: least that the site wants", Source: pcc1Limits, Least: load, basis: basis})
		}
	}
	if most := j.Limits.FlangeMost; most > 0 {
		all = append(all, Bound{Code: "flange-most", Key: "flange.most_stress", Name: "flange: most that it bears", Source: pcc1Limits, AtHigh: Note,
			Most:  unit.Force(float64(most) * float64(j.Thread.RootArea())),
			basis: func(to unit.System) string { return most.Text(to) + " in the bolts, root area" }})
	}
	return j.addCodeBounds(j.addGasketBounds(all))
}

// addGasketBounds adds those of ASME PCC-1 Appendix O (from memory), with Ag the
// gasket's area and n bolts: seating F >= Sseat Ag/n; in service
// F >= (Sservice Ag + (pi/4) P Gid²)/(phi n) with Gid the inner diameter and
// phi the share of load that is left after relaxation; crush F <= Smax Ag/n.
func (j Joint) addGasketBounds(all []Bound) []Bound {
	g := j.Gasket
	area := g.Area()
	if area <= 0 || j.Bolts <= 0 {
		return all
	}
	each := func(stress unit.Stress) unit.Force {
		return unit.Force(float64(stress) * float64(area) / float64(j.Bolts))
	}
	if s := g.LeastStress; s > 0 {
		all = append(all, Bound{Code: "gasket-seating", Key: "gasket.least_stress", Name: "gasket: seated", Source: pcc1Limits, Least: each(s), AtLow: true,
			basis: onGasket(s)})
	}
	if s, p := g.LeastInService, j.Pressures.Design; s > 0 && p > 0 {
		end := float64(circleArea(g.Inner)) * float64(p)
		left := g.loadLeft()
		all = append(all, Bound{Code: "gasket-service", Key: "gasket.least_stress_in_service", Name: "gasket: tight in service",
			Source: pcc1Limits, Least: unit.Force((float64(s)*float64(area) + end) / float64(left) / float64(j.Bolts)),
			basis: func(to unit.System) string {
				return fmt.Sprintf("%s on the gasket at %s, %s of the load left", s.Text(to), p.Text(to), left.Text())
			}})
	}
	if s := g.MostStress; s > 0 {
		all = append(all, Bound{Code: "gasket-crush", Key: "gasket.most_stress", Name: "gasket: crush", Source: pcc1Limits, Most: each(s), AtHigh: Warning,
			basis: onGasket(s)})
	}
	return all
}

func onGasket(s unit.Stress) func(unit.System) string {
	return func(to unit.System) string { return s.Text(to) + " on the gasket" }
}

// addCodeBounds adds Wm2, and Wm1 at the design and the test pressure, by bolt.
func (j Joint) addCodeBounds(all []Bound) []Bound {
	g := j.Gasket
	if g.Area() <= 0 || j.Bolts <= 0 {
		return all
	}
	atPressure := func(p unit.Pressure) func(unit.System) string {
		return func(to unit.System) string { return fmt.Sprintf("m %v, %s", g.M, p.Text(to)) }
	}
	add := func(code, key, name string, load unit.Force, basis func(unit.System) string) {
		all = append(all, Bound{Code: code, Key: key, Name: name, Source: codeLoads, Least: load / unit.Force(j.Bolts), basis: basis})
	}
	if g.Y > 0 {
		add("wm2", "gasket.y", "gasket: seated (Wm2)", g.Wm2(), func(to unit.System) string { return "y " + g.Y.Text(to) })
	}
	if p := j.Pressures.Design; p > 0 && g.M > 0 {
		add("wm1-design", "pressure.design", "design pressure held (Wm1)", g.Wm1(p), atPressure(p))
	}
	if p := j.Pressures.Test; p > 0 && g.M > 0 {
		add("wm1-test", "pressure.test", "test pressure held (Wm1)", g.Wm1(p), atPressure(p))
	}
	return all
}

// nearMost is the share of yield above which bolts begin to stretch for good
// somewhere (VDI 2230 tightens to 90 %).
const nearMost = 0.9

// Findings says how a scattered load stands to the bound; nothing where it
// keeps it.
func (b Bound) Findings(s Scatter, system unit.System) []Finding {
	say := func(severity Severity, code, who string, load unit.Force) []Finding {
		limit, side, advice, round := b.Most, "the most", "lower the target, or ", math.Ceil
		if b.Least > 0 {
			limit, side, advice, round = b.Least, "the least", "raise the target, or ", math.Floor
		}
		if severity != Error {
			advice = ""
		}
		share := unit.Share(round(float64(load/limit)*1000) / 1000) // never rounded to keep what it breaks
		return []Finding{{severity, code, b.Key, fmt.Sprintf("%s (%s; %s): %s about %s, %s of %s: %sask the responsible engineer",
			b.Name, b.Basis(system), b.Source, who, load.Text(system), share.Text(), side, advice)}}
	}
	const all, high = "each bolt carries", "a bolt that turns out high carries"
	low := s.Nominal * unit.Force(1-s.MeanLow)
	// A setting next to the target must not hide that the target breaks a limit.
	lesser, greater := min(s.Nominal, s.Target), max(s.Nominal, s.Target)
	switch least, most := b.Least*(1-hair), b.Most*(1+hair); {
	case b.Least > 0 && lesser < least:
		return say(Error, b.Code, all, lesser)
	case b.Least > 0 && b.AtLow && low < least:
		return say(Warning, b.Code+"-mean", "should the mean of all bolts turn out low, each carries", low)
	case b.Least > 0 && b.AtLow && s.LowLoad() < least:
		return say(Note, b.Code+"-low", "a bolt that turns out low carries", s.LowLoad())
	case b.Most > 0 && greater > most:
		return say(Error, b.Code, all, greater)
	case b.Most > 0 && b.AtHigh == Error && s.HighLoad() > most:
		return say(Error, b.Code, high, s.HighLoad())
	case b.Most > 0 && b.AtHigh != "" && s.HighLoad() > most:
		return say(b.AtHigh, b.Code+"-high", high, s.HighLoad())
	case b.Near != "" && s.HighLoad() > b.Most*nearMost:
		return say(Warning, b.Near, high, s.HighLoad())
	}
	return nil
}

// keeps says whether no bolt passes the most of a bound: the nominal load, and
// a bolt that turns out high where that is more than told.
func (b Bound) keeps(s Scatter) bool {
	load := s.Nominal
	if b.AtHigh == Error || b.AtHigh == Warning {
		load = s.HighLoad()
	}
	return b.Most <= 0 || load <= b.Most*(1+hair)
}
