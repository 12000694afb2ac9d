// Package paper prints what leaves on paper: the step sheet, the record and the
// tool's chart as PDF. The same input gives the same bytes.
package paper

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode"

	"codeberg.org/go-pdf/fpdf"

	"evenload/data/visible"
)

// Size is that of the paper.
type Size string

// The sizes that can be printed on.
const (
	A4     Size = "A4"
	Letter Size = "Letter"
)

// margins and the room that head and foot take, in mm.
const (
	edge   = 15.0
	headTo = 30.0
	footH  = 16.0
	body   = 9.0 // points of running text
	lineH  = 4.2
)

// page is a document in the making, its lengths in mm.
type page struct {
	pdf     *fpdf.Fpdf
	w, h, y float64
	of      int    // pages, 0 not known yet
	missing []rune // that the font lacks, as met
	lacks   []rune // the same, of the whole document

	endless bool      // to measure
	top     float64   // where what is drawn begins, below the head
	block   int       // begun so far
	heights []float64 // of each block
	whole   bool      // within a block that has its room
}

// heading is what stands on every page.
type heading struct {
	left, right string   // the first line
	lines       []string // below it
	alarm       string   // below them, bold
	across      string   // behind everything, large
}

// document is what is printed: at stands in the file as its time.
type document struct {
	size  Size
	at    time.Time
	title string
	head  heading
	draw  func(*page)
}

// write prints a document as often as it takes: on one page without end, where it has
// blocks, for how tall each is; to count the pages and find which characters the font
// lacks; and for good.
func (d document) write(out io.Writer) error {
	counted, err := d.printed(&page{})
	if err == nil && counted.block > 0 {
		var measured *page
		if measured, err = d.printed(&page{endless: true}); err == nil {
			counted, err = d.printed(&page{heights: measured.heights})
		}
	}
	if err != nil {
		return err
	}
	last, err := d.printed(&page{of: counted.pdf.PageCount(), lacks: counted.missing, heights: counted.heights})
	if err != nil {
		return err
	}
	return last.pdf.Output(out)
}

// printed prints once, with what p knows of the document from printing it before.
func (d document) printed(p *page) (*page, error) {
	p.pdf = fpdf.New("P", "mm", string(d.size), "")
	if p.endless {
		w, _ := p.pdf.GetPageSize()
		p.pdf = fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: w, Ht: endless}})
	}
	p.pdf.SetCreationDate(d.at)
	p.pdf.SetModificationDate(d.at)
	p.pdf.SetCatalogSort(true)
	p.pdf.SetProducer("evenload", true)
	p.pdf.SetTitle(p.clean(d.title), true)
	p.pdf.AddUTF8FontFromBytes("go", "", regular())
	p.pdf.AddUTF8FontFromBytes("go", "B", bold())
	p.pdf.SetMargins(edge, edge, edge)
	p.pdf.SetAutoPageBreak(false, 0)
	p.w, p.h = p.pdf.GetPageSize()
	p.pdf.SetHeaderFunc(func() { p.head(d.head); p.top = p.y })
	p.pdf.SetFooterFunc(p.foot)
	p.add()
	d.draw(p)
	p.pdf.Close()
	return p, p.pdf.Error()
}

// endless is how tall a page is, in mm, that ends no block.
const endless = 1e5

// together keeps what is drawn on one page, where a page is tall enough for it. There
// are no blocks within blocks.
func (p *page) together(draw func()) {
	i := p.block
	p.block++
	if p.endless {
		p.heights = append(p.heights, 0)
		from := p.y
		draw()
		p.heights[i] = p.y - from
		return
	}
	if i < len(p.heights) {
		if tall := p.heights[i] - lineH; tall <= p.bottom()-p.top { // below its last line it is white
			p.room(tall)
			p.whole = true
		}
	}
	draw()
	p.whole = false
}

// add begins a page.
func (p *page) add() { p.pdf.AddPage() }

// bottom is how far down a page reaches.
func (p *page) bottom() float64 { return p.h - footH }

// room begins a page when less than h is left on this one, but never within a block
// that has its room.
func (p *page) room(h float64) {
	if p.y+h > p.bottom() && !p.whole {
		p.add()
	}
}

func (p *page) head(h heading) {
	if h.across != "" {
		p.pdf.TransformBegin()
		p.pdf.TransformRotate(52, p.w/2, p.h/2)
		p.face("B", 96)
		p.pdf.SetTextColor(225, 225, 225)
		p.pdf.Text(p.w/2-p.width(h.across)/2, p.h/2+12, h.across)
		p.pdf.TransformEnd()
		p.pdf.SetTextColor(0, 0, 0)
	}
	right := h.right
	if p.of > 0 {
		right = strings.TrimSpace(right + "   page " + fmt.Sprintf("%d of %d", p.pdf.PageNo(), p.of))
	}
	p.y = edge
	p.face("B", 11)
	left := p.wrap(h.left, p.w-2*edge-45)
	p.face("", body)
	p.put(p.w-edge-p.width(p.clean(right)), p.y, right)
	p.face("B", 11)
	for _, l := range left {
		p.put(edge, p.y, l)
		p.y += 5
	}
	p.face("", body)
	for _, l := range h.lines {
		for _, one := range p.wrap(l, p.w-2*edge) {
			p.put(edge, p.y, one)
			p.y += lineH
		}
	}
	if h.alarm != "" {
		p.face("B", 11)
		for _, one := range p.wrap(h.alarm, p.w-2*edge) {
			p.put(edge, p.y+0.6, one)
			p.y += 5.2
		}
	}
	p.pdf.SetLineWidth(0.3)
	p.pdf.Line(edge, p.y-1.5, p.w-edge, p.y-1.5)
	p.y = max(p.y+3, headTo)
	p.face("", body)
}

func (p *page) foot() {
	y := p.h - 8
	p.face("", 7)
	if len(p.lacks) > 0 {
		var all []string
		for _, r := range p.lacks[:min(len(p.lacks), 12)] {
			all = append(all, named(r))
		}
		if more := len(p.lacks) - len(all); more > 0 {
			all = append(all, fmt.Sprintf("and %d more", more))
		}
		p.put(edge, y-3.2, "NOT IN THE FONT of this page, printed by number: "+strings.Join(all, " "))
	}
	p.put(edge, y, footWord)
	p.face("", body)
}

// named is a character that the font lacks.
func named(r rune) string { return fmt.Sprintf("[U+%04X]", r) }

// clean makes text visible, and names what the font lacks.
func (p *page) clean(text string) string {
	text = visible.Text(text)
	if strings.IndexFunc(text, func(r rune) bool { return !unicode.Is(letters, r) }) < 0 {
		return text
	}
	var b strings.Builder
	for _, r := range text {
		if unicode.Is(letters, r) {
			b.WriteRune(r)
			continue
		}
		if !slices.Contains(p.missing, r) {
			p.missing = append(p.missing, r)
		}
		b.WriteString(named(r))
	}
	return b.String()
}

func (p *page) face(style string, points float64) { p.pdf.SetFont("go", style, points) }

func (p *page) width(text string) float64 { return p.pdf.GetStringWidth(text) }

// put writes text with its base line at y.
func (p *page) put(x, y float64, text string) { p.pdf.Text(x, y, p.clean(text)) }

// middle writes text about a middle.
func (p *page) middle(x, y float64, text string) {
	text = p.clean(text)
	p.pdf.Text(x-p.width(text)/2, y, text)
}

// wrap breaks text into lines that fit; a word that is too long is broken.
func (p *page) wrap(text string, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Split(p.clean(text), " ") {
		if line != "" && p.width(line+" "+word) <= width {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = word
		for p.width(line) > width {
			fits := 0
			for i := range line {
				if i > 0 && p.width(line[:i]) > width {
					break
				}
				fits = i
			}
			if fits == 0 {
				break
			}
			lines, line = append(lines, line[:fits]), line[fits:]
		}
	}
	return append(lines, line)
}

// section begins a part of the page.
func (p *page) section(text string) {
	p.room(16)
	p.y += 3
	p.face("B", 10.5)
	p.put(edge, p.y, text)
	p.face("", body)
	p.y += 5
}

// say prints running text.
func (p *page) say(text string) {
	for _, l := range p.wrap(text, p.w-2*edge) {
		p.room(lineH)
		p.put(edge, p.y, l)
		p.y += lineH
	}
}

// tall is how much of a page running text takes.
func (p *page) tall(text string) float64 {
	return lineH * float64(len(p.wrap(text, p.w-2*edge)))
}

// box draws an empty box to tick, its lower left corner at the base line.
func (p *page) box(x, y float64) {
	p.pdf.SetLineWidth(0.25)
	p.pdf.Rect(x, y-3, 3.4, 3.4, "D")
}

// blank is a line to write on, with what for.
func (p *page) blank(x, y, w float64, label string) {
	p.put(x, y, label)
	from := x + p.width(p.clean(label)) + 1.5
	p.pdf.SetLineWidth(0.2)
	p.pdf.Line(from, y+0.6, x+w, y+0.6)
}
