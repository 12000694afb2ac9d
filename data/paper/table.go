package paper

import (
	"strings"

	"evenload/data/report"
	"evenload/sequence"
)

// column of a table: its head and its share of the width. Columns without a
// share divide what is left.
type column struct {
	head  string
	width float64 // mm
	each  bool    // a reading a line
}

// lines are those that a cell of a column takes.
func (p *page) lines(c column, text string) (all []string) {
	parts := []string{text}
	if c.each {
		parts = strings.Split(text, report.ReadingEnd)
	}
	for _, part := range parts {
		all = append(all, p.wrap(part, c.width-2*cellPad)...)
	}
	return all
}

const cellPad = 1.2

// table prints rows under a head that stands again on every page. Text wraps.
func (p *page) table(cols []column, rows [][]string) {
	left, free := p.w-2*edge, 0
	for _, c := range cols {
		if left -= c.width; c.width == 0 {
			free++
		}
	}
	for i := range cols {
		if cols[i].width == 0 {
			cols[i].width = left / float64(free)
		}
	}
	head := make([]string, len(cols))
	for i, c := range cols {
		head[i] = c.head
	}
	p.room(18)
	p.row(cols, head, "B")
	for _, r := range rows {
		if p.y+p.height(cols, r) > p.bottom()+2 {
			p.add()
			p.row(cols, head, "B")
		}
		p.row(cols, r, "")
	}
	p.face("", body)
	p.y += 2
}

const cellLine = 3.7

func (p *page) height(cols []column, cells []string) float64 {
	p.face("", 8)
	n := 1
	for i, c := range cells {
		n = max(n, len(p.lines(cols[i], c)))
	}
	return float64(n)*cellLine + 1
}

// row prints the cells of one row with a line below; a row longer than a page
// goes on on the next.
func (p *page) row(cols []column, cells []string, style string) {
	p.face(style, 8)
	lines := make([][]string, len(cells))
	n := 1
	for i, c := range cells {
		lines[i] = p.lines(cols[i], c)
		n = max(n, len(lines[i]))
	}
	for k := range n {
		if p.y > p.bottom() {
			p.add()
			p.face(style, 8)
		}
		x := edge
		for i, c := range cols {
			if k < len(lines[i]) {
				p.put(x+cellPad, p.y, lines[i][k])
			}
			x += c.width
		}
		p.y += cellLine
	}
	p.pdf.SetLineWidth(0.1)
	p.pdf.SetDrawColor(170, 170, 170)
	if style == "B" {
		p.pdf.SetLineWidth(0.3)
		p.pdf.SetDrawColor(0, 0, 0)
	}
	p.pdf.Line(edge, p.y-2.6, p.w-edge, p.y-2.6)
	p.pdf.SetDrawColor(0, 0, 0)
	p.y++
}

// facts prints words with what they say.
func (p *page) facts(all []sequence.Told) {
	const labels = 32.0
	for _, f := range all {
		p.face("", body)
		for i, l := range p.wrap(f.Text, p.w-2*edge-labels) {
			p.room(lineH)
			if i == 0 {
				p.face("B", body)
				p.put(edge, p.y, f.Label)
				p.face("", body)
			}
			p.put(edge+labels, p.y, l)
			p.y += lineH
		}
	}
}
