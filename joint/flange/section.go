// Package flange says how much a pair of bolted flanges closes at one bolt when
// another pulls: an axisymmetric section of flange, hub and pipe in 8-node
// elements, solved once for each circumferential harmonic. It rests on
// numerical checks only (3-D finite elements, in testdata/check): no measured
// joint was compared.
package flange

import (
	"errors"
	"fmt"

	"evenload/joint/unit"
)

// Section is one flange of a pair of equal ones, with its hub and a length of
// pipe. Lengths are diameters but for Thickness and HubLength.
type Section struct {
	Outside, Bore unit.Length
	Thickness     unit.Length // gasket face to nut face
	HubLarge      unit.Length // at the nut face; 0: a ring without hub and pipe
	HubLength     unit.Length // from the gasket face through the hub
	Pipe          unit.Length // outside, at the small end of the hub

	Bolts      int
	BoltCircle unit.Length
	Hole       unit.Length
	NutBearing unit.Length // outside of the nut's bearing face

	GasketInner, GasketOuter unit.Length
}

// Of the material, room temperature: E 200 GPa, nu 0.3 (carbon steel, common practice).
const (
	modulus = 200e9 // Pa
	poisson = 0.3
)

// FewestBolts and MostBolts are the numbers that the ring of closures is computed for.
const (
	FewestBolts = 3
	MostBolts   = 200
)

// thinnest is the least thickness, as a share of the width of the ring: thinner
// plates are no flanges (common practice is 0.3 and more), and would need a mesh
// without end.
const thinnest = 1.0 / 10

// Check says what of a section is missing or cannot be.
func (s Section) Check() error {
	for _, v := range []struct {
		name string
		is   unit.Length
	}{{"outside diameter", s.Outside}, {"bore", s.Bore}, {"thickness", s.Thickness}, {"bolt circle", s.BoltCircle}, {"bolt hole", s.Hole},
		{"bearing diameter of the nut", s.NutBearing}, {"gasket's inner diameter", s.GasketInner}, {"gasket's outer diameter", s.GasketOuter}} {
		if !length(v.is) {
			return fmt.Errorf("the %s of the flange is not known, or no length of a flange", v.name)
		}
	}
	switch {
	case s.Bolts < FewestBolts || s.Bolts > MostBolts:
		return fmt.Errorf("%d bolts, it is computed for %d to %d", s.Bolts, FewestBolts, MostBolts)
	case s.Bore >= s.Outside:
		return errors.New("the bore is not smaller than the outside of the flange")
	case s.Thickness < (s.Outside-s.Bore)/2*thinnest || s.Thickness > s.Outside:
		return errors.New("the flange is too thin or too thick for its width: look at the thickness")
	case s.GasketInner < s.Bore || s.GasketOuter <= s.GasketInner || s.GasketOuter > s.Outside:
		return errors.New("the gasket does not lie between bore and outside of the flange")
	case s.Hole >= s.NutBearing:
		return errors.New("the nut's bearing face is not larger than the bolt hole")
	case s.BoltCircle-s.NutBearing < s.Bore || s.BoltCircle+s.NutBearing > s.Outside:
		return errors.New("the nuts do not lie on the flange: look at bolt circle, bore, outside and nut")
	case float64(s.Bolts)*float64(s.Hole) >= 3*float64(s.BoltCircle):
		return errors.New("the bolt holes leave no ring between them")
	}
	if s.HubLarge == 0 && s.Pipe == 0 && s.HubLength == 0 {
		return nil
	}
	switch {
	case !length(s.HubLarge) || !length(s.Pipe) || !length(s.HubLength):
		return errors.New("of the hub, large diameter, length and pipe are needed together")
	case s.Pipe <= s.Bore || s.HubLarge < s.Pipe || s.HubLarge > s.Outside:
		return errors.New("the hub does not narrow from the flange to the pipe")
	case s.HubLength <= s.Thickness:
		return errors.New("the length through the hub is not larger than the thickness of the flange")
	}
	return nil
}

// length says whether it is one that a flange can have; not a number is none.
func length(l unit.Length) bool { return l > 0 && l <= 20 }

// hub says whether the section has a hub and a pipe.
func (s Section) hub() bool { return s.HubLarge > 0 }
