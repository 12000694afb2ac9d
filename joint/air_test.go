package joint

import (
	"slices"
	"testing"

	"evenload/joint/unit"
)

// Supply and hose, where they are given (common practice; the cut-off 29 CFR
// 1926.302(b)(7): above 1/2 in).
func TestAirFindings(t *testing.T) {
	j, tool, s := limited(t, 500) // set to 5 bar
	tool.HoseBore, tool.HoseLength = 0.013, 8
	for _, c := range []struct {
		air  Air
		want []string
	}{
		{Air{}, nil},
		{Air{Supply: 6 * unit.Bar}, nil},
		{Air{HoseBore: 0.0127, HoseLength: 10.05}, []string{"hose-differs"}}, // 33 ft is 10.06 m
		{Air{HoseBore: 0.0127, HoseLength: 10.1}, []string{"hose-differs", "hose-narrow"}},
		{Air{HoseBore: 0.0124, HoseLength: 8}, []string{"hose-narrow"}},
		{Air{HoseBore: 0.0136, HoseLength: 8}, []string{"hose-cutoff"}},
		{Air{HoseBore: 0.0138, HoseLength: 8}, []string{"hose-differs", "hose-cutoff"}},
		{Air{HoseBore: 0.018, HoseLength: 15}, []string{"hose-differs", "hose-narrow", "hose-cutoff"}},
		{Air{HoseBore: 0.019, HoseLength: 15}, []string{"hose-differs", "hose-cutoff"}},
		{Air{Supply: 5.9 * unit.Bar}, []string{"supply"}},
		{Air{HoseBore: 0.0127, HoseLength: 8}, nil},
		{Air{HoseBore: 0.013, HoseLength: 8}, []string{"hose-cutoff"}},
		{Air{HoseBore: 0.010, HoseLength: 8}, []string{"hose-differs", "hose-narrow"}},
		{Air{HoseBore: 0.0127, HoseLength: 15}, []string{"hose-differs", "hose-narrow"}},
		{Air{HoseBore: 0.019, HoseLength: 8}, []string{"hose-differs", "hose-cutoff"}},
		{Air{HoseLength: 15}, []string{"hose-differs"}},
	} {
		j.Air = c.air
		if got := codes(j.airFindings(tool, s, unit.SI)); !slices.Equal(got, c.want) {
			t.Errorf("%+v: %v, want %v", c.air, got, c.want)
		}
	}
}

// A pass may not stall below 1.5 bar, miss its torque by more than a tenth, or be
// set as the one before.
func TestPassFindings(t *testing.T) {
	tool := Tool{Gauge: Gauge{Division: 1e4, Unit: unit.InBar}}
	pass := func(set unit.Pressure, torque, delivered unit.Torque) Setting {
		return Setting{Set: set, Torque: torque, Delivered: delivered}
	}
	for _, c := range []struct {
		settings []Setting
		want     []string
	}{
		{[]Setting{pass(1.5e5, 100, 100), pass(3e5, 200, 219)}, nil},
		{[]Setting{pass(1.4e5, 100, 100), pass(3e5, 200, 181)}, []string{"low-pressure"}},
		{[]Setting{pass(1.5e5, 100, 111), pass(3e5, 200, 179)}, []string{"set-off", "set-off"}},
		{[]Setting{pass(2e5, 100, 100), pass(2e5, 105, 100)}, []string{"set-same"}},
	} {
		if got := codes(tool.PassFindings(c.settings, []unit.Share{0.5, 1}, "tools.0", unit.SI)); !slices.Equal(got, c.want) {
			t.Errorf("%v: %v, want %v", c.settings, got, c.want)
		}
	}
}
