package joint

import (
	"slices"
	"strings"
	"testing"

	"evenload/joint/unit"
)

// A class 1.6 gauge of 0 to 10 bar may be 0.16 bar wrong wherever its needle
// stands (EN 837-1): 5.3 % of 3 bar, 3.2 % of 5 bar, 2.7 % of 6 bar.
func TestGaugeFindings(t *testing.T) {
	j, tool, _ := limited(t, 311)
	tool.Gauge = Gauge{ID: "G-1", Class: 1.6, High: 10 * unit.Bar, Division: 0.1 * unit.Bar, Unit: unit.InBar}
	tool.Accuracy = 0.5
	for torque, want := range map[unit.Torque][]string{300: {"gauge-error-large"}, 500: {"gauge-error"}, 600: nil} {
		s, err := tool.Setting(torque, 0.02)
		if err != nil {
			t.Fatal(err)
		}
		if got := codes(j.gaugeFindings(tool, "tools.0", s)); !slices.Equal(got, want) {
			t.Errorf("%v N·m: %v, want %v", torque, got, want)
		}
	}
	// On both sides of 3 % and 5 % of the setting.
	tool.Chart = Chart{{Pressure: 0.1e5, Torque: 10}, {Pressure: 20e5, Torque: 2000}}
	for share, want := range map[float64][]string{2.99: nil, 3.01: {"gauge-error"}, 4.99: {"gauge-error"}, 5.01: {"gauge-error-large"}} {
		tool.Gauge.Class = share / 2 // of 10 bar, at 5 bar
		s, err := tool.Setting(500, 0.02)
		if err != nil {
			t.Fatal(err)
		}
		if got := codes(j.gaugeFindings(tool, "tools.0", s)); !slices.Equal(got, want) {
			t.Errorf("%v %% of the setting: %v, want %v", share, got, want)
		}
	}
	tool.Gauge.Class = 1.6
	// Worse than the tool: (0.16 + 0.05) bar at 100 N·m a bar are 3.5 % of 600 N·m.
	s, err := tool.Setting(600, 0.02)
	if err != nil {
		t.Fatal(err)
	}
	for accuracy, want := range map[unit.Share][]string{0.033: {"gauge-over-tool"}, 0.036: nil, 0: nil} {
		tool.Accuracy = accuracy
		found := j.gaugeFindings(tool, "tools.0", s)
		if got := codes(found); !slices.Equal(got, want) {
			t.Errorf("accuracy %v: %v, want %v", accuracy, got, want)
		}
		for _, f := range found {
			if !strings.Contains(f.Text, "0.16 bar for its class and 0.05 bar for half a division are 3.5 %") {
				t.Errorf("%s", f.Text)
			}
		}
	}
}
