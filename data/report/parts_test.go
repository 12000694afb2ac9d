package report

import (
	"bytes"
	"encoding/json"
	"testing"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// TestPartFacts: what the first line of a card says of parts and target, and no more.
func TestPartFacts(t *testing.T) {
	p := sequence.Plan{System: unit.SI, About: sequence.About{Gasket: "spiral wound", Lubricant: "MoS2 paste"},
		Aim: joint.Aim{Load: 50e3, NutFactor: 0.1416, TensileStress: 320e6, YieldShare: 0.5}}
	input := func(key, value string) sequence.Input { return sequence.Input{Key: key, Value: value, Origin: "job"} }
	for _, c := range []struct {
		inputs []sequence.Input
		want   map[string]string
	}{
		{nil, map[string]string{"gasket": "spiral wound", "lubricant": "MoS2 paste, nut factor 0.142", "target": "about 320 MPa on the tensile area, 50 % of yield",
			"bolt load": "about 50 kN at 100 %, an estimate", "socket": ""}},
		{[]sequence.Input{input("gasket.inner", "200 mm"), input("gasket.outer", "220 mm"), input("friction.nut_factor", "0.142"), input("target.bolt_stress", "320 MPa"),
			input("target.area", "tensile"), input("bolts.nut_width", "24 mm")},
			map[string]string{"gasket": "spiral wound, seals from 200 mm to 220 mm", "lubricant": "MoS2 paste, nut factor 0.142 (job)",
				"target": "320 MPa bolt stress on the tensile area (job): about 320 MPa on the tensile area, 50 % of yield", "socket": "24 mm (job)"}},
		{[]sequence.Input{input("friction.thread", "0.12"), input("friction.bearing", "0.1"), input("target.yield_share", "50 %"), input("bolts.bearing_outer", "24 mm")},
			map[string]string{"lubricant": "MoS2 paste, nut factor 0.142 from the frictions 0.12 of the thread and 0.1 of the nut's face",
				"target": "50 % of yield (job): about 320 MPa on the tensile area", "socket": ""}},
		{[]sequence.Input{input("gasket.inner", "200 mm (a table)"), input("gasket.outer", "220 mm (a table)")}, map[string]string{"gasket": "spiral wound, seals from 200 mm to 220 mm (a table)"}},
		{[]sequence.Input{input("gasket.inner", "200 mm (a table)"), input("gasket.outer", "220 mm")}, map[string]string{"gasket": "spiral wound, seals from 200 mm (a table) to 220 mm"}},
		{[]sequence.Input{input("bolts.bearing_outer", "24 mm across flats (hex)")}, map[string]string{"socket": "24 mm across flats (hex) (job)"}},
	} {
		got := map[string]string{}
		for _, f := range Facts(sequence.CardOpened{Plan: p, Inputs: c.inputs}) {
			got[f.Label] = f.Text
		}
		for label, want := range c.want {
			if got[label] != want {
				t.Errorf("%v: %s is %q, want %q", c.inputs, label, got[label], want)
			}
		}
	}
}

// TestAskedJSON: the typed values of the plan, in the units of their names.
func TestAskedJSON(t *testing.T) {
	opened := sequence.CardOpened{Plan: sequence.Plan{About: sequence.About{Service: "district heating water, 90 °C"},
		Aim: joint.Aim{Load: 50e3, Torque: 112, TensileStress: 320e6, RootStress: 350e6, NutFactor: 0.14}}, Inputs: []sequence.Input{{Key: "format", Value: "1", Origin: "job"}}}
	text, err := json.Marshal(askedOf(opened))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"service":"district heating water, 90 °C"`, `"nut_factor":0.14`, `"torque_Nm":112`, `"bolt_load_N":50000`, `"tensile_stress_MPa":320`, `"root_stress_MPa":350`,
		`"yield_share":null`, `"inputs":[{"key":"format","value":"1","origin":"job"}]`} {
		if !bytes.Contains(text, []byte(want)) {
			t.Errorf("no %s in %s", want, text)
		}
	}
}
