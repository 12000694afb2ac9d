package joint

import (
	"strings"
	"testing"

	"evenload/joint/unit"
)

// A slip of units is named by the two units (NIST SP 811: 1 lbf·ft is 1.3558 N·m,
// 1 kgf·m 9.80665 N·m, 1 bar 14.504 psi, 1 ksi 6.8948 MPa).
func TestSlipsAreNamed(t *testing.T) {
	thread, err := ParseThread("7/8-9 UNC")
	if err != nil {
		t.Fatal(err)
	}
	j := Joint{Bolts: 12, Thread: thread, Yield: 720e6, Friction: Friction{NutFactor: 0.15}}
	for _, c := range []struct {
		target Target
		want   string
	}{
		{Target{Kind: ByTorque, Torque: 311}, ""},
		{Target{Kind: ByTorque, Torque: 311 * 9.80665}, "N·m and kgf"},
		{Target{Kind: ByTorque, Torque: 311 / 9.80665}, "N·m and kgf"},
		{Target{Kind: ByTorque, Torque: 180 / 1.355818}, "N·m and lbf·ft"},
		{Target{Kind: ByTorque, Torque: 500 * 1.355818}, "N·m and lbf·ft"},
		{Target{Kind: ByTorque, Torque: 311 * 12}, "lbf·ft and lbf·in"},
		{Target{Kind: ByTorque, Torque: 311 * 14.5}, "usual"}, // no slip of torque: too far for any
		{Target{Kind: ByBoltStress, Stress: 345e6 / 6.894757}, "MPa and ksi"},
		{Target{Kind: ByBoltStress, Stress: 345e6 * 10}, "MPa and bar"},
		{Target{Kind: ByBoltStress, Stress: 345e6 / 145.0377}, "MPa and psi"},
		{Target{Kind: ByBoltLoad, Load: 93e3 * 9.80665}, "kN and tonnes-force"},
		{Target{Kind: ByBoltStress, Stress: 345e6 / 14.50377}, "bar and psi"},
		{Target{Kind: ByBoltLoad, Load: 93e3 / 4.448222}, "kN and thousands of lbf"},
		{Target{Kind: ByYieldShare, Share: 0.05}, "5 % of yield"},
		{Target{Kind: ByYieldShare, Share: 0.5}, ""},
	} {
		j.Target = c.target
		found := j.sizeFindings(unit.SI)
		switch {
		case c.want == "" && len(found) > 0:
			t.Errorf("%+v: %v", c.target, found)
		case c.want != "" && (len(found) != 1 || found[0].Code != "target-size" || !strings.Contains(found[0].Text, c.want)):
			t.Errorf("%+v: %v, want %q", c.target, found, c.want)
		}
	}
	// Without a yield the stress is judged.
	j.Yield, j.Target = 0, Target{Kind: ByBoltStress, Stress: 20e6}
	if found := j.sizeFindings(unit.SI); len(found) != 1 || !strings.Contains(found[0].Text, "100 MPa to 600 MPa") {
		t.Errorf("%v", found)
	}
}
