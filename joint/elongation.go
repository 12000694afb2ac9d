package joint

import "evenload/joint/unit"

// Moduli of elasticity at room temperature (common practice).
const (
	lowAlloyModulus   = unit.Stress(205e9)
	austeniticModulus = unit.Stress(195e9)
)

// Modulus of elasticity of a bolt grade: 195 GPa for the austenitic ones, 205
// GPa for all others.
func Modulus(grade string) unit.Stress {
	if Austenitic(grade) {
		return austeniticModulus
	}
	return lowAlloyModulus
}

// Elongation of a stud that is threaded all along, at a load: F L/(E As), with L
// from the middle of one nut to that of the other, the grip and one nut height.
func Elongation(t Thread, load unit.Force, grip, nut unit.Length, e unit.Stress) unit.Length {
	return unit.Length(float64(load) * float64(grip+nut) / (float64(e) * float64(t.TensileArea())))
}
