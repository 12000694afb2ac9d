package unit

import "testing"

// The fixed points of the two scales, and how people write them.
func TestTemperature(t *testing.T) {
	for _, c := range []struct {
		text   string
		system System
		want   Temperature
		ok     bool
	}{
		{"12 °C", SI, 12, true}, {"12", SI, 12, true}, {"-5,5", SI, -5.5, true}, {"212 °F", SI, 100, true}, {"32F", US, 0, true}, {"20C", US, 20, true},
		{"-40 F", US, -40, true}, {"68", US, 0, false}, {"warm", SI, 0, false}, {"", SI, 0, false}, {"1e2", SI, 0, false}, {"NaN", SI, 0, false}, {"12 K", SI, 0, false}, {"C", SI, 0, false}, {"12 CF", SI, 0, false},
	} {
		got, err := ParseTemperature(c.text, c.system)
		if (err == nil) != c.ok || c.ok && (got-c.want > 1e-9 || c.want-got > 1e-9) {
			t.Errorf("%q is read as %v, %v; want %v, %t", c.text, float64(got), err, float64(c.want), c.ok)
		}
	}
	if a, b := Temperature(20).Text(SI), Temperature(20).Text(US); a != "20 °C" || b != "68 °F" {
		t.Errorf("20 °C prints as %s and %s", a, b)
	}
}
