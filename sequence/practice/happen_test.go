package practice

import (
	"testing"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/interaction"
)

// TestEvenLoadCountsPasses: the reading at the end of check rounds counts the bolts no
// second time; they are counted after every pass and at the end, as EvenWords says.
func TestEvenLoadCountsPasses(t *testing.T) {
	plan := &sequence.Plan{Bolts: 4, Tools: []joint.Tool{{}}, Aim: joint.Aim{Load: 1e4, Torque: 100}, Stations: []sequence.Station{{1}, {3}, {2}, {4}}, Passes: []sequence.Pass{{Share: 1}}}
	ring, err := interaction.New([]unit.Compliance{4e-9, 1e-10, 0, 1e-10}, 4e-9)
	if err != nil {
		t.Fatal(err)
	}
	r := New(Setup{}, plan)
	r.Model(ring, nil)
	for round := range 3 { // 0 is the pass
		step := sequence.Set{AtEnd: true, Place: sequence.Place{Pass: 1, Round: round}}
		if err := r.Happened(step, sequence.PressureSet{AtEnd: true}); err != nil || r.even.Asked != 4 {
			t.Errorf("after the reading at the end of round %d are counted %d bolts: %v", round, r.even.Asked, err)
		}
	}
}
