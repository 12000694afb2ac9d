package sequence

import (
	"fmt"

	"evenload/joint/unit"
)

// noteMaterials takes down the batches once, after the gate.
func (w *Walk) noteMaterials(d MaterialsNoted) error {
	if d.Ambient != nil && !(*d.Ambient > -60 && *d.Ambient < 60) {
		return fmt.Errorf("%s about the joint is not believable: read it again", d.Ambient.Text(w.plan.System))
	}
	w.phase = phaseSnug
	return nil
}

// Words are the batches and the temperature, each with its name; what was left
// empty was not recorded.
func (d MaterialsNoted) Words(s unit.System) []Told {
	ambient := ""
	if d.Ambient != nil {
		ambient = d.Ambient.Text(s)
	}
	all := []Told{{"gasket batch", d.Gasket}, {"stud batch", d.Stud}, {"nut batch", d.Nut}, {"lubricant batch", d.Lubricant}, {"ambient temperature", ambient}}
	for i := range all {
		if all[i].Text == "" {
			all[i].Text = "not recorded"
		}
	}
	return all
}
