package draw

import (
	"math"
	"strconv"

	"evenload/data/visible"
	"evenload/joint"
)

// Mark is the shape beside a bolt.
type Mark int

// The marks. Each has its own shape, so that no colour is needed.
const (
	Open    Mark = iota // not yet
	Done                // #
	Current             // > the one at hand
	Left                // x left undone
	Moved               // m its nut moved
	Still               // = its nut was still
	marks               // how many there are
)

// shapes stand beside a number. An open bolt has none, and is a dot where its
// number finds no room.
var (
	shapes = [marks]string{Open: "", Done: "#", Current: ">", Left: "x", Moved: "m", Still: "="}
	inks   = [marks]Role{Open: Plain, Done: Ready, Current: Now, Left: Danger, Moved: Danger, Still: Ready}
)

// Ring is the joint seen from the tool side: a flange as a circle, numbers
// clockwise, or the bolts to scale where At has them.
type Ring struct {
	Bolts        int
	At           joint.Layout // of bolts that are no ring; none: a circle
	Mark         func(bolt int) Mark
	Tool         func(bolt int) string // letter of the tool at a bolt at hand; nil where there is only one
	Datum        string                // where the numbers begin; at the top of the drawing
	ViewedFrom   string                // the side one looks from
	Bolt1OnDatum bool                  // else bolt 1 is half a spacing clockwise of the datum
}

// place is where a bolt stands, and what is drawn there.
type place struct {
	bolt, x, y int
	mark       Mark
	tool       string
	numbered   bool // its number is drawn already
}

// Draw draws the ring into at most w by h cells. A number that would run into
// others becomes its shape alone, but the bolt at hand always keeps its number.
// Where not even each shape has a cell of its own, words say how far the work is.
func (r Ring) Draw(w, h int, t Theme) []string {
	if w < 1 || h < 1 || r.Bolts < 1 {
		return nil
	}
	if w < 20 || h < 8 {
		return r.words(w, h, t)
	}
	if len(r.At) > 0 {
		return r.cover(w, h, t)
	}
	o := newOval(w, h)
	g := newGrid(w, h)
	places := make([]place, r.Bolts)
	for i := range places {
		x, y := o.at(r.turn(i), 1)
		if g[y][x].taken {
			return r.words(w, h, t)
		}
		places[i] = place{bolt: i + 1, x: x, y: y, mark: r.mark(i + 1), tool: r.tool(i + 1)}
		g.put(x, y, places[i].dot(), inks[places[i].mark])
	}
	for i := range places {
		if places[i].mark == Current {
			places[i].number(g, o, r.turn(i))
		}
	}
	// The quarters first, so that a crowded ring can be counted from them.
	for i := range 4 {
		places[i*r.Bolts/4].label(g)
	}
	for i := range places {
		places[i].label(g)
	}
	datum(g, o.cx, t.Spell(visible.Text(r.Datum)))
	view(g, o, t.Spell(visible.Text(r.ViewedFrom)))
	return g.lines(t)
}

// turn is how far bolt i, counted from 0, is round from the datum, in radians.
func (r Ring) turn(i int) float64 {
	at := float64(i)
	if !r.Bolt1OnDatum {
		at += 0.5
	}
	return 2 * math.Pi * at / float64(r.Bolts)
}

// mark takes a mark that is none for open.
func (r Ring) mark(bolt int) Mark {
	if m := r.Mark(bolt); m > Open && m < marks {
		return m
	}
	return Open
}

// tool is the letter of the tool at a bolt at hand.
func (r Ring) tool(bolt int) string {
	if r.Tool == nil || r.mark(bolt) != Current {
		return ""
	}
	return r.Tool(bolt)
}

// oval is the circle in cells, which are twice as high as wide.
type oval struct{ cx, cy, rx, ry int }

// newOval leaves the first row for the datum and columns for numbers. Whole
// numbers of cells to both sides of the centre keep it symmetric.
func newOval(w, h int) oval {
	ry := (h - 2) / 2
	rx := min(2*ry+ry/4, (w-7)/2)
	ry = min(ry, rx/2+1)
	return oval{cx: (w - 1) / 2, cy: 1 + ry, rx: rx, ry: ry}
}

// at is the cell at a turn from the top, out from the centre by a share.
func (o oval) at(turn, share float64) (x, y int) {
	return o.cx + round(share*float64(o.rx)*math.Sin(turn)), o.cy - round(share*float64(o.ry)*math.Cos(turn))
}

// round rounds halves away from zero, whatever the last bits of a sine are.
func round(v float64) int { return int(math.Round(v + math.Copysign(1e-9, v))) }

// dot is a bolt in one cell.
func (p *place) dot() string {
	if p.mark == Open {
		return "."
	}
	return shapes[p.mark]
}

// label writes the number with its shape over the dot, if there is room and it
// is not drawn yet.
func (p *place) label(g grid) {
	if text := strconv.Itoa(p.bolt); !p.numbered {
		p.write(g, p.x-len(text)/2, text+shapes[p.mark])
	}
}

// write puts text over the dot, if nothing else is there or next to it.
func (p *place) write(g grid, at int, text string) {
	g[p.y][p.x] = cell{}
	p.numbered = g.free(at, p.y, len(text))
	if !p.numbered {
		at, text = p.x, p.dot()
	}
	g.put(at, p.y, text, inks[p.mark])
}

// number writes the number of the bolt at hand: on its place, else inside the
// circle as near to it as there is room.
func (p *place) number(g grid, o oval, turn float64) {
	text := p.tool + shapes[Current] + strconv.Itoa(p.bolt)
	for _, left := range []int{1 + (len(text)-1)/2, 0, len(text) - 1} {
		if p.write(g, p.x-left, text); p.numbered {
			return
		}
	}
	p.numbered = true
	for share := 0.9; share > 0; share -= 0.1 {
		x, y := o.at(turn, share)
		if at := x - len(text)/2; y != p.y && g.free(at, y, len(text)) {
			g.put(at, y, text, Now)
			return
		}
	}
	g.put(o.cx-len(text)/2, o.cy, text, Now)
}

// datum marks the top of the circle with a v and says beside it what is there.
func datum(g grid, x int, text string) {
	g.put(x, 0, "v", Plain)
	room := len(g[0]) - x - 2
	if width(text) > room && width(text) < x {
		g.put(x-1-width(text), 0, text, Plain)
		return
	}
	g.put(x+2, 0, cut(text, room), Plain)
}

// view writes the side that one looks from into the middle: from the other
// side the numbers run the other way.
func view(g grid, o oval, from string) {
	if from == "" {
		return
	}
	for _, room := range []int{o.rx + 2, o.rx, 9} {
		lines := Wrap("seen from "+from, room)
		top := o.cy - (len(lines)-1)/2
		fits := true
		for i, l := range lines {
			fits = fits && g.free(o.cx-width(l)/2, top+i, width(l))
		}
		if !fits {
			continue
		}
		for i, l := range lines {
			g.put(o.cx-width(l)/2, top+i, l, Plain)
		}
		return
	}
}
