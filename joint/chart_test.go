package joint

import (
	"errors"
	"math"
	"strings"
	"testing"

	"evenload/joint/unit"

	"gonum.org/v1/gonum/interp"
	"pgregory.net/rapid"
)

// anyChart draws a chart that rises, in steps from tiny to large.
func anyChart(t *rapid.T) Chart {
	n := rapid.IntRange(2, 9).Draw(t, "points")
	step := rapid.Float64Range(0.01, 1.5)
	var c Chart
	pressure, torque := 0.0, 0.0
	for range n {
		pressure += step.Draw(t, "pressure step") * bar
		torque += 200 * step.Draw(t, "torque step")
		c = append(c, Point{unit.Pressure(pressure), unit.Torque(torque)})
	}
	return c
}

// within draws a number between a and b, both included.
func within(t *rapid.T, what string, a, b float64) float64 {
	return min(b, max(a, a+rapid.Float64Range(0, 1).Draw(t, what)*(b-a)))
}

// Between the points the chart is what gonum's piecewise linear interpolation makes of them.
func TestChartIsPiecewiseLinear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyChart(t)
		if err := c.Check(); err != nil {
			t.Fatal(err)
		}
		var pressures, torques []float64
		for _, p := range c {
			pressures, torques = append(pressures, float64(p.Pressure)), append(torques, float64(p.Torque))
		}
		var line interp.PiecewiseLinear
		if err := line.Fit(pressures, torques); err != nil {
			t.Fatal(err)
		}
		at := unit.Pressure(within(t, "pressure", pressures[0], pressures[len(pressures)-1]))
		got, err := c.Torque(at)
		if err != nil {
			t.Fatal(err)
		}
		if want := line.Predict(float64(at)); math.Abs(float64(got)-want) > 1e-9*want {
			t.Fatalf("%v at %v, want %v", got, at, want)
		}
		back, err := c.Pressure(got)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(back-at)) > 1e-9*float64(at) {
			t.Fatalf("%v gives %v and that gives %v", at, got, back)
		}
	})
}

// At its own points a chart says what the certificate says, to the last bit.
func TestChartHoldsItsPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyChart(t)
		for _, p := range c {
			if got, err := c.Torque(p.Pressure); err != nil || got != p.Torque {
				t.Fatalf("%v gives %v, %v, want %v", p.Pressure, got, err, p.Torque)
			}
			if got, err := c.Pressure(p.Torque); err != nil || got != p.Pressure {
				t.Fatalf("%v gives %v, %v, want %v", p.Torque, got, err, p.Pressure)
			}
		}
	})
}

// small is 1 bar to 4 bar, steep at first.
var small = Chart{{1 * bar, 100}, {2 * bar, 300}, {4 * bar, 400}}

func TestChartSaysNothingBeyondItsEnds(t *testing.T) {
	for _, c := range []struct {
		at   float64 // bar
		want error
	}{{0, ErrBelowChart}, {0.999, ErrBelowChart}, {1, nil}, {4, nil}, {4.001, ErrAboveChart}, {math.Inf(1), ErrAboveChart}, {math.Inf(-1), ErrBelowChart}} {
		if _, err := small.Torque(unit.Pressure(c.at * bar)); !errors.Is(err, c.want) {
			t.Errorf("torque at %v bar: %v, want %v", c.at, err, c.want)
		}
	}
	if _, err := small.Pressure(99); !errors.Is(err, ErrBelowChart) {
		t.Errorf("99 N·m: %v", err)
	}
	if _, err := small.Pressure(401); !errors.Is(err, ErrAboveChart) {
		t.Errorf("401 N·m: %v", err)
	}
	if got, err := small.Pressure(unit.Torque(math.NaN())); err == nil {
		t.Errorf("NaN gives %v", got)
	}
	if got, err := (Chart{}).Torque(bar); err == nil {
		t.Errorf("no chart gives %v", got)
	}
	// An end that another unit's conversion left a hair outside is the end.
	if got, err := small.Torque(4 * bar * (1 + 1e-12)); err != nil || got != 400 {
		t.Errorf("a hair above the last point: %v, %v", got, err)
	}
	if got, err := small.Torque(1 * bar * (1 - 1e-12)); err != nil || got != 100 {
		t.Errorf("a hair below the first point: %v, %v", got, err)
	}
}

func TestChartCheckNamesThePoint(t *testing.T) {
	for what, c := range map[string]struct {
		chart Chart
		point int
	}{
		"empty":            {Chart{}, 0},
		"one point":        {Chart{{bar, 100}}, 0},
		"zero pressure":    {Chart{{0, 100}, {bar, 200}}, 0},
		"zero torque":      {Chart{{bar, 0}, {2 * bar, 200}}, 0},
		"negative":         {Chart{{bar, 100}, {2 * bar, -200}}, 1},
		"not a number":     {Chart{{bar, 100}, {unit.Pressure(math.NaN()), 200}}, 1},
		"endless":          {Chart{{bar, 100}, {2 * bar, unit.Torque(math.Inf(1))}}, 1},
		"flat in pressure": {Chart{{bar, 100}, {bar, 200}}, 1},
		"flat in torque":   {Chart{{bar, 100}, {2 * bar, 100}}, 1},
		"falls":            {Chart{{bar, 100}, {2 * bar, 200}, {3 * bar, 150}}, 2},
	} {
		var fault *ChartError
		if err := c.chart.Check(); !errors.As(err, &fault) {
			t.Errorf("%s: %v", what, err)
		} else if fault.Point != c.point {
			t.Errorf("%s: point %d, want %d", what, fault.Point, c.point)
		}
	}
	if err := small.Check(); err != nil {
		t.Error(err)
	}
}

func TestChartSlope(t *testing.T) {
	for _, c := range []struct{ at, want float64 }{ // bar, N·m per bar
		{0.5, 0}, {1, 200}, {1.5, 200}, {2, 200}, {2.01, 50}, {4, 50}, {4.1, 0}, {4 * (1 + 1e-12), 50},
	} {
		if got := small.Slope(unit.Pressure(c.at*bar)) * bar; math.Abs(got-c.want) > 1e-9 {
			t.Errorf("slope at %v bar is %v N·m per bar, want %v", c.at, got, c.want)
		}
	}
}

// A chart in psi that was typed as bar, and the other way round.
func TestChartUnits(t *testing.T) {
	for top, want := range map[unit.Pressure]bool{6 * unit.Bar: false, 87 * unit.Bar: true, 0.41 * unit.Bar: true, 16 * unit.Bar: false} {
		found := Tool{Chart: Chart{{Pressure: top / 5, Torque: 50}, {Pressure: top, Torque: 300}}}.chartUnits("tools.0")
		if len(found) > 0 != want || want && !strings.Contains(found[0].Text, "14.5") {
			t.Errorf("%v: %v", top, found)
		}
	}
}
