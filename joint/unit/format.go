package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// PressureUnit is the unit that a gauge's dial is marked in.
type PressureUnit string

// The units of a gauge's dial.
const (
	InBar        PressureUnit = "bar"
	InMillibar   PressureUnit = "mbar"
	InPsi        PressureUnit = "psi"
	InKilopascal PressureUnit = "kPa"
	InMegapascal PressureUnit = "MPa"
	InPascal     PressureUnit = "Pa"
	InKgfPerCm2  PressureUnit = "kgf/cm²"
)

var pressureUnits = map[string]PressureUnit{
	"bar": InBar, "barg": InBar, "mbar": InMillibar, "psi": InPsi, "psig": InPsi, "lbf/in2": InPsi,
	"kPa": InKilopascal, "MPa": InMegapascal, "Pa": InPascal, "kgf/cm2": InKgfPerCm2, "kg/cm2": InKgfPerCm2,
}

var pressureFactors = map[PressureUnit]float64{
	InBar: Bar, InMillibar: 100, InPsi: PoundPerSquareInch, InKilopascal: 1e3, InMegapascal: 1e6, InPascal: 1, InKgfPerCm2: KilogramPerSquareCm,
}

// UnmarshalText refuses a unit that is none, so that a card cannot bring
// anything else to the screen.
func (u *PressureUnit) UnmarshalText(text []byte) error {
	v := PressureUnit(text)
	if _, ok := pressureFactors[v]; !ok && v != "" {
		return fmt.Errorf("%q is no unit of a gauge", text)
	}
	*u = v
	return nil
}

// In is the pressure as a number in u; in bar when u is none of the units.
func (p Pressure) In(u PressureUnit) float64 {
	f, ok := pressureFactors[u]
	if !ok {
		f = Bar
	}
	return float64(p) / f
}

// Of makes a pressure of a number in u; of bar when u is none of the units.
func (u PressureUnit) Of(v float64) Pressure {
	f, ok := pressureFactors[u]
	if !ok {
		f = Bar
	}
	return Pressure(v * f)
}

// Reading prints p as a gauge with divisions of division shows it: as many
// decimals as the division has, without the unit.
func (p Pressure) Reading(u PressureUnit, division Pressure) string {
	return fixed(p.In(u), decimals(division.In(u)))
}

// ReadingAbove is Reading, rounded up: the lower end of a band.
func (p Pressure) ReadingAbove(u PressureUnit, division Pressure) string {
	return inwards(p.In(u), division.In(u), math.Ceil)
}

// ReadingBelow is Reading, rounded down: the upper end of a band.
func (p Pressure) ReadingBelow(u PressureUnit, division Pressure) string {
	return inwards(p.In(u), division.In(u), math.Floor)
}

// inwards rounds to as many decimals as the division has, one way; what lies a
// hair beside a decimal is that decimal.
func inwards(v, division float64, round func(float64) float64) string {
	n := decimals(division)
	scale := math.Pow(10, float64(n))
	at := v * scale
	if near := math.Round(at); math.Abs(at-near) < 1e-6 {
		at = near
	}
	return fixed(round(at)/scale, n)
}

// Exact prints p as it was typed, to three decimals at most, without the unit.
func (p Pressure) Exact(u PressureUnit) string { return trim(p.In(u), 3) }

// Text prints the length to a hundredth of a millimetre or a thousandth of an inch at most.
func (v Length) Text(s System) string {
	if s == US {
		return trim(float64(v)/Inch, 3) + " in"
	}
	return trim(float64(v)/Millimetre, 2) + " mm"
}

// Text prints the area to four figures.
func (v Area) Text(s System) string {
	if s == US {
		return figures(float64(v)/(Inch*Inch), 4) + " in²"
	}
	return figures(float64(v)/1e-6, 4) + " mm²"
}

// Text prints the force to two figures: no bolt load is known better.
func (v Force) Text(s System) string {
	if s == US {
		return rounded(float64(v)/PoundForce, 2) + " lbf"
	}
	return rounded(float64(v)/1e3, 2) + " kN"
}

// Text prints the stress to three figures.
func (v Stress) Text(s System) string {
	if s == US {
		return figures(float64(v)/(1e3*PoundPerSquareInch), 3) + " ksi"
	}
	return figures(float64(v)/1e6, 3) + " MPa"
}

// Text prints the pressure to three figures.
func (v Pressure) Text(s System) string {
	if s == US {
		return figures(v.In(InPsi), 3) + " psi"
	}
	return figures(v.In(InBar), 3) + " bar"
}

// Text prints the torque to three figures, whole numbers above a hundred.
func (v Torque) Text(s System) string {
	if s == US {
		return figures(float64(v)/PoundForceFoot, 3) + " lbf·ft"
	}
	return figures(float64(v), 3) + " N·m"
}

// Text prints the share in per cent, to a tenth where it has one.
func (v Share) Text() string { return trim(float64(v)*100, 1) + " %" }

// figures prints v with n significant figures, never fewer digits than the
// whole number has.
func figures(v float64, n int) string {
	if v == 0 {
		return "0"
	}
	return fixed(v, min(finest, max(0, n-digits(v, n))))
}

// rounded prints v rounded to n significant figures, zeros after them.
func rounded(v float64, n int) string {
	if v == 0 {
		return "0"
	}
	whole := digits(v, n)
	if whole <= n {
		return figures(v, n)
	}
	scale := math.Pow10(whole - n)
	return fixed(math.Round(v/scale)*scale, 0)
}

// digits is how many digits v has before the point when it is rounded to n
// figures, 0 or less below one: 99.96 to three figures has three. It asks the
// printer, because a logarithm of 1000 may come out a hair below 3.
func digits(v float64, n int) int {
	_, exponent, _ := strings.Cut(strconv.FormatFloat(v, 'e', n-1, 64), "e")
	e, _ := strconv.Atoi(exponent) // none in NaN and Inf, which print as such
	return e + 1
}

// finest is the most decimals that are printed.
const finest = 6

// decimals is how many decimals a gauge division needs: 0.05 needs 2.
func decimals(division float64) int {
	for d := range finest + 1 {
		scaled := division * math.Pow10(d)
		if scaled > 0 && math.Abs(scaled-math.Round(scaled)) < 1e-6*scaled {
			return d
		}
	}
	return 2
}

// fixed prints v with the decimals, and nothing as 0, never as -0.
func fixed(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// trim prints at most n decimals and drops zeros at the end.
func trim(v float64, n int) string {
	scale := math.Pow10(n)
	s := fixed(math.Round(v*scale)/scale, n)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
