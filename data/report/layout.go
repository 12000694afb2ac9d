package report

import (
	"fmt"
	"strings"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// numbered says how the numbers of the bolts run.
func numbered(p sequence.Plan) string {
	if p.Positions.Numbering() == joint.Clockwise {
		return "clockwise"
	}
	return "as the positions have them"
}

// positions lists where the bolts are that are no ring: "1 (-225, 150)".
func positions(p sequence.Plan) string {
	name := "mm"
	if p.System == unit.US {
		name = "in"
	}
	var parts []string
	for i, at := range p.Positions {
		parts = append(parts, fmt.Sprintf("%d %s", i+1, at.Text(p.System)))
	}
	return strings.Join(parts, "  ") + " " + name + ", x to the right, y up to the datum"
}

// positionsMm is for other programs; nil for a ring.
func positionsMm(p sequence.Plan) [][2]float64 {
	var all [][2]float64
	for _, at := range p.Positions {
		all = append(all, [2]float64{float64(at.X) / unit.Millimetre, float64(at.Y) / unit.Millimetre})
	}
	return all
}
