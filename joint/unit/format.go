package unit

import (
	"math"
	"strconv"
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
	"bar": InBar, "mbar": InMillibar, "psi": InPsi, "psig": InPsi, "lbf/in2": InPsi,
	"kPa": InKilopascal, "MPa": InMegapascal, "Pa": InPascal, "kgf/cm2": InKgfPerCm2,
}

var pressureFactors = map[PressureUnit]float64{
	InBar: Bar, InMillibar: 100, InPsi: PoundPerSquareInch, InKilopascal: 1e3, InMegapascal: 1e6, InPascal: 1, InKgfPerCm2: KilogramPerSquareCm,
}

// In is the pressure as a number in u.
func (p Pressure) In(u PressureUnit) float64 {
	f, ok := pressureFactors[u]
	if !ok {
		f = Bar
	}
	return float64(p) / f
}

// Of makes a pressure of a number in u.
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

// Text prints the angle in whole degrees.
func (v Angle) Text() string { return fixed(float64(v)/degree, 0) + "°" }

// Text prints the share in per cent, to a tenth where it has one.
func (v Share) Text() string { return trim(float64(v)*100, 1) + " %" }

// figures prints v with n significant figures, never fewer digits than the
// whole number has.
func figures(v float64, n int) string {
	if v == 0 {
		return "0"
	}
	whole := int(math.Floor(math.Log10(math.Abs(v)))) + 1
	return fixed(v, max(0, n-whole))
}

// rounded prints v rounded to n significant figures, zeros after them.
func rounded(v float64, n int) string {
	if v == 0 {
		return "0"
	}
	whole := int(math.Floor(math.Log10(math.Abs(v)))) + 1
	if whole <= n {
		return figures(v, n)
	}
	scale := math.Pow10(whole - n)
	return fixed(math.Round(v/scale)*scale, 0)
}

// decimals is how many decimals a gauge division needs: 0.05 needs 2.
func decimals(division float64) int {
	for d := range 4 {
		scaled := division * math.Pow10(d)
		if scaled > 0 && math.Abs(scaled-math.Round(scaled)) < 1e-6*scaled {
			return d
		}
	}
	return 2
}

func fixed(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }

// trim prints at most n decimals and drops zeros at the end.
func trim(v float64, n int) string {
	return strconv.FormatFloat(round(v, n), 'f', -1, 64)
}

func round(v float64, n int) float64 {
	scale := math.Pow10(n)
	return math.Round(v*scale) / scale
}
