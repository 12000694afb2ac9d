package joint

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"

	"evenload/joint/unit"
)

// Point is one line of a tool's calibration: the torque at a pressure.
type Point struct {
	Pressure unit.Pressure `json:"pressure_Pa"`
	Torque   unit.Torque   `json:"torque_Nm"`
}

// Chart is a tool's calibration, rising in pressure and torque. Between its
// points it is straight; beyond its ends it says nothing.
type Chart []Point

// ChartError names the point at which a chart cannot be right.
type ChartError struct {
	Point int // 0 the first
	Why   string
}

func (e *ChartError) Error() string { return fmt.Sprintf("point %d of the chart %s", e.Point+1, e.Why) }

// Errors of looking up a chart and of setting a tool.
var (
	ErrBelowChart     = errors.New("below the chart's first point")
	ErrAboveChart     = errors.New("above the chart's last point")
	ErrOverRated      = errors.New("above the rated pressure")
	ErrGaugeTooCoarse = errors.New("gauge too coarse: no division of it lies inside the band")
	ErrOffDial        = errors.New("off the gauge's dial")
)

// Check finds the first point that is not above the one before, in pressure and torque.
func (c Chart) Check() error {
	if len(c) < 2 {
		return &ChartError{Point: max(0, len(c)-1), Why: "stands alone: a chart has two points or more"}
	}
	for i, p := range c {
		switch {
		case !(p.Pressure > 0) || !(p.Torque > 0) || math.IsInf(float64(p.Pressure), 0) || math.IsInf(float64(p.Torque), 0):
			return &ChartError{i, "is not a finite number above zero"}
		case i > 0 && p.Pressure <= c[i-1].Pressure:
			return &ChartError{i, "does not rise in pressure"}
		case i > 0 && p.Torque <= c[i-1].Torque:
			return &ChartError{i, "does not rise in torque"}
		}
	}
	return nil
}

// First is the lower end of the chart.
func (c Chart) First() Point { return c[0] }

// Last is the upper end of the chart.
func (c Chart) Last() Point { return c[len(c)-1] }

// Torque at a pressure. Beyond the ends: ErrBelowChart or ErrAboveChart.
func (c Chart) Torque(p unit.Pressure) (unit.Torque, error) {
	v, err := c.between(float64(p), func(p Point) float64 { return float64(p.Pressure) }, func(p Point) float64 { return float64(p.Torque) })
	return unit.Torque(v), err
}

// Pressure that gives a torque. Beyond the ends: ErrBelowChart or ErrAboveChart.
func (c Chart) Pressure(t unit.Torque) (unit.Pressure, error) {
	v, err := c.between(float64(t), func(p Point) float64 { return float64(p.Torque) }, func(p Point) float64 { return float64(p.Pressure) })
	return unit.Pressure(v), err
}

func (c Chart) between(x float64, from, to func(Point) float64) (float64, error) {
	switch {
	case len(c) < 2:
		return 0, errors.New("not in the chart, which has fewer than two points")
	case math.IsNaN(x):
		return 0, errors.New("not a number")
	case x < from(c[0])*(1-hair):
		return 0, ErrBelowChart
	case x > from(c[len(c)-1])*(1+hair):
		return 0, ErrAboveChart
	}
	i := 1
	for i < len(c)-1 && x > from(c[i]) {
		i++
	}
	x0, x1, y0, y1 := from(c[i-1]), from(c[i]), to(c[i-1]), to(c[i])
	// Clipped: a pressure that a unit's conversion left a hair beyond an end is the end.
	share := min(1, max(0, (x-x0)/(x1-x0)))
	return y0*(1-share) + y1*share, nil
}

// hair is the part by which two numbers may differ and still be the same
// reading. A division that lies on the edge of a band is reached by another
// sum than the edge, and the last bits of a float64 (1e-16) must not decide;
// no gauge shows a billionth.
const hair = 1e-9

// Slope is the change of torque with pressure, in N·m per Pa; at a point of
// the chart the steeper of its two sides. 0 beyond the ends.
func (c Chart) Slope(p unit.Pressure) float64 {
	slope := 0.0
	for i := 1; i < len(c); i++ {
		if p >= c[i-1].Pressure*(1-hair) && p <= c[i].Pressure*(1+hair) {
			slope = max(slope, float64(c[i].Torque-c[i-1].Torque)/float64(c[i].Pressure-c[i-1].Pressure))
		}
	}
	return slope
}

// oddOff is the part of the top torque by which a point may lie off the
// straight line of the others (a rule of ours).
const oddOff = 0.04

// OddPoint finds the point that was probably mistyped: each is left out and
// foretold by the straight line (least squares) of the others, and the worst
// is named when it lies off by more than 4 % of the top torque. A mistyped
// point makes its neighbours look wrong too, so that only the worst counts.
func (c Chart) OddPoint() (i int, off unit.Torque, found bool) {
	if len(c) < 4 {
		return 0, 0, false
	}
	x, y := make([]float64, 0, len(c)), make([]float64, 0, len(c))
	for left := range c {
		x, y = x[:0], y[:0]
		for k, p := range c {
			if k != left {
				x, y = append(x, float64(p.Pressure)), append(y, float64(p.Torque))
			}
		}
		at, slope := stat.LinearRegression(x, y, nil, false)
		if d := unit.Torque(math.Abs(float64(c[left].Torque) - at - slope*float64(c[left].Pressure))); d > off {
			i, off = left, d
		}
	}
	return i, off, off > oddOff*c.Last().Torque
}

// Between these the top of a chart lies: the air of tools has 6 to 10 bar
// (common practice).
const leastTop, mostTop = unit.Pressure(1 * unit.Bar), unit.Pressure(20 * unit.Bar)

// chartUnits says when the pressures of a chart are those of another unit: bar
// and psi are 14.5 apart.
func (t Tool) chartUnits(key string) []Finding {
	top := t.Chart.Last().Pressure
	if top >= leastTop && top <= mostTop {
		return nil
	}
	return []Finding{{Error, "chart-units", key + ".curve", fmt.Sprintf("the chart ends at %s, and air for tools has about 6 to 10 bar (90 to 150 psi): are bar and psi mixed, 14.5 to one?",
		t.Gauged(top))}}
}
