package joint

import (
	"errors"

	"evenload/joint/unit"
)

// Friction is what turns torque into load: the short form by a nut factor, or
// the long form by the friction in the thread and under the nut.
type Friction struct {
	NutFactor    float64     // K; 0: the long form holds
	Thread       float64     // friction in the thread
	Bearing      float64     // friction under the nut
	BearingInner unit.Length // diameters of the nut's bearing face
	BearingOuter unit.Length
	Scatter      unit.Share // of bolt load at one torque, both sides
	Least, Most  float64    // the range of the nut factor; 0: not known
}

// check refuses a friction that would give too little torque without a word:
// the long form without a bearing face leaves out the friction under the nut.
func (f Friction) check() error {
	switch {
	case f.NutFactor > 0:
		return nil
	case f.NutFactor != 0:
		return errors.New("the nut factor is not above zero: give friction.nut_factor, such as 0.15")
	case !(f.Thread > 0) || !(f.Bearing > 0):
		return errors.New("no friction is known: give friction.nut_factor, or friction.thread and friction.bearing")
	case !(f.BearingInner > 0) || !(f.BearingOuter > f.BearingInner):
		return errors.New("the bearing face of the nut is not known: give bolts.bearing_inner and the larger bolts.bearing_outer")
	}
	return nil
}

// arm is torque over load, in metres. Short form: T = K d F. Long form (ASME
// PCC-1 App. J; VDI 2230 and ISO 16047 agree):
// T = F (0.15915 p + 0.57735 d2 mu_thread + 0.5 De mu_nut), De the mean of the
// bearing diameters.
func (f Friction) arm(t Thread) float64 {
	if f.NutFactor > 0 {
		return f.NutFactor * float64(t.Diameter)
	}
	return 0.15915*float64(t.Pitch) + 0.57735*float64(t.PitchDiameter())*f.Thread + 0.5*f.bearing()*f.Bearing
}

// bearing is the effective bearing diameter De, in metres.
func (f Friction) bearing() float64 { return float64(f.BearingInner+f.BearingOuter) / 2 }

// Torque that gives the load.
func (f Friction) Torque(t Thread, load unit.Force) unit.Torque {
	return unit.Torque(f.arm(t) * float64(load))
}

// Load that the torque gives, on average: friction scatters it.
func (f Friction) Load(t Thread, torque unit.Torque) unit.Force {
	return unit.Force(float64(torque) / f.arm(t))
}

// EquivalentNutFactor is K = T/(d F).
func (f Friction) EquivalentNutFactor(t Thread) float64 { return f.arm(t) / float64(t.Diameter) }

// Coefficient is the one friction, in the thread and under the nut, that a nut
// factor stands for: (K d - 0.15915 p) / (0.57735 d2 + 0.5 De). It needs the
// bearing diameters.
func (f Friction) Coefficient(t Thread) float64 {
	k := f.EquivalentNutFactor(t)
	return (k*float64(t.Diameter) - 0.15915*float64(t.Pitch)) / (0.57735*float64(t.PitchDiameter()) + 0.5*f.bearing())
}
