package joint

import (
	"fmt"
	"math"

	"evenload/joint/unit"
)

// Division is one division of a gauge's dial with the torque of the chart.
type Division struct {
	Pressure unit.Pressure
	Torque   unit.Torque
	Unsteady bool // below SteadyStall
	Doubtful bool // beside a point of the chart that was probably mistyped
}

// MostDivisions is how many divisions a table has: more is no dial that
// anybody reads.
const MostDivisions = 600

// Divisions are those of the dial that lie inside the chart and the tool's
// rating, rising; none where no division does. More than MostDivisions, or a
// gauge or a chart that is none: an error.
func (t Tool) Divisions() ([]Division, error) {
	if err := t.Chart.Check(); err != nil {
		return nil, fmt.Errorf("no table for tool %s: %w", t.ID, err)
	}
	g := t.Gauge
	if !(g.Division > 0) || !(g.High > g.Low) {
		return nil, fmt.Errorf("no table for tool %s: the gauge has no span or no division", t.ID)
	}
	least, most := max(t.Chart.First().Pressure, g.Low), min(t.Chart.Last().Pressure, g.High)
	if t.MostPressure > 0 {
		most = min(most, t.MostPressure)
	}
	// What lies a hair beside a division is that division, and no pressure is
	// so small a part of the dial.
	near := hair * float64(g.High/g.Division)
	first := math.Ceil(float64((least-g.Low)/g.Division) - near)
	last := math.Floor(float64((most-g.Low)/g.Division) + near)
	if !(last-first < MostDivisions) {
		return nil, fmt.Errorf("no table for tool %s: its gauge has more than %d divisions inside the chart, look at its division, %s", t.ID, MostDivisions, t.Typed(g.Division))
	}
	odd, _, doubted := t.Chart.OddPoint()
	var all []Division
	for n := first; n <= last; n++ {
		at := g.Low + unit.Pressure(n)*g.Division
		torque, err := t.Chart.Torque(at)
		if err != nil {
			continue // a rounding beyond an end of the chart
		}
		all = append(all, Division{Pressure: at, Torque: torque, Unsteady: at < SteadyStall*(1-hair), Doubtful: doubted && t.Chart.beside(odd, at)})
	}
	return all, nil
}

// beside says that the torque at a pressure comes of a point.
func (c Chart) beside(point int, p unit.Pressure) bool {
	return p > c[max(0, point-1)].Pressure*(1+hair) && p < c[min(len(c)-1, point+1)].Pressure*(1-hair) ||
		math.Abs(float64(p-c[point].Pressure)) <= hair*float64(p)
}
