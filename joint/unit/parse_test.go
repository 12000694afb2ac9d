package unit

import (
	"math"
	"strings"
	"testing"
)

// Factors of NIST SP 811 (2008), Appendix B, as printed there, the exact ones to
// the last digit.
func TestFactorsOfNIST(t *testing.T) {
	for _, c := range []struct {
		text  string
		kind  kind
		si    float64
		digit float64 // half of the last printed digit; 0: exact
	}{
		{"1 lbf·ft", torque, 1.355818, 5e-7},
		{"1 lbf·in", torque, 0.1129848, 5e-8},
		{"1 kgf·m", torque, 9.80665, 0},
		{"1 psi", pressure, 6894.757, 5e-4},
		{"1 psi", stress, 6894.757, 5e-4},
		{"1 ksi", stress, 6.894757e6, 0.5},
		{"1 bar", pressure, 100e3, 0},
		{"1 mbar", pressure, 100, 0},
		{"1 kgf/cm²", pressure, 98066.5, 0},
		{"1 lbf", force, 4.448222, 5e-7},
		{"1 kgf", force, 9.80665, 0},
		{"1 kip", force, 4448.222, 5e-4},
		{"1 in", length, 0.0254, 0},
		{"1 ft", length, 0.3048, 0},
		{"1 in²", area, 6.4516e-4, 0},
		{"1 deg", angle, 0.01745329, 5e-9},
	} {
		got, _, err := parse(c.text, c.kind)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
		} else if math.Abs(got-c.si) > c.digit+1e-14*c.si {
			t.Errorf("%s is %.10g, published %.10g", c.text, got, c.si)
		}
	}
}

func TestParse(t *testing.T) {
	for _, c := range []struct {
		kind  kind
		texts string // parted by |
		want  float64
	}{
		{length, "92 mm|92mm| 92 mm |9.2 cm|0.092 m|92000 µm|92000 μm|92000 um|92.0 mm|+92 mm|9.2e1 mm|92\u00a0mm|92\tmm", 0.092},
		{length, "330.2 mm|13 in|13 in.|13 inch|13\"|13.0 in", 0.3302},
		{length, "1-7/16 in|1 7/16 in|1.4375 in|23/16 in|1-7/16in|1-7/16\"", 1.4375 * 0.0254},
		{length, "7/8 in|0.875 in|.875 in|7/8\"|14/16 in", 0.875 * 0.0254},
		{length, "0.5 mm|.5 mm|5e-1 mm|5E-1 mm", 0.0005},
		{area, "298 mm²|298 mm2|298 mm^2|2.98 cm²|0.000298 m²", 298e-6},
		{area, "0.5 in²|0.5 in2|1/2 in²|0.5 sq in|0.5 sq. in.", 0.5 * 0.0254 * 0.0254},
		{force, "120 kN|120000 N|0.12 MN|1.2e5 N", 120e3},
		{force, "27000 lbf|27 kip", 27000 * 0.45359237 * 9.80665},
		{stress, "345 MPa|345 N/mm²|345 N/mm2|345 N / mm²|0.345 GPa|345000 kPa|345000000 Pa", 345e6},
		{stress, "50 ksi|50000 psi|50000 lbf/in²", 50e3 * PoundPerSquareInch},
		{pressure, "3.4 bar|3.4 barg|3400 mbar|340 kPa|0.34 MPa|340000 Pa", 3.4e5},
		{pressure, "49 psi|49 psig|49 lbf/in²|49 lbf/in2", 49 * PoundPerSquareInch},
		{pressure, "3 kgf/cm²|3 kgf/cm2|3 kg/cm²", 3 * 98066.5},
		{torque, "187 N·m|187 N.m|187 Nm|187 N m|187 N-m|187 N*m|187 N⋅m|187N·m|0.187 kN·m|0.187 kNm", 187},
		{torque, "138 lbf·ft|138 ft·lbf|138 ft-lb|138 lbf.ft|138 lb·ft|138 lb-ft|138 ft.lbf|138 ft lb|138 ft-lbf|1656 lbf·in|1656 in·lbf|1656 in-lb", 138 * PoundForceFoot},
		{torque, "19 kgf·m|19 kgf.m|19 m·kgf", 19 * 9.80665},
		{angle, "30 deg|30°|30 °|0.5235987755982988 rad", math.Pi / 6},
		{share, "60 %|60%|60.0 %|6e1 %", 0.6},
		{share, "2 %", 0.02},
		{share, "1/2 %", 0.005},
		{stiffness, "200 N/mm³|200 N/mm3|200 MPa/mm|200000 kPa/mm", 200e9},
		{stress, "-5 MPa", -5e6},
	} {
		for text := range strings.SplitSeq(c.texts, "|") {
			got, _, err := parse(text, c.kind)
			if err != nil {
				t.Errorf("%q: %v", text, err)
			} else if math.Abs(got-c.want) > 1e-14*math.Abs(c.want) {
				t.Errorf("%q is %.17g, want %.17g", text, got, c.want)
			}
		}
	}
}

// Each exported reader reads its own kind.
func TestEachReaderHasItsKind(t *testing.T) {
	text := map[kind]string{length: "1 mm", area: "1 mm²", force: "1 kN", stress: "1 ksi", pressure: "1 bar", torque: "1 N·m", angle: "1 rad", share: "1 %", stiffness: "1 N/mm³"}
	readers := map[kind]func(string) (float64, error){
		length:    func(s string) (float64, error) { v, err := ParseLength(s); return float64(v), err },
		area:      func(s string) (float64, error) { v, _, err := parse(s, area); return v, err },
		force:     func(s string) (float64, error) { v, err := ParseForce(s); return float64(v), err },
		stress:    func(s string) (float64, error) { v, err := ParseStress(s); return float64(v), err },
		pressure:  func(s string) (float64, error) { v, err := ParsePressure(s); return float64(v), err },
		torque:    func(s string) (float64, error) { v, err := ParseTorque(s); return float64(v), err },
		angle:     func(s string) (float64, error) { v, _, err := parse(s, angle); return v, err },
		share:     func(s string) (float64, error) { v, err := ParseShare(s); return float64(v), err },
		stiffness: func(s string) (float64, error) { v, err := ParseStiffness(s); return float64(v), err },
	}
	si := map[kind]float64{length: 1e-3, area: 1e-6, force: 1e3, stress: ksiInPa, pressure: 1e5, torque: 1, angle: 1, share: 0.01, stiffness: 1e9}
	for reader, read := range readers {
		for written, s := range text {
			got, err := read(s)
			switch {
			case reader != written && err == nil:
				t.Errorf("%q was read as %s, %v", s, kinds[reader].name, got)
			case reader != written && !strings.Contains(err.Error(), kinds[reader].name+" is wanted"):
				t.Errorf("%q: %q does not say that %s is wanted", s, err, kinds[reader].name)
			case reader == written && err != nil:
				t.Errorf("%q: %v", s, err)
			case reader == written && math.Abs(got-si[written]) > 1e-14*si[written]:
				t.Errorf("%q is %v, want %v", s, got, si[written])
			}
		}
	}
}

const ksiInPa = 1e3 * PoundPerSquareInch

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		kind       kind
		text, hint string
	}{
		{torque, "", "nothing was read"},
		{torque, "   ", "nothing was read"},
		{torque, "nan N·m", "is not a number"},
		{torque, "NaN", "is not a number"},
		{torque, "inf N·m", "is not a number"},
		{torque, "-Inf N·m", "is not a number"},
		{torque, "+infinity N·m", "is not a number"},
		{pressure, "3,4 bar", `decimal comma, write a point: "3.4 bar"`},
		{torque, "1 870 N·m", "write the number in one"},
		{torque, "1.000,5 N·m", "write the number in one"},
		{force, "27\u202f000 lbf", "write the number in one"},
		{length, "92,25 mm", `write a point: "92.25 mm"`},
		{length, "0,0525 mm", `write a point: "0.0525 mm"`},
		{force, "27,000 lbf", `write "27000 lbf" or "27.000 lbf"`},
		{force, "1,500,000 N", `write "1500000 N"`},
		{torque, "187", "has no unit"},
		{torque, "7/8", "has no unit"},
		{torque, "N·m", "does not begin with a number"},
		{torque, "about 5 N·m", "does not begin with a number"},
		{torque, "−5 N·m", "does not begin with a number"},
		{torque, "187 bar", "is a pressure, a torque is wanted"},
		{pressure, "187 N·m", "is a torque, a pressure is wanted"},
		{length, "3 kN", "is a force, a length is wanted"},
		{force, "3 mm²", "is an area, a force is wanted"},
		{share, "0.6", "has no unit"},
		{share, "30 deg", "is an angle, a share is wanted"},
		{stress, "3 bar", "is a pressure, a stress is wanted"},
		{pressure, "3 ksi", "is a stress, a pressure is wanted"},
		{length, "3 furlong", `unknown unit "furlong"`},
		{stress, "345 mPa", `unknown unit "mPa"`},
		{torque, "187 nm", `unknown unit "nm"`},
		{length, "1/0 in", "divides by zero"},
		{length, "1 - 7/16 in", "unknown unit"},
		{length, "-7/16 in", "unknown unit"},
		{length, "1-2 mm", "unknown unit"},
		{length, "3 ft 2 in", "unknown unit"},
		{length, "1.5.5 mm", "unknown unit"},
		{length, "1e999 mm", "too large"},
		{length, "1e19 m", "too large"},
		{length, "0x10 mm", "unknown unit"},
		{length, "1_000 mm", "unknown unit"},
		{length, strings.Repeat("9", 64) + " mm", "shorter"},
		{length, "5 m\x1b[31mm", "unknown unit"},
	} {
		got, _, err := parse(c.text, c.kind)
		if err == nil {
			t.Errorf("%q was read as %v", c.text, got)
			continue
		}
		if !strings.Contains(err.Error(), c.hint) {
			t.Errorf("%q: %q does not say %q", c.text, err, c.hint)
		}
		if strings.ContainsFunc(err.Error(), func(r rune) bool { return r < ' ' }) {
			t.Errorf("%q: the message carries a control character", c.text)
		}
	}
}

func TestGaugePressureKeepsItsUnit(t *testing.T) {
	for text, want := range map[string]PressureUnit{
		"3 bar": InBar, "3 barg": InBar, "3 mbar": InMillibar, "3 psi": InPsi, "3 psig": InPsi, "3 lbf/in²": InPsi,
		"3 kPa": InKilopascal, "3 MPa": InMegapascal, "3 Pa": InPascal, "3 kgf/cm²": InKgfPerCm2,
	} {
		p, u, err := ParseGaugePressure(text)
		if err != nil || u != want {
			t.Errorf("%q is in %q, %v, want %q", text, u, err, want)
		}
		if math.Abs(p.In(u)-3) > 1e-14 || math.Abs(float64(u.Of(3)-p)) > 1e-9 {
			t.Errorf("%q is %v %s", text, p.In(u), u)
		}
	}
	if _, u, err := ParseGaugePressure("3 kN"); err == nil {
		t.Errorf("3 kN was read, in %q", u)
	}
	// Every unit that a pressure may be written in is one that a dial may have.
	for spelt, factor := range factors[pressure] {
		if u, ok := pressureUnits[spelt]; !ok || pressureFactors[u] != factor {
			t.Errorf("%q: dial unit %q", spelt, u)
		}
	}
}
