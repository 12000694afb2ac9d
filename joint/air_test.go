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

func TestStallFinding(t *testing.T) {
	for set, want := range map[unit.Pressure]bool{1.4e5: true, 1.5e5: false, 2e5: false} {
		if got := (Tool{Gauge: Gauge{Division: 1e4, Unit: unit.InBar}}).StallFindings(Setting{Set: set}, "tools.0", 0.3); len(got) > 0 != want {
			t.Errorf("%v: %v", set, got)
		}
	}
}
