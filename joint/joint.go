// Package joint is the mechanics of one bolted flange joint: threads, friction,
// load and torque, and the wrench that brings the torque. It does no I/O and
// reads no clock.
package joint

import "evenload/joint/unit"

// Joint is one flange joint as the job gives it, every value resolved.
type Joint struct {
	Bolts    int
	Thread   Thread
	Yield    unit.Stress // of the bolt's grade; 0 when not given
	Friction Friction
	Target   Target
	Gasket   Gasket
	Limits   Limits
	Tools    []Tool
	Supply   unit.Pressure // of the air, 0 when not given
}

// Gasket is the ring that the bolts squeeze; a zero diameter is not given.
type Gasket struct {
	Inner, Outer            unit.Length // diameters of the part that seals
	LeastStress, MostStress unit.Stress // to seat, and before it is crushed; 0: not given
}

// Area of the gasket that seals, 0 where a diameter is missing.
func (g Gasket) Area() unit.Area {
	if g.Inner <= 0 || g.Outer <= g.Inner {
		return 0
	}
	return circleArea(g.Outer) - circleArea(g.Inner)
}
