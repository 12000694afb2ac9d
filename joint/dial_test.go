package joint

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenload/joint/unit"
)

// By hand: 100 N·m at 1 bar to 600 N·m at 6 bar is 100 N·m a bar.
func TestDivisions(t *testing.T) {
	for what, c := range map[string]struct {
		change        func(*Tool)
		n             int
		first, last   float64 // bar
		torque        float64 // N·m at the last
		low, doubtful int
		fault         string
	}{
		"whole chart":      {change: func(*Tool) {}, n: 51, first: 1, last: 6, torque: 600, low: 5},
		"up to the rating": {change: func(t *Tool) { t.MostPressure = 5.05 * bar }, n: 41, first: 1, last: 5, torque: 500, low: 5},
		"up to the dial":   {change: func(t *Tool) { t.Gauge.High = 4 * bar }, n: 31, first: 1, last: 4, torque: 400, low: 5},
		"from the dial on": {change: func(t *Tool) { t.Gauge.Low = 2 * bar }, n: 41, first: 2, last: 6, torque: 600},
		"coarse":           {change: func(t *Tool) { t.Gauge.Division = 0.4 * bar }, n: 13, first: 1.2, last: 6, torque: 600, low: 1},
		"none inside":      {change: func(t *Tool) { t.Gauge.Division, t.Chart = 2.5*bar, Chart{{2.6 * bar, 100}, {4.9 * bar, 300}} }},
		"mistyped third of six": {change: func(t *Tool) {
			t.Chart = Chart{{1 * bar, 100}, {2 * bar, 200}, {3 * bar, 390}, {4 * bar, 400}, {5 * bar, 500}, {6 * bar, 600}}
		}, n: 51, first: 1, last: 6, torque: 600, low: 5, doubtful: 19},
		"mistyped last": {change: func(t *Tool) {
			t.Chart = Chart{{1 * bar, 100}, {2 * bar, 200}, {3 * bar, 300}, {4 * bar, 400}, {5 * bar, 590}}
		}, n: 41, first: 1, last: 5, torque: 590, low: 5, doubtful: 10},
		"too fine":    {change: func(t *Tool) { t.Gauge.Division = 0.001 * bar }, fault: "more than 600 divisions"},
		"no division": {change: func(t *Tool) { t.Gauge.Division = 0 }, fault: "no span or no division"},
		"no chart":    {change: func(t *Tool) { t.Chart = nil }, fault: "stands alone"},
	} {
		tool := wrench()
		c.change(&tool)
		all, err := tool.Divisions()
		if c.fault != "" {
			if err == nil || !strings.Contains(err.Error(), c.fault) {
				t.Errorf("%s: %v", what, err)
			}
			continue
		}
		if err != nil || len(all) != c.n {
			t.Errorf("%s: %d divisions, %v", what, len(all), err)
			continue
		}
		if c.n == 0 {
			continue
		}
		first, last := all[0], all[len(all)-1]
		if math.Abs(float64(first.Pressure)/bar-c.first) > 1e-9 || math.Abs(float64(last.Pressure)/bar-c.last) > 1e-9 || math.Abs(float64(last.Torque)-c.torque) > 1e-6 {
			t.Errorf("%s: %v to %v", what, first, last)
		}
		low, doubtful := 0, 0
		for _, d := range all {
			if d.Unsteady {
				low++
			}
			if d.Doubtful {
				doubtful++
			}
		}
		if low != c.low || doubtful != c.doubtful {
			t.Errorf("%s: %d unsteady, %d doubtful", what, low, doubtful)
		}
	}
}

// Whatever chart, rating and dial: no division beyond any of them, none left
// out, each with the torque of the chart.
func TestDivisionsStayInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tool := wrench()
		tool.Chart = anyChart(t)
		tool.MostPressure = unit.Pressure(rapid.Float64Range(0, 8).Draw(t, "rated")) * bar
		tool.Gauge.High = unit.Pressure(rapid.Float64Range(1, 16).Draw(t, "dial")) * bar
		tool.Gauge.Division = unit.Pressure(rapid.SampledFrom([]float64{0.05, 0.1, 0.2, 0.5}).Draw(t, "division")) * bar
		all, err := tool.Divisions()
		if err != nil {
			t.Fatal(err)
		}
		most := min(tool.Chart.Last().Pressure, tool.Gauge.High)
		if tool.MostPressure > 0 {
			most = min(most, tool.MostPressure)
		}
		for i, d := range all {
			if d.Pressure < tool.Chart.First().Pressure*(1-1e-6) || d.Pressure > most*(1+1e-6) {
				t.Fatalf("%v is outside", d.Pressure)
			}
			if torque, err := tool.Chart.Torque(d.Pressure); err != nil || torque != d.Torque {
				t.Fatalf("%v: %v, the chart has %v, %v", d.Pressure, d.Torque, torque, err)
			}
			if i > 0 && (math.Abs(float64(d.Pressure-all[i-1].Pressure-tool.Gauge.Division)) > 1e-6*bar || d.Torque <= all[i-1].Torque) {
				t.Fatalf("%v after %v", d, all[i-1])
			}
		}
		room := float64((most - tool.Chart.First().Pressure) / tool.Gauge.Division)
		if float64(len(all)) < math.Floor(room) || float64(len(all)) > math.Floor(room)+1 && room > 0 {
			t.Fatalf("%d divisions in room for %v", len(all), room)
		}
	})
}
