package job

import (
	"slices"
	"testing"

	"evenload/joint/unit"
	"evenload/sequence"
)

// What a job leaves silent comes from the tables, with its origin.
func TestNamesStandForValues(t *testing.T) {
	text := []byte(`format = 1
[joint]
tag = "DH-1"
[bolts]
flange = "8 in 300#"
grade  = "B7"
[friction]
lubricant = "nickel anti-seize"
[gasket]
type = "spiral wound, stainless"
[target]
yield_share = "40 %"
[[tools]]
id = "W-1"
curve = [ { pressure = "1 bar", torque = "40 N·m" }, { pressure = "6 bar", torque = "400 N·m" } ]
[tools.gauge]
span = "0 to 10 bar"
division = "0.1 bar"
`)
	j, err := Parse("job.toml", text, ".")
	if err != nil {
		t.Fatal(err)
	}
	f := j.Joint.Friction
	if j.Joint.Bolts != 12 || j.Joint.Thread.Designation != "7/8-9 UNC" || j.Joint.Yield != 720e6 || f.NutFactor != 0.15 || f.Least != 0.13 || f.Most != 0.27 || f.Scatter != 0 {
		t.Errorf("%+v", j.Joint)
	}
	for _, want := range []sequence.Input{
		{Key: "bolts.count", Value: "12", Origin: "table"}, {Key: "bolts.thread", Value: "7/8-9 UNC", Origin: "table"},
		{Key: "bolts.circle", Value: "330.2 mm", Origin: "table"}, {Key: "bolts.hole", Value: "25.4 mm", Origin: "table"},
		{Key: "bolts.bearing_outer", Value: "1-7/16 in across flats (ASME B18.2.2 heavy hex)", Origin: "table"},
		{Key: "bolts.yield", Value: "720 MPa (A193 B7, <=2-1/2 in (<=M65))", Origin: "table"},
		{Key: "friction.nut_factor", Value: "0.15 (nickel-based anti-seize paste)", Origin: "table, from memory"},
		{Key: "friction.scatter", Value: "nut factor 0.13 to 0.27 (nickel-based anti-seize paste)", Origin: "table, from memory"},
	} {
		if !slices.Contains(j.Inputs, want) {
			t.Errorf("%+v is not among the inputs %+v", want, j.Inputs)
		}
	}
	if g := j.Joint.Gasket; g.M != 3 || g.Y != 68.9e6 || g.Inner.Text(unit.SI) != "233.4 mm" || g.Outer.Text(unit.SI) != "263.7 mm" {
		t.Errorf("%+v", g)
	}
	if j.System != unit.US {
		t.Errorf("an inch thread of a table is printed in %s", j.System)
	}
}
