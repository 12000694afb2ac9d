package unit

import (
	"math"
	"testing"
)

// A text that is accepted is a finite number, and what is printed of it reads
// back as the same within the rounding of the print.
func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"92 mm", "1-7/16 in", "7/8 in", "298 mm²", "27000 lbf", "345 N/mm²", "50 ksi", "3.4 bar", "49 psi", "187 N·m", "138 ft-lb",
		"30°", "0.52 rad", "60 %", "200 N/mm³", "nan bar", "inf mm", "3,4 bar", "27,000 lbf", "1e18 m", "1e-300 N", "-0 mm", "1/0 in", "9.995 kN", "",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for k := range kinds {
			v, _, err := parse(s, k)
			if err != nil {
				continue
			}
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%q is %v", s, v)
			}
			for _, p := range prints(k, v) {
				if math.Abs(v) > 1e17 {
					continue // the print may round up to more than is read
				}
				back, _, err := parse(p.text, k)
				if err != nil {
					t.Fatalf("%q prints as %q: %v", s, p.text, err)
				}
				if diff := math.Abs(back - v); diff > p.share*math.Abs(v)+p.step {
					t.Fatalf("%q is %v, prints as %q and reads back as %v", s, v, p.text, back)
				}
			}
		}
	})
}

// printed is a text with the rounding that it may have: a share of the value
// plus a step, in SI.
type printed struct {
	text        string
	share, step float64
}

// prints gives the value as it is printed in each system.
func prints(k kind, v float64) []printed {
	// Half of the last figure is at most 5 % of a value of two figures, 0.5 % of
	// three, 0.05 % of four; a hair more, because the sums round too.
	const two, three, four = 0.0501, 0.00501, 0.000501
	const least = 0.501e-6 // half of the finest decimal
	switch k {
	case length:
		return []printed{{Length(v).Text(SI), 1e-12, 0.00501 * Millimetre}, {Length(v).Text(US), 1e-12, 0.000501 * Inch}}
	case area:
		return []printed{{Area(v).Text(SI), four, least * 1e-6}, {Area(v).Text(US), four, least * Inch * Inch}}
	case force:
		return []printed{{Force(v).Text(SI), two, least * 1e3}, {Force(v).Text(US), two, least * PoundForce}}
	case stress:
		return []printed{{Stress(v).Text(SI), three, least * 1e6}, {Stress(v).Text(US), three, least * ksiInPa}}
	case pressure:
		return []printed{{Pressure(v).Text(SI), three, least * Bar}, {Pressure(v).Text(US), three, least * PoundPerSquareInch}}
	case torque:
		return []printed{{Torque(v).Text(SI), three, least}, {Torque(v).Text(US), three, least * PoundForceFoot}}
	case share:
		return []printed{{Share(v).Text(), 1e-12, 0.000501}}
	}
	return nil // an angle and a stiffness are not printed
}
