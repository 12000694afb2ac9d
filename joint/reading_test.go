package joint

import (
	"testing"

	"evenload/joint/unit"
)

// A dial with divisions of 0.1 bar: settings to its decimals, readings as they
// were typed, and no printed end of a band outside it.
func TestPressuresAsAGaugeShowsThem(t *testing.T) {
	tool := wrench()
	tool.Gauge.Unit, tool.Gauge.Division = unit.InBar, 0.1*bar
	for got, want := range map[string]string{
		tool.Gauged(3.4 * bar): "3.4 bar", tool.Fine(3.386 * bar): "3.39 bar", tool.Typed(3.28 * bar): "3.28 bar", tool.Typed(3 * bar): "3 bar",
		tool.Band(Setting{Least: 3.286 * bar, Most: 3.489 * bar}): "3.29 to 3.48 bar",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	for text, ok := range map[string]bool{"tool": true, "": true, "\x1b[2J": false} {
		var p GaugePlace
		if err := p.UnmarshalText([]byte(text)); (err == nil) != ok {
			t.Errorf("place %q: %v", text, err)
		}
	}
}
