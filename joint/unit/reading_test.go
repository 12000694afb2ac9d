package unit

import "testing"

func TestParseReading(t *testing.T) {
	for text, want := range map[string]float64{"3.4": 3.4, "3,4": 3.4, "3 4": 3.4, " 49 ": 49, "0": 0, "3.4 bar": 3.4, "3,4BAR ": 3.4} {
		if got, err := ParseReading(text, "bar"); err != nil || got != want {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"3e1", "0x1p2", "1_0", "+3", "", "-1", "nan", "inf", "1e308", "3.4 psi", "bar", "3.4 bar bar", "1,2,3"} {
		if got, err := ParseReading(text, "bar"); err == nil {
			t.Errorf("%q was read as %v", text, got)
		}
	}
}
