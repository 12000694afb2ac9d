package joint

import (
	"errors"
	"math"
	"strings"
	"testing"

	"evenload/joint/unit"

	"pgregory.net/rapid"
)

// wrench is a tool with a straight chart, 100 N·m a bar from 1 to 6 bar, and a
// gauge of 0 to 10 bar in tenths.
func wrench() Tool {
	return Tool{
		ID:           "W-07",
		MostPressure: 6.9 * bar,
		Chart:        Chart{{1 * bar, 100}, {6 * bar, 600}},
		Gauge:        Gauge{ID: "G-14", High: 10 * bar, Division: 0.1 * bar, Unit: unit.InBar},
	}
}

func TestSetting(t *testing.T) {
	for what, c := range map[string]struct {
		change                 func(*Tool)
		torque                 unit.Torque
		set, least, most, foot float64 // bar, N
		delivered              float64 // N·m
	}{
		"on a division":          {func(*Tool) {}, 300, 3, 2.9, 3.1, 0, 300},
		"next below":             {func(*Tool) {}, 304, 3, 2.94, 3.14, 0, 300},
		"next above":             {func(*Tool) {}, 306, 3.1, 2.96, 3.16, 0, 310},
		"two per cent is wider":  {func(*Tool) {}, 600, 6, 5.88, 6, 0, 600},
		"clipped to the first":   {func(*Tool) {}, 100, 1, 1, 1.1, 0, 100},
		"clipped to the rated":   {func(t *Tool) { t.MostPressure = 3.05 * bar }, 303, 3, 2.93, 3.05, 0, 300},
		"higher division is out": {func(t *Tool) { t.MostPressure = 3.08 * bar }, 307, 3, 2.97, 3.08, 0, 300},
		"division on the edge":   {func(t *Tool) { t.Gauge.Division = 0.4 * bar }, 330, 3.2, 3.2, 3.4, 0, 320},
		"foot force":             {func(t *Tool) { t.ReactionArm = 150 * mm }, 304, 3, 2.94, 3.14, 2000, 300},
		"dial begins above zero": {func(t *Tool) { t.Gauge.Low = 0.95 * bar }, 304, 3.05, 2.94, 3.14, 0, 305},
	} {
		tool := wrench()
		c.change(&tool)
		s, err := tool.Setting(c.torque, 0.02)
		if err != nil {
			t.Errorf("%s: %v", what, err)
			continue
		}
		wantNear(t, what+": set", float64(s.Set)/bar, c.set, 1e-9)
		wantNear(t, what+": least", float64(s.Least)/bar, c.least, 1e-9)
		wantNear(t, what+": most", float64(s.Most)/bar, c.most, 1e-9)
		wantNear(t, what+": delivered", float64(s.Delivered), c.delivered, 1e-9)
		wantNear(t, what+": foot", float64(s.Foot), c.foot, 1e-9)
		if s.Torque != c.torque {
			t.Errorf("%s: torque %v, want %v", what, s.Torque, c.torque)
		}
	}
}

func TestSettingRefuses(t *testing.T) {
	for what, c := range map[string]struct {
		change func(*Tool)
		torque unit.Torque
		want   error
		hint   string
	}{
		"below":          {func(*Tool) {}, 99, ErrBelowChart, "100 N·m at 1.0 bar"},
		"above":          {func(*Tool) {}, 601, ErrAboveChart, "600 N·m at 6.0 bar"},
		"over rated":     {func(t *Tool) { t.MostPressure = 4 * bar }, 410, ErrOverRated, "4.1 bar"},
		"too coarse":     {func(t *Tool) { t.Gauge.Division = 0.5 * bar }, 325, ErrGaugeTooCoarse, "3.15 bar to 3.35 bar"},
		"no division":    {func(t *Tool) { t.Gauge.Division = 0 }, 325, ErrGaugeTooCoarse, ""},
		"above the dial": {func(t *Tool) { t.Gauge.High = 4 * bar }, 405, ErrOffDial, "0.0 bar to 4.0 bar"},
		"below the dial": {func(t *Tool) { t.Gauge.Low = 2 * bar }, 195, ErrOffDial, ""},
		"in psi":         {func(t *Tool) { t.Gauge.Unit, t.Gauge.Division = unit.InPsi, 2*unit.PoundPerSquareInch }, 99, ErrBelowChart, "at 15 psi"},
		"not a number":   {func(*Tool) {}, unit.Torque(math.NaN()), nil, "not a number"},
	} {
		tool := wrench()
		c.change(&tool)
		s, err := tool.Setting(c.torque, 0.02)
		switch {
		case err == nil:
			t.Errorf("%s: %+v", what, s)
		case c.want != nil && !errors.Is(err, c.want):
			t.Errorf("%s: %v, want %v", what, err, c.want)
		case !strings.Contains(err.Error(), c.hint):
			t.Errorf("%s: %q does not say %q", what, err, c.hint)
		}
	}
	var fault *ChartError
	if s, err := (Tool{ID: "W-08"}).Setting(100, 0.02); !errors.As(err, &fault) {
		t.Errorf("a tool without a chart: %+v, %v", s, err)
	}
}

// A dial may end between two divisions: the next division up is then not on it,
// though it is nearer.
func TestSettingStaysOnTheDial(t *testing.T) {
	tool := wrench()
	tool.Gauge.High = 4.08 * bar
	s, err := tool.Setting(407, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	wantNear(t, "set", float64(s.Set)/bar, 4, 1e-9)
}

// dials are gauges with divisions as they are sold, in each unit.
var dials = []Gauge{
	{High: 10 * bar, Division: 0.1 * bar, Unit: unit.InBar},
	{Low: 2 * bar, High: 6 * bar, Division: 0.1 * bar, Unit: unit.InBar}, // the charts drawn begin low: often off this dial
	{High: 10 * bar, Division: 0.2 * bar, Unit: unit.InBar},
	{High: 10 * bar, Division: 0.5 * bar, Unit: unit.InBar},
	{Low: 0.5 * bar, High: 6 * bar, Division: 0.05 * bar, Unit: unit.InBar},
	{High: 160 * unit.PoundPerSquareInch, Division: 2 * unit.PoundPerSquareInch, Unit: unit.InPsi},
	{High: 100 * unit.PoundPerSquareInch, Division: 5 * unit.PoundPerSquareInch, Unit: unit.InPsi},
	{High: 1000e3, Division: 20e3, Unit: unit.InKilopascal},
	{High: 1e6, Division: 0.01e6, Unit: unit.InMegapascal},
	{High: 10 * unit.KilogramPerSquareCm, Division: 0.2 * unit.KilogramPerSquareCm, Unit: unit.InKgfPerCm2},
}

// nearestByCounting goes through every division of the dial.
func nearestByCounting(g Gauge, exact, least, most unit.Pressure) (best unit.Pressure, found bool) {
	const edge = 1e-9
	for n := 0; ; n++ {
		at := g.Low + unit.Pressure(n)*g.Division
		if at > g.High*(1+edge) {
			return best, found
		}
		if at < least*(1-edge) || at > most*(1+edge) {
			continue
		}
		if !found || math.Abs(float64(at-exact)) < math.Abs(float64(best-exact)) {
			best, found = at, true
		}
	}
}

func TestSettingHoldsOnAnyTool(t *testing.T) {
	seen := map[error]int{}
	rapid.Check(t, func(t *rapid.T) {
		tool := Tool{ID: "W", Chart: anyChart(t), Gauge: rapid.SampledFrom(dials).Draw(t, "dial"), ReactionArm: 0.15}
		first, last := tool.Chart.First(), tool.Chart.Last()
		if rapid.Bool().Draw(t, "rated") {
			tool.MostPressure = unit.Pressure(within(t, "most", float64(first.Pressure), 1.2*float64(last.Pressure)))
		}
		readBack := unit.Share(rapid.Float64Range(0, 0.1).Draw(t, "read back"))
		torque := unit.Torque(within(t, "torque", float64(first.Torque), float64(last.Torque)))
		if rapid.Bool().Draw(t, "on a division") {
			// Here edges of bands fall on divisions.
			n := math.Round(float64((last.Pressure - tool.Gauge.Low) / tool.Gauge.Division))
			at := tool.Gauge.Low + unit.Pressure(math.Floor(within(t, "division", 0, n)))*tool.Gauge.Division
			if on, err := tool.Chart.Torque(at); err == nil {
				torque = on
			}
		}
		exact, err := tool.Chart.Pressure(torque)
		if err != nil {
			t.Fatal(err)
		}
		most := last.Pressure
		if tool.MostPressure > 0 {
			most = min(most, tool.MostPressure)
		}
		half := max(0.1*bar, unit.Pressure(readBack)*exact)
		low, high := max(first.Pressure, exact-half), min(most, exact+half)
		want, found := nearestByCounting(tool.Gauge, exact, low, high)

		s, err := tool.Setting(torque, readBack)
		switch {
		case errors.Is(err, ErrOverRated):
			seen[ErrOverRated]++
			if exact <= most {
				t.Fatalf("%v is not above %v", exact, most)
			}
		case errors.Is(err, ErrOffDial):
			seen[ErrOffDial]++
			if exact >= tool.Gauge.Low && exact <= tool.Gauge.High {
				t.Fatalf("%v is on the dial", exact)
			}
		case errors.Is(err, ErrGaugeTooCoarse):
			seen[ErrGaugeTooCoarse]++
			if found {
				t.Fatalf("%v lies in the band %v to %v", want, low, high)
			}
		case err != nil:
			t.Fatal(err)
		default:
			seen[nil]++
			hold(t, tool, s, exact, most)
			if !found || math.Abs(float64(s.Set-exact)) > math.Abs(float64(want-exact))*(1+1e-9)+1e-6 {
				t.Fatalf("set %v, nearest to %v is %v (%v)", s.Set, exact, want, found)
			}
		}
	})
	if testing.Short() {
		return // too few draws for all of them
	}
	for _, outcome := range []error{nil, ErrOverRated, ErrOffDial, ErrGaugeTooCoarse} {
		if seen[outcome] == 0 {
			t.Errorf("the drawn tools never came to %v", outcome)
		}
	}
}

// hold checks what must be true of every setting.
func hold(t *rapid.T, tool Tool, s Setting, exact, most unit.Pressure) {
	const edge = 1e-9
	if s.Pressure != exact || !(s.Least <= exact*(1+edge)) || !(exact <= s.Most*(1+edge)) {
		t.Fatalf("%v is not in its own band %v to %v", exact, s.Least, s.Most)
	}
	if s.Least < tool.Chart.First().Pressure || s.Most > most {
		t.Fatalf("the band %v to %v goes beyond the chart or the rated pressure %v", s.Least, s.Most, most)
	}
	if !s.InBand(s.Set) || s.Set < s.Least*(1-edge) || s.Set > s.Most*(1+edge) {
		t.Fatalf("%v is not in the band %v to %v", s.Set, s.Least, s.Most)
	}
	steps := float64((s.Set - tool.Gauge.Low) / tool.Gauge.Division)
	if math.Abs(steps-math.Round(steps)) > 1e-6 {
		t.Fatalf("%v is %v divisions", s.Set, steps)
	}
	if want, err := tool.Chart.Torque(s.Set); err != nil || s.Delivered != want {
		t.Fatalf("delivers %v, the chart says %v, %v", s.Delivered, want, err)
	}
	if math.Abs(float64(s.Foot)*float64(tool.ReactionArm)-float64(s.Delivered)) > edge*float64(s.Delivered) {
		t.Fatalf("foot force %v for %v", s.Foot, s.Delivered)
	}
}

func TestInBandIncludesItsEnds(t *testing.T) {
	s := Setting{Least: 2.9 * bar, Most: 3.1 * bar}
	for at, want := range map[float64]bool{2.9: true, 3: true, 3.1: true, 2.89999: false, 3.10001: false, 0: false, 2.9 * (1 - 1e-12): true, 3.1 * (1 + 1e-12): true} {
		if got := s.InBand(unit.Pressure(at * bar)); got != want {
			t.Errorf("%v bar in band: %v, want %v", at, got, want)
		}
	}
	if s.InBand(unit.Pressure(math.NaN())) {
		t.Error("NaN is in the band")
	}
}
