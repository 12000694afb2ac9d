// Package unit has the quantities of a bolted joint. Each type is a float64 in
// its SI base unit, so that arithmetic inside joint stays plain and a mix-up
// between packages does not compile.
package unit

// Quantities, each in the SI unit beside it.
type (
	Length   float64 // m
	Area     float64 // m²
	Force    float64 // N
	Stress   float64 // Pa
	Pressure float64 // Pa, gauge pressure
	Torque   float64 // N·m
	Share    float64 // 1 is 100 %

	// Stiffness of a gasket: stress over the closing of its whole thickness.
	Stiffness float64 // Pa/m
	// Compliance is how far something gives under a force.
	Compliance float64 // m/N
)

// System is the choice of units for printing; reading takes either always.
type System string

// The two systems.
const (
	SI System = "si" // mm, mm², kN, MPa, bar, N·m
	US System = "us" // in, in², lbf, ksi, psi, lbf·ft
)

// Conversion factors to SI: NIST SP 811 (2008), Appendix B. Those marked exact
// are exact by definition; lbf, psi, ksi and lbf·ft follow from the exact
// inch, avoirdupois pound (0.453 592 37 kg) and standard gravity (9.806 65 m/s²).
const (
	Millimetre = 1e-3
	Inch       = 0.0254 // exact
	Foot       = 0.3048 // exact

	PoundForce    = 0.45359237 * 9.80665 // N, exact
	KilogramForce = 9.80665              // N, exact

	Bar                 = 1e5 // Pa, exact
	PoundPerSquareInch  = PoundForce / (Inch * Inch)
	KilogramPerSquareCm = KilogramForce / 1e-4

	PoundForceFoot = PoundForce * Foot
	PoundForceInch = PoundForce * Inch
)

// kind is the sort of quantity that a unit belongs to.
type kind int

const (
	length kind = iota
	area
	force
	stress
	pressure
	torque
	angle
	share
	stiffness
)

// kinds names each sort for messages and shows how it is written.
var kinds = map[kind]struct{ name, example string }{
	length:   {"a length", `"92 mm" or "1-7/16 in"`},
	area:     {"an area", `"298 mm²" or "0.462 in²"`},
	force:    {"a force", `"120 kN" or "27000 lbf"`},
	stress:   {"a stress", `"345 MPa" or "50 ksi"`},
	pressure: {"a pressure", `"3.4 bar" or "49 psi"`},
	torque:   {"a torque", `"187 N·m" or "138 lbf·ft"`},
	angle:    {"an angle", `"30 deg" or "0.52 rad"`},
	share:    {"a share", `"60 %"`},

	stiffness: {"a stiffness", `"200 N/mm³"`},
}

// factors gives for each kind the unit spellings and their SI factor. The
// spellings are squeezed: no spaces, dots, hyphens or stars, ² and ³ as 2 and 3.
var factors = map[kind]map[string]float64{
	length: {"mm": Millimetre, "cm": 1e-2, "m": 1, "um": 1e-6, "µm": 1e-6, "in": Inch, "inch": Inch, `"`: Inch, "ft": Foot},
	area:   {"mm2": 1e-6, "cm2": 1e-4, "m2": 1, "in2": Inch * Inch, "sqin": Inch * Inch},
	force:  {"N": 1, "kN": 1e3, "MN": 1e6, "lbf": PoundForce, "kip": 1e3 * PoundForce, "kgf": KilogramForce},
	stress: {"Pa": 1, "kPa": 1e3, "MPa": 1e6, "GPa": 1e9, "N/mm2": 1e6, "psi": PoundPerSquareInch, "lbf/in2": PoundPerSquareInch, "ksi": 1e3 * PoundPerSquareInch},
	pressure: {"Pa": 1, "kPa": 1e3, "MPa": 1e6, "bar": Bar, "mbar": 100, "psi": PoundPerSquareInch, "psig": PoundPerSquareInch,
		"barg": Bar, "lbf/in2": PoundPerSquareInch, "kgf/cm2": KilogramPerSquareCm, "kg/cm2": KilogramPerSquareCm},
	torque: {"Nm": 1, "kNm": 1e3, "lbfft": PoundForceFoot, "ftlbf": PoundForceFoot, "lbft": PoundForceFoot, "ftlb": PoundForceFoot,
		"lbfin": PoundForceInch, "inlbf": PoundForceInch, "lbin": PoundForceInch, "inlb": PoundForceInch, "kgfm": KilogramForce, "mkgf": KilogramForce},
	angle: {"rad": 1, "deg": degree, "°": degree},
	share: {"%": 0.01},

	stiffness: {"N/mm3": 1e9, "MPa/mm": 1e9, "kPa/mm": 1e6, "psi/in": PoundPerSquareInch / Inch, "lbf/in3": PoundPerSquareInch / Inch, "ksi/in": 1e3 * PoundPerSquareInch / Inch},
}

const degree = 3.14159265358979323846 / 180
