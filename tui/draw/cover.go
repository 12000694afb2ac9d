package draw

import (
	"strconv"

	"evenload/data/visible"
)

// spot is a cell of the drawing.
type spot struct{ x, y int }

// mostLabel is the widest number of a bolt with its shape: ">200".
const mostLabel = 4

// cells are those of the bolts, and the middle of the drawing. The first row is
// the datum's; at both sides there is room for half a label.
func (r Ring) cells(w, h int) (at []spot, middle spot) {
	at = make([]spot, r.Bolts)
	if len(r.At) != r.Bolts {
		o := newOval(w, h)
		for i := range at {
			at[i].x, at[i].y = o.at(r.turn(i), 1)
		}
		return at, spot{o.cx, o.cy}
	}
	low, high := r.At.Box()
	wide, tall := float64(high.X-low.X), float64(high.Y-low.Y)
	// A cell is twice as high as wide.
	rows, columns := float64((h-2)/2*2), float64(w-1-mostLabel)
	scale := 0.0
	if size := max(tall, wide*2*rows/columns); size > 0 {
		scale = rows / size
	}
	middle = spot{(w - 1) / 2, 1 + (h-2)/2}
	for i, p := range r.At {
		at[i].x = middle.x + round(2*scale*(float64(p.X-low.X)-wide/2))
		at[i].y = middle.y - round(scale*(float64(p.Y-low.Y)-tall/2))
	}
	return at, middle
}

// nearby are the moves by which a label is brought out of another's way, the
// smallest first. A cell is twice as high as wide.
var nearby = []spot{{0, 0}, {-1, 0}, {1, 0}, {-2, 0}, {2, 0}, {0, 1}, {0, -1}, {-1, 1}, {1, 1}, {-1, -1}, {1, -1}, {-3, 0}, {3, 0},
	{-2, 1}, {2, 1}, {-2, -1}, {2, -1}, {-3, 1}, {3, 1}, {-3, -1}, {3, -1}}

// cover draws bolts that are no ring, to scale. Each has its number: one that
// would fall on another is moved a little; where that does not help either,
// words say how far the work is.
func (r Ring) cover(w, h int, t Theme) []string {
	at, middle := r.cells(w, h)
	g := newGrid(w, h)
	for _, now := range []bool{true, false} { // the bolt at hand stands where it is
		for i, p := range at {
			m := r.mark(i + 1)
			if (m == Current) != now {
				continue
			}
			number := strconv.Itoa(i + 1)
			text, left := number+shapes[m], len(number)/2
			if m == Current {
				text, left = shapes[m]+number, 1+(len(number)-1)/2
			}
			if !g.near(p.x-left, p.y, text, inks[m], nearby) {
				return r.words(w, h, t)
			}
		}
	}
	datum(g, middle.x, t.Spell(visible.Text(r.Datum)))
	r.from(g, middle, t)
	return g.lines(t)
}

// near writes a text at the first move from a cell at which there is room for
// it below the first row.
func (g grid) near(x, y int, text string, ink Role, moves []spot) bool {
	for _, m := range moves {
		if y+m.y > 0 && g.free(x+m.x, y+m.y, width(text)) {
			g.put(x+m.x, y+m.y, text, ink)
			return true
		}
	}
	return false
}

// from writes the side that one looks from as near to the middle as there is room.
func (r Ring) from(g grid, middle spot, t Theme) {
	side := t.Spell(visible.Text(r.ViewedFrom))
	if side == "" {
		return
	}
	for _, room := range []int{len(g[0]) / 2, 14, 9} {
		lines := Wrap("seen from "+side, room)
		for _, off := range []int{0, 1, -1, 2, -2, 3, -3} {
			top := middle.y - (len(lines)-1)/2 + off
			fits := top > 0
			for i, l := range lines {
				fits = fits && g.free(middle.x-width(l)/2, top+i, width(l))
			}
			if !fits {
				continue
			}
			for i, l := range lines {
				g.put(middle.x-width(l)/2, top+i, l, Plain)
			}
			return
		}
	}
}
