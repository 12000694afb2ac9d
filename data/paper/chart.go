package paper

import (
	"fmt"
	"io"
	"strings"
	"time"

	"evenload/data/report"
	"evenload/joint"
	"evenload/joint/unit"
)

// Charts prints the chart of each tool, a page or more each: the plot, then a
// table for the pocket. It gives what was found on the day.
func Charts(out io.Writer, tools []joint.Tool, s unit.System, on joint.Date) ([]joint.Finding, error) {
	var all []joint.Finding
	h := heading{left: "TOOL CHARTS", lines: []string{"findings as on " + on.String()}}
	if len(tools) == 1 {
		h.left = report.ChartTitle(tools[0]) + "   " + report.SetState(tools[0])
	}
	for _, t := range tools {
		all = append(all, found(t, s, on)...)
	}
	at := time.Date(on.Year, time.Month(on.Month), on.Day, 0, 0, 0, 0, time.UTC)
	return all, document{A4, at, h.left, h, func(p *page) {
		for i, t := range tools {
			if i > 0 {
				p.add()
			}
			p.chart(t, s, found(t, s, on))
		}
	}}.write(out)
}

func found(t joint.Tool, s unit.System, on joint.Date) []joint.Finding {
	return append(t.DueFindings(on, "tool"), t.ChartFindings("tool", s)...)
}

func (p *page) chart(t joint.Tool, s unit.System, found []joint.Finding) {
	p.section(report.ChartTitle(t) + "   " + report.SetState(t))
	p.curve(t, s, edge+12, p.y+2, p.w-2*edge-16, 82)
	p.y += 102
	p.facts(report.ChartFacts(t, s))
	p.pocket(t, s)
	p.section("FINDINGS")
	if len(found) == 0 {
		p.say("none")
	}
	for _, f := range found {
		p.say(fmt.Sprintf("%s: %s (%s)", f.Severity, f.Text, f.Code))
	}
	p.section("CAUTIONS")
	for _, c := range report.ChartCautions {
		p.say(c)
	}
}

// torqueUnit is what torques are printed in, with its size in N·m.
func torqueUnit(s unit.System) (name string, size float64) {
	if s == unit.US {
		return "lbf·ft", unit.PoundForceFoot
	}
	return "N·m", 1
}

// curve plots a chart with its points; nothing stands beyond its ends.
func (p *page) curve(t joint.Tool, s unit.System, x, y, w, h float64) {
	if t.Chart.Check() != nil {
		p.put(x, y+8, "the chart cannot be drawn, see the findings")
		return
	}
	u := t.Gauge.Unit
	name, size := torqueUnit(s)
	xStep, xTop := report.Axis(t.Chart.Last().Pressure.In(u), 10)
	yStep, yTop := report.Axis(float64(t.Chart.Last().Torque)/size, 8)
	px := func(v unit.Pressure) float64 { return x + w*v.In(u)/xTop }
	py := func(v unit.Torque) float64 { return y + h - h*float64(v)/size/yTop }
	p.face("", 8)
	p.pdf.SetLineWidth(0.1)
	p.pdf.SetDrawColor(190, 190, 190)
	for v := 0.0; v <= xTop*1.0001; v += xStep {
		p.pdf.Line(x+w*v/xTop, y, x+w*v/xTop, y+h)
		p.middle(x+w*v/xTop, y+h+4, fmt.Sprintf("%.4g", v))
	}
	for v := 0.0; v <= yTop*1.0001; v += yStep {
		level := y + h - h*v/yTop
		p.pdf.Line(x, level, x+w, level)
		text := fmt.Sprintf("%.4g", v)
		p.put(x-1.5-p.width(text), level+1, text)
	}
	p.pdf.SetDrawColor(0, 0, 0)
	p.put(x-10, y-2.5, "torque, "+name)
	under := "pressure, " + string(u) + ", " + strings.ToLower(report.SetState(t))
	p.put(x+w-p.width(under), y+h+8, under)
	p.pdf.SetLineWidth(0.3)
	p.mark(px, joint.SteadyStall, y, h, "steady from "+t.Gauged(joint.SteadyStall), xTop, u)
	p.mark(px, t.MostPressure, y, h, "rated "+t.Typed(t.MostPressure), xTop, u)
	p.pdf.SetLineWidth(0.5)
	odd, _, doubted := t.Chart.OddPoint()
	for i := 1; i < len(t.Chart); i++ {
		p.pdf.Line(px(t.Chart[i-1].Pressure), py(t.Chart[i-1].Torque), px(t.Chart[i].Pressure), py(t.Chart[i].Torque))
	}
	p.pdf.SetLineWidth(0.3)
	for i, point := range t.Chart {
		p.pdf.SetFillColor(0, 0, 0)
		p.pdf.Circle(px(point.Pressure), py(point.Torque), 0.9, "F")
		if doubted && i == odd {
			p.pdf.Circle(px(point.Pressure), py(point.Torque), 2.4, "D")
			p.face("B", body)
			p.put(px(point.Pressure)+3.4, py(point.Torque)+4, fmt.Sprintf("? point %d looks wrong", i+1))
			p.face("", 8)
		}
	}
	p.face("", body)
}

// mark draws a dashed line at a pressure that lies on the axis.
func (p *page) mark(px func(unit.Pressure) float64, at unit.Pressure, y, h float64, words string, top float64, u unit.PressureUnit) {
	if at <= 0 || at.In(u) > top {
		return
	}
	p.pdf.SetDashPattern([]float64{1.5, 1.2}, 0)
	p.pdf.Line(px(at), y, px(at), y+h)
	p.pdf.SetDashPattern(nil, 0)
	// Beside the line and at its top: below, points and curve begin.
	down := px(at) - 1.2
	p.pdf.TransformBegin()
	p.pdf.TransformRotate(90, down, y+2+p.width(words))
	p.put(down, y+2+p.width(words), words)
	p.pdf.TransformEnd()
}

// pocket is the torque of each division of the gauge, down the columns.
func (p *page) pocket(t joint.Tool, s unit.System) {
	p.section("POCKET TABLE   " + report.SetState(t))
	rows, err := t.Divisions()
	if err != nil || len(rows) == 0 {
		text := "no division of the gauge lies inside the chart: take a finer gauge"
		if err != nil {
			text = err.Error()
		}
		p.say(text)
		return
	}
	const columns, high = 4, 4.6
	wide := (p.w - 2*edge) / columns
	name, _ := torqueUnit(s)
	for from := 0; from < len(rows); {
		p.room(8 * high)
		fit := max(1, int((p.bottom()-p.y-high)/high))
		here := min(len(rows)-from, columns*fit)
		n := (here + columns - 1) / columns
		top := p.y
		for i := range here {
			x := edge + wide*float64(i/n)
			if i%n == 0 {
				p.face("B", body)
				p.put(x, top, string(t.Gauge.Unit))
				p.put(x+15, top, name)
				p.face("", body)
			}
			d := rows[from+i]
			y := top + high*float64(i%n+1)
			torque, _, _ := strings.Cut(d.Torque.Text(s), " ")
			marks := ""
			if d.Unsteady {
				marks += "*"
			}
			if d.Doubtful {
				marks += "?"
			}
			p.put(x, y, d.Pressure.Reading(t.Gauge.Unit, t.Gauge.Division))
			p.put(x+15, y, torque+marks)
		}
		p.y = top + high*float64(n+1) + 2
		from += here
	}
	for _, l := range report.PocketMarks(t, rows) {
		p.say(l)
	}
}
