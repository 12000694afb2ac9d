package unit

import "testing"

func TestText(t *testing.T) {
	const lbfft = PoundForceFoot
	for _, c := range []struct{ got, want string }{
		{Length(0.092).Text(SI), "92 mm"}, {Length(0.0365).Text(SI), "36.5 mm"}, {Length(0.33020).Text(SI), "330.2 mm"}, {Length(0.0000254).Text(SI), "0.03 mm"},
		{Length(0).Text(SI), "0 mm"}, {Length(-1e-9).Text(SI), "0 mm"}, {Length(1.2).Text(SI), "1200 mm"},
		{Length(1.4375 * Inch).Text(US), "1.438 in"}, {Length(13 * Inch).Text(US), "13 in"}, {Length(0.0625 * Inch).Text(US), "0.063 in"}, {Length(10 * Inch).Text(US), "10 in"},
		{Area(297.87e-6).Text(SI), "297.9 mm²"}, {Area(1000e-6).Text(SI), "1000 mm²"}, {Area(0.46174 * Inch * Inch).Text(US), "0.4617 in²"},
		{Force(93.4e3).Text(SI), "93 kN"}, {Force(123.4e3).Text(SI), "120 kN"}, {Force(1567e3).Text(SI), "1600 kN"}, {Force(9.96e3).Text(SI), "10 kN"},
		{Force(99.6e3).Text(SI), "100 kN"}, {Force(5.04e3).Text(SI), "5.0 kN"}, {Force(0).Text(SI), "0 kN"}, {Force(27123 * PoundForce).Text(US), "27000 lbf"},
		{Stress(345e6).Text(SI), "345 MPa"}, {Stress(94.6e6).Text(SI), "94.6 MPa"}, {Stress(99.96e6).Text(SI), "100 MPa"}, {Stress(50 * ksiInPa).Text(US), "50.0 ksi"},
		{Pressure(3.4e5).Text(SI), "3.40 bar"}, {Pressure(10e5).Text(SI), "10.0 bar"}, {Pressure(0.5e5).Text(SI), "0.500 bar"}, {Pressure(3.4e5).Text(US), "49.3 psi"},
		{Torque(187.4).Text(SI), "187 N·m"}, {Torque(1234.5).Text(SI), "1234 N·m"}, {Torque(1000).Text(SI), "1000 N·m"}, {Torque(99.96).Text(SI), "100 N·m"},
		{Torque(64.25).Text(SI), "64.2 N·m"}, {Torque(138 * lbfft).Text(US), "138 lbf·ft"}, {Torque(-0.0000001).Text(SI), "0.000000 N·m"},
		{Share(0.6).Text(), "60 %"}, {Share(0.125).Text(), "12.5 %"}, {Share(1).Text(), "100 %"}, {Share(0.02).Text(), "2 %"}, {Share(0).Text(), "0 %"}, {Share(1.0 / 3).Text(), "33.3 %"},
	} {
		if c.got != c.want {
			t.Errorf("printed %q, want %q", c.got, c.want)
		}
	}
}

// A gauge is read in its own unit, with the decimals of its divisions.
func TestReading(t *testing.T) {
	for _, c := range []struct {
		u             PressureUnit
		value, divide float64
		want          string
	}{
		{InBar, 4.4, 0.1, "4.4"}, {InBar, 4.4, 0.2, "4.4"}, {InBar, 4, 0.1, "4.0"}, {InBar, 4.35, 0.05, "4.35"}, {InBar, 4.5, 0.5, "4.5"}, {InBar, 4, 1, "4"}, {InBar, 4.25, 0.25, "4.25"},
		{InBar, 4.36, 0.02, "4.36"}, {InPsi, 64, 2, "64"}, {InPsi, 64.4, 2, "64"}, {InPsi, 62.5, 2.5, "62.5"}, {InKilopascal, 440, 20, "440"},
		{InMegapascal, 0.44, 0.01, "0.44"}, {InMegapascal, 0.442, 0.0002, "0.4420"}, {InMillibar, 4400, 100, "4400"}, {InKgfPerCm2, 4.4, 0.2, "4.4"}, {InPascal, 440000, 10000, "440000"},
		{InBar, 4.4, 0, "4.40"}, {InBar, 0, 0.1, "0.0"}, {InBar, -0.01, 0.1, "0.0"},
	} {
		if got := c.u.Of(c.value).Reading(c.u, c.u.Of(c.divide)); got != c.want {
			t.Errorf("%v %s in divisions of %v reads %q, want %q", c.value, c.u, c.divide, got, c.want)
		}
	}
}
