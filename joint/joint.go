// Package joint is the mechanics of one bolted flange joint: threads, friction,
// load and torque, and the wrench that brings the torque. It does no I/O and
// reads no clock.
package joint

import "evenload/joint/unit"

// Joint is one flange joint as the job gives it, every value resolved.
type Joint struct {
	Bolts     int
	Thread    Thread
	Yield     unit.Stress // of the bolt's grade; 0 when not given
	Friction  Friction
	Target    Target
	Gasket    Gasket
	Limits    Limits
	Pressures Pressures
	Tools     []Tool
	Supply    unit.Pressure // of the air, 0 when not given
}
