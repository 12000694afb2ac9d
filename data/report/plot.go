package report

import (
	"fmt"
	"math"
	"strings"

	"evenload/joint"
	"evenload/joint/unit"
)

// A plot is as large as the smallest screen; its frame leaves this much for
// the curve.
const (
	plotWidth  = 80
	plotMargin = 10 // for the figures of the torque and the axis
	plotRows   = 18
)

// plotASCII spells units with what every screen and printer has.
var plotASCII = strings.NewReplacer("·", ".", "²", "2")

// mostTicks is how many steps an axis has at most.
const mostTicks = 8

// plot draws a chart in characters: 23 lines of at most 80, plain
// ASCII. Points are o, the one that looks wrong ?, straight lines between them
// dots; nothing stands beyond the first and the last.
func plot(t joint.Tool, s unit.System) []string {
	p := newPlotted(t, s)
	p.column(joint.SteadyStall, ':')
	p.column(t.MostPressure, '!')
	p.line(t.Chart)
	odd, _, doubted := t.Chart.OddPoint()
	for i, point := range t.Chart {
		sign := byte('o')
		if doubted && i == odd {
			sign = '?'
		}
		p.set(p.col(point.Pressure), p.row(point.Torque), sign)
	}
	return p.lines(t)
}

// plotted is a plot in the making. Both axes begin at nothing and end at a
// round number at or above the chart's top.
type plotted struct {
	cells  [plotRows][]byte
	unit   unit.PressureUnit
	torque float64 // N·m, one unit of the axis
	name   string  // of that unit
	xTop   float64 // the ends of the axes, in their units
	yTop   float64
	xStep  float64
	yStep  float64
}

func newPlotted(t joint.Tool, s unit.System) *plotted {
	p := &plotted{unit: t.Gauge.Unit, torque: 1, name: "N.m"}
	if s == unit.US {
		p.torque, p.name = unit.PoundForceFoot, "lbf.ft"
	}
	p.xStep, p.xTop = Axis(t.Chart.Last().Pressure.In(p.unit), mostTicks)
	p.yStep, p.yTop = Axis(float64(t.Chart.Last().Torque)/p.torque, 6)
	for i := range p.cells {
		p.cells[i] = []byte(strings.Repeat(" ", plotWidth-plotMargin))
	}
	return p
}

// Axis finds a round step (1, 2 or 5 times a power of ten) and the end of an
// axis that reaches top in at most so many steps.
func Axis(top float64, most int) (step, end float64) {
	ten := math.Pow(10, math.Floor(math.Log10(top/float64(most))))
	for _, by := range []float64{1, 2, 5, 10} {
		step = by * ten
		if n := math.Ceil(top/step - 1e-9); n <= float64(most) {
			return step, n * step
		}
	}
	return step, step * float64(most)
}

// cell is where a part of an axis lies in n cells.
func cell(part float64, n int) int {
	if !(part > 0) {
		return 0
	}
	return int(math.Round(min(part, 1) * float64(n-1)))
}

func (p *plotted) col(at unit.Pressure) int {
	return cell(at.In(p.unit)/p.xTop, plotWidth-plotMargin)
}

// row is 0 at the top.
func (p *plotted) row(at unit.Torque) int {
	return plotRows - 1 - cell(float64(at)/p.torque/p.yTop, plotRows)
}

func (p *plotted) set(col, row int, sign byte) { p.cells[row][col] = sign }

// shows says whether a pressure is given and lies on the axis.
func (p *plotted) shows(at unit.Pressure) bool { return at > 0 && at.In(p.unit) <= p.xTop }

// column marks a pressure that lies on the axis.
func (p *plotted) column(at unit.Pressure, sign byte) {
	if !p.shows(at) {
		return
	}
	for row := range p.cells {
		p.set(p.col(at), row, sign)
	}
}

// line draws the straight lines of a chart by columns where they are flat, by
// rows where they are steep.
func (p *plotted) line(c joint.Chart) {
	for i := 1; i < len(c); i++ {
		from, to := c[i-1], c[i]
		across, down := p.col(to.Pressure)-p.col(from.Pressure), p.row(from.Torque)-p.row(to.Torque)
		n := max(across, down, 1)
		for k := range n + 1 {
			part := float64(k) / float64(n)
			p.set(p.col(from.Pressure+unit.Pressure(part)*(to.Pressure-from.Pressure)), p.row(from.Torque+unit.Torque(part)*(to.Torque-from.Torque)), '.')
		}
	}
}

// lines prints the plot with its axes and what its signs mean.
func (p *plotted) lines(t joint.Tool) []string {
	all := []string{"torque, " + p.name}
	ticks := map[int]string{}
	for n := 0; n <= mostTicks && float64(n)*p.yStep <= p.yTop*(1+1e-9); n++ {
		ticks[plotRows-1-cell(float64(n)*p.yStep/p.yTop, plotRows)] = fmt.Sprintf("%.4g", float64(n)*p.yStep)
	}
	for row, cells := range p.cells {
		edge := "|"
		if ticks[row] != "" {
			edge = "+"
		}
		all = append(all, fmt.Sprintf("%*s %s%s", plotMargin-2, ticks[row], edge, cells))
	}
	foot := []byte(strings.Repeat("-", plotWidth-plotMargin))
	figures := []byte(strings.Repeat(" ", plotWidth))
	for n := 0; n <= mostTicks && float64(n)*p.xStep <= p.xTop*(1+1e-9); n++ {
		col := cell(float64(n)*p.xStep/p.xTop, len(foot))
		foot[col] = '+'
		text := fmt.Sprintf("%.4g", float64(n)*p.xStep)
		copy(figures[max(0, min(plotWidth-len(text), plotMargin+col-len(text)/2)):], text)
	}
	all = append(all, strings.Repeat(" ", plotMargin-1)+"+"+string(foot), string(figures), fmt.Sprintf("%*s", plotWidth, "pressure, "+string(p.unit)), p.signs(t))
	for i, line := range all {
		line = plotASCII.Replace(line)
		all[i] = strings.TrimRight(line[:min(len(line), plotWidth)], " ")
	}
	return all
}

// signs says what stands in the plot.
func (p *plotted) signs(t joint.Tool) string {
	all := []string{"o chart", ". line"}
	if p.shows(joint.SteadyStall) {
		all = append(all, ": steady from "+t.Gauged(joint.SteadyStall))
	}
	if p.shows(t.MostPressure) {
		all = append(all, "! rated "+t.Typed(t.MostPressure))
	}
	if _, _, found := t.Chart.OddPoint(); found {
		all = append(all, "? looks wrong")
	}
	return strings.Join(all, "   ")
}
