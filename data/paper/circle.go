package paper

import (
	"fmt"
	"math"

	"codeberg.org/go-pdf/fpdf"

	"evenload/joint"
	"evenload/sequence"
)

// shape is how a bolt is drawn.
type shape int

const (
	hollow  shape = iota // not done, or to do
	filled               // done
	crossed              // left undone, or a problem
	unknown              // a damaged card does not say
)

// sign is all that the drawing of a bolt tells.
type sign struct {
	shape   shape
	renewed bool // a ring about it: its parts were replaced
}

// joint draws a plan's bolts from the tool side in a square, with numbers and
// datum: a ring clockwise from the top, others to scale. signs is by bolt from 1
// on, nil for none done.
func (p *page) joint(plan *sequence.Plan, x, y, size float64, signs []sign) {
	cx, cy := x+size/2, y+size/2+3
	r := size/2 - 11
	at := make([][2]float64, plan.Bolts)
	out := make([][2]float64, plan.Bolts) // towards the outside
	var least float64                     // between the middles of two bolts
	if len(plan.Positions) == plan.Bolts {
		at, out, least = cover(plan.Positions, cx, cy, r)
	} else {
		for i := range at {
			turn := float64(i)
			if !plan.About.Bolt1OnDatum {
				turn += 0.5
			}
			turn *= 2 * math.Pi / float64(plan.Bolts)
			out[i] = [2]float64{math.Sin(turn), -math.Cos(turn)}
			at[i] = [2]float64{cx + r*out[i][0], cy + r*out[i][1]}
		}
		least = 2 * r * math.Sin(math.Pi/float64(plan.Bolts))
		p.pdf.SetLineWidth(0.15)
		p.pdf.Circle(cx, cy, r, "D")
	}
	dot := min(2.2, least*0.36)
	points := min(9, max(4, least*1.6))
	for i := range at {
		var s sign
		if i+1 < len(signs) {
			s = signs[i+1]
		}
		p.bolt(at[i][0], at[i][1], dot, s)
		p.face("B", points)
		d := dot + points*0.28 + 0.6
		if s.renewed {
			d += ring
		}
		p.middle(at[i][0]+d*out[i][0], at[i][1]+d*out[i][1]+points*0.125, fmt.Sprint(i+1))
	}
	p.face("", 8)
	top := y + 2.0
	p.pdf.SetFillColor(0, 0, 0)
	p.pdf.Polygon([]fpdf.PointType{{X: cx - 1.3, Y: top + 1}, {X: cx + 1.3, Y: top + 1}, {X: cx, Y: top + 3.4}}, "F")
	datum := p.wrap(plan.About.Datum, size-4)
	if len(datum) > 1 { // there is room for one line, and a pre-start question has it whole
		datum[0] += " ..."
	}
	p.pdf.Text(cx-p.width(datum[0])/2, top-0.4, datum[0])
	p.view(plan, cx, cy, at)
	p.face("", body)
}

// view says which side one looks from, in the middle where no bolt is.
func (p *page) view(plan *sequence.Plan, cx, cy float64, at [][2]float64) {
	words := "seen from " + plan.About.ViewedFrom
	if len(plan.Positions) == 0 {
		words += ", numbers clockwise"
	}
	if len(plan.Positions) > 0 {
		// Bolts may be anywhere: beside the drawing's lower edge no bolt is.
		low := cy
		for _, a := range at {
			low = max(low, a[1])
		}
		for i, l := range p.wrap(words, 70) {
			p.pdf.Text(cx-p.width(l)/2, low+13+3.6*float64(i), l)
		}
		return
	}
	lines := p.wrap(words, 34)
	for i, l := range lines {
		p.pdf.Text(cx-p.width(l)/2, cy+3.6*(float64(i)-float64(len(lines)-1)/2), l)
	}
}

// ring is how far the ring of new parts stands off a bolt.
const ring = 0.7

func (p *page) bolt(x, y, r float64, s sign) {
	p.pdf.SetLineWidth(0.3)
	p.pdf.SetFillColor(255, 255, 255)
	if s.renewed {
		p.pdf.Circle(x, y, r+ring, "FD")
	}
	if s.shape == filled {
		p.pdf.SetFillColor(60, 60, 60)
	}
	p.pdf.Circle(x, y, r, "FD")
	switch s.shape {
	case crossed:
		p.pdf.SetLineWidth(0.5)
		p.pdf.Line(x-r, y-r, x+r, y+r)
		p.pdf.Line(x-r, y+r, x+r, y-r)
	case unknown:
		points, _ := p.pdf.GetFontSize()
		p.pdf.SetFontSize(r * 4.4) // the sign is as tall as the circle is wide, less its line
		p.middle(x, y+r*0.55, "?")
		p.pdf.SetFontSize(points)
	}
}

// cover places bolts that are no ring to scale within a radius, y up. Numbers
// go away from the middle. least is how near two of them come.
func cover(l joint.Layout, cx, cy, r float64) (at, out [][2]float64, least float64) {
	low, high := l.Box()
	wide, tall := float64(high.X-low.X), float64(high.Y-low.Y)
	scale := 2 * r / max(wide, tall)
	at, out, least = make([][2]float64, len(l)), make([][2]float64, len(l)), math.Inf(1)
	for i, pos := range l {
		dx, dy := (float64(pos.X-low.X)-wide/2)*scale, -(float64(pos.Y-low.Y)-tall/2)*scale
		at[i] = [2]float64{cx + dx, cy + dy}
		out[i] = [2]float64{0, -1}
		if far := math.Hypot(dx, dy); far > 1 {
			out[i] = [2]float64{dx / far, dy / far}
		}
		for _, other := range at[:i] {
			least = min(least, math.Hypot(other[0]-at[i][0], other[1]-at[i][1]))
		}
	}
	return at, out, least
}
