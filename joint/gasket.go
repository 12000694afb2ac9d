package joint

import (
	"fmt"
	"math"

	"evenload/joint/unit"
)

// Gasket is the ring that the bolts squeeze; what is zero is not given.
type Gasket struct {
	Inner, Outer            unit.Length // diameters of the part that seals
	LeastStress, MostStress unit.Stress // to seat, and before it is crushed
	M                       float64     // factors of ASME VIII-1 Appendix 2
	Y                       unit.Stress
}

// Pressures are those that the joint has to hold; 0 is not given.
type Pressures struct {
	Design, Test unit.Pressure
}

// Area of the gasket that seals, 0 where a diameter is missing.
func (g Gasket) Area() unit.Area {
	if g.Inner <= 0 || g.Outer <= g.Inner {
		return 0
	}
	return circleArea(g.Outer) - circleArea(g.Inner)
}

// narrow is the basic width up to which a gasket bears evenly: 6 mm (1/4 in).
const narrow = unit.Length(6 * unit.Millimetre)

// Effective gives the effective width b and the diameter G of the gasket's
// reaction (ASME VIII-1 Appendix 2): b0 = N/2 with N the contact width; up to
// 6 mm b = b0 and G is the mean diameter, above it b = 2.52 sqrt(b0) in mm and
// G the outer diameter less 2b.
func (g Gasket) Effective() (b, diameter unit.Length) {
	b0 := (g.Outer - g.Inner) / 4
	if b0 <= narrow {
		return b0, (g.Inner + g.Outer) / 2
	}
	b = unit.Length(2.52*math.Sqrt(float64(b0)/unit.Millimetre)) * unit.Millimetre
	return b, g.Outer - 2*b
}

// Wm1 is the load of all bolts that holds the gasket tight at a pressure
// (ASME VIII-1 Appendix 2): (pi/4) G² P + 2 b pi G m P.
func (g Gasket) Wm1(p unit.Pressure) unit.Force {
	b, d := g.Effective()
	return unit.Force(math.Pi/4*float64(d)*float64(d)*float64(p) + 2*float64(b)*math.Pi*float64(d)*g.M*float64(p))
}

// Wm2 is the load of all bolts that seats the gasket (ASME VIII-1 Appendix 2):
// pi b G y.
func (g Gasket) Wm2() unit.Force {
	b, d := g.Effective()
	return unit.Force(math.Pi * float64(b) * float64(d) * float64(g.Y))
}

// codeFindings holds the nominal load of all bolts against Wm2, and against
// Wm1 at the design and the test pressure.
func (j Joint) codeFindings(nominal unit.Force, system unit.System) []Finding {
	if j.Gasket.Area() <= 0 || j.Gasket.M <= 0 {
		return nil
	}
	var all []Finding
	total := nominal * unit.Force(j.Bolts)
	want := func(need unit.Force, code, key, what string) {
		if need > total {
			all = append(all, Finding{Error, code, key, fmt.Sprintf("all bolts together give %s, %s wants %s (ASME VIII-1 Appendix 2): raise the target, or ask the responsible engineer",
				total.Text(system), what, need.Text(system))})
		}
	}
	if j.Gasket.Y > 0 {
		want(j.Gasket.Wm2(), "wm2", "gasket.y", "seating the gasket")
	}
	if p := j.Pressures.Design; p > 0 {
		want(j.Gasket.Wm1(p), "wm1-design", "pressure.design", "the design pressure "+p.Text(system))
	}
	if p := j.Pressures.Test; p > 0 {
		want(j.Gasket.Wm1(p), "wm1-test", "pressure.test", "the test pressure "+p.Text(system))
	}
	return all
}

// gasketFindings judges the gasket: seating on the low side, crush on the high.
func (j Joint) gasketFindings(s Scatter, system unit.System) []Finding {
	area := j.Gasket.Area()
	if area <= 0 {
		return nil
	}
	var all []Finding
	say := func(severity Severity, code, key, format string, a ...any) {
		all = append(all, Finding{severity, code, key, fmt.Sprintf(format, a...)})
	}
	stress := func(load unit.Force) unit.Stress {
		return unit.Stress(float64(load) * float64(j.Bolts) / float64(area))
	}
	if least := j.Gasket.LeastStress; least > 0 {
		mean := stress(s.Nominal * unit.Force(1-s.MeanLow))
		switch low := stress(s.LowLoad()); {
		case stress(s.Nominal) < least:
			say(Error, "gasket-seating", "gasket.least_stress", "the gasket gets %s, it wants %s to seat: raise the target", stress(s.Nominal).Text(system), least.Text(system))
		case mean < least:
			say(Warning, "gasket-seating-mean", "gasket.least_stress", "with the mean of all bolts low the gasket gets %s, it wants %s to seat: ask the responsible engineer", mean.Text(system), least.Text(system))
		case low < least:
			say(Note, "gasket-seating-low", "gasket.least_stress", "beside a bolt that turns out low the gasket gets %s, it wants %s to seat", low.Text(system), least.Text(system))
		}
	}
	if most := j.Gasket.MostStress; most > 0 {
		switch high := stress(s.HighLoad()); {
		case stress(s.Nominal) > most:
			say(Error, "gasket-crush", "gasket.most_stress", "the gasket gets %s, it bears %s: lower the target", stress(s.Nominal).Text(system), most.Text(system))
		case high > most:
			say(Warning, "gasket-crush-high", "gasket.most_stress", "beside a bolt that turns out high the gasket gets %s, it bears %s: ask the responsible engineer", high.Text(system), most.Text(system))
		}
	}
	return all
}
