package joint

import (
	"math"
	"strings"

	"evenload/joint/unit"
)

// Thread is a 60-degree screw thread of one of the series that ParseThread knows.
type Thread struct {
	Designation string      // "7/8-9 UNC", "1-1/8-8 UN", "M20", "M24x2"
	Diameter    unit.Length // nominal, d
	Pitch       unit.Length // p
	Inch        bool
}

// Size is the nominal size as tables of nuts have it: "7/8", "1-1/8", "M24".
func (t Thread) Size() string {
	name, _, _ := strings.Cut(t.Designation, " ")
	if t.Inch {
		return name[:max(0, strings.LastIndexByte(name, '-'))]
	}
	size, _, _ := strings.Cut(name, "x")
	return size
}

// PitchDiameter is d2 = d - 0.649519 p (ISO 724, ASME B1.1).
func (t Thread) PitchDiameter() unit.Length { return t.Diameter - 0.649519*t.Pitch }

// MinorDiameter is that of an external thread: metric d3 = d - 1.226869 p
// (ISO 724), inch d3 = D - 1.299038/n (ASME B1.1).
func (t Thread) MinorDiameter() unit.Length {
	if t.Inch {
		return t.Diameter - 1.299038*t.Pitch
	}
	return t.Diameter - 1.226869*t.Pitch
}

// TensileArea is (pi/4)(d - 0.938194 p)² (ISO 898-1), inch (pi/4)(D - 0.9743/n)² (ASME B1.1).
func (t Thread) TensileArea() unit.Area {
	if t.Inch {
		return circleArea(t.Diameter - 0.9743*t.Pitch)
	}
	return circleArea(t.Diameter - 0.938194*t.Pitch)
}

// RootArea is (pi/4)(D - 1.299038 p)², metric and inch (ASME PCC-1 Table H-1).
func (t Thread) RootArea() unit.Area { return circleArea(t.Diameter - 1.299038*t.Pitch) }

func circleArea(d unit.Length) unit.Area { return unit.Area(math.Pi / 4 * float64(d) * float64(d)) }
