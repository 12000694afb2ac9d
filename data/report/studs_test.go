package report

import (
	"slices"
	"testing"

	"evenload/joint/unit"
	"evenload/sequence"
)

// TestCSVOfAStudBeyondYield: its load is that of an elastic stud, which is no measure.
func TestCSVOfAStudBeyondYield(t *testing.T) {
	d := AsDone{Plan: &sequence.Plan{Stretch: &sequence.Stretching{Low: 40e3, High: 60e3, Yield: 80e3}}}
	for load, want := range map[unit.Force][]string{50e3: {"yes", "no"}, 70e3: {"no", "no"}, 81e3: {"no", "yes"}} {
		s := StudTurn{StretchMeasured: sequence.StretchMeasured{Bolt: 3, Stretch: 0.2e-3, Load: load, Within: 2e3}}
		row := studRow(d, s, spelling{})
		if got := row[slices.Index(columns, "in_band"):]; !slices.Equal(got, want) {
			t.Errorf("%v N: %q, want %q", load, got, want)
		}
	}
}
