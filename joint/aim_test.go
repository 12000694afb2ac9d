package joint

import (
	"math"
	"slices"
	"strings"
	"testing"

	"evenload/joint/unit"
)

func TestAimRefuses(t *testing.T) {
	good := Joint{Thread: thread(t, "M20"), Friction: Friction{NutFactor: 0.15}, Target: Target{Kind: ByTorque, Torque: 300}}
	aim(t, good)
	long := Friction{Thread: 0.12, Bearing: 0.12, BearingInner: 22 * mm, BearingOuter: 28 * mm}
	for what, c := range map[string]struct {
		spoil func(*Joint)
		hint  string
	}{
		"share without yield": {func(j *Joint) { j.Target = Target{Kind: ByYieldShare, Share: 0.5} }, "bolts.yield"},
		"no target":           {func(j *Joint) { j.Target = Target{} }, "unknown kind of target"},
		"no load":             {func(j *Joint) { j.Target = Target{Kind: ByBoltLoad} }, "no bolt load"},
		"negative load":       {func(j *Joint) { j.Target = Target{Kind: ByBoltLoad, Load: -1} }, "no bolt load"},
		"endless torque":      {func(j *Joint) { j.Target.Torque = unit.Torque(math.Inf(1)) }, "no bolt load"},
		"not a number":        {func(j *Joint) { j.Target.Torque = unit.Torque(math.NaN()) }, "no bolt load"},
		"unknown area":        {func(j *Joint) { j.Target = Target{Kind: ByBoltStress, Stress: mpa, Area: "shank"} }, "unknown area"},
		"no friction":         {func(j *Joint) { j.Friction = Friction{} }, "no friction is known"},
		"negative nut factor": {func(j *Joint) { j.Friction.NutFactor = -0.1 }, "nut factor is not above zero"},
		"nut factor unknown":  {func(j *Joint) { j.Friction.NutFactor = math.NaN() }, "nut factor is not above zero"},
		"no bearing face":     {func(j *Joint) { j.Friction = Friction{Thread: 0.12, Bearing: 0.12} }, "bearing face"},
		"face inside out":     {func(j *Joint) { j.Friction = long; j.Friction.BearingOuter = 20 * mm }, "bearing face"},
		"no bearing friction": {func(j *Joint) { j.Friction = long; j.Friction.Bearing = 0 }, "no friction is known"},
	} {
		j := good
		c.spoil(&j)
		if a, err := j.Aim(); err == nil {
			t.Errorf("%s: gives %+v", what, a)
		} else if !strings.Contains(err.Error(), c.hint) {
			t.Errorf("%s: %q does not say %q", what, err, c.hint)
		}
	}
}

// The share of yield is shown beside every target, and is 0, not a guess, where
// the yield is not known.
func TestShareOfYieldNeedsYield(t *testing.T) {
	j := Joint{Thread: thread(t, "M20"), Friction: Friction{NutFactor: 0.15}, Target: Target{Kind: ByBoltStress, Stress: 345 * mpa}}
	if a := aim(t, j); a.YieldShare != 0 {
		t.Errorf("share of yield %v without a yield", a.YieldShare)
	}
	j.Yield = 690 * mpa
	wantNear(t, "share of yield", float64(aim(t, j).YieldShare), 0.5, 1e-12)
}

func TestGasketArea(t *testing.T) {
	// Ring 233.4 to 263.7 mm: W25 of the table of worked examples, own arithmetic.
	i := slices.IndexFunc(table(t, "worked_examples.csv"), func(row map[string]string) bool {
		return row["id"] == "W25" && strings.Contains(row["input"], "Ag=11830 mm2")
	})
	if i < 0 {
		t.Fatal("W25 is not in the table")
	}
	wantNear(t, "area", float64(Gasket{Inner: 233.4 * mm, Outer: 263.7 * mm}.Area())/mm2, 11830, 0.0001)
	for _, g := range []Gasket{{}, {Inner: 1}, {Outer: 1}, {Inner: 2, Outer: 1}, {Inner: 1, Outer: 1}} {
		if g.Area() != 0 {
			t.Errorf("%+v has area %v", g, g.Area())
		}
	}
}
