// Package joint is the mechanics of one bolted flange joint: threads, friction,
// load and torque, and the wrench that brings the torque. It does no I/O and
// reads no clock.
package joint

import "evenload/joint/unit"

// Joint is one flange joint as the job gives it, every value resolved.
type Joint struct {
	Bolts      int
	Positions  Layout // of bolts that are no ring; none: a ring
	Thread     Thread
	Grade      string        // of the bolts, as the job has it
	Yield      unit.Stress   // of the bolts; 0 when not given
	GradeYield unit.Stress   // that the table has for the grade; 0: not known
	Circle     unit.Length   // of the bolts; 0: not given
	Rating     unit.Pressure // PN of the flange; 0: it has none
	Lubricant  string        // as the job has it
	Friction   Friction
	Target     Target
	Gasket     Gasket
	Limits     Limits
	Pressures  Pressures
	Tools      []Tool
	Air        Air
}
