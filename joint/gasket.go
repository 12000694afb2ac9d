package joint

import (
	"math"

	"evenload/joint/unit"
)

// Gasket is the ring that the bolts squeeze; what is zero is not given.
type Gasket struct {
	Inner, Outer            unit.Length // diameters of the part that seals
	LeastStress, MostStress unit.Stress // to seat, and before it is crushed
	LeastInService          unit.Stress // to stay tight under pressure
	LoadLeft                unit.Share  // of the bolts' load after relaxation; 0: usualLoadLeft
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

// usualLoadLeft is the share of the bolts' load that counts as left after the
// gasket has relaxed (ASME PCC-1 Appendix O, from memory).
const usualLoadLeft = unit.Share(0.7)

func (g Gasket) loadLeft() unit.Share {
	if g.LoadLeft > 0 {
		return g.LoadLeft
	}
	return usualLoadLeft
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
