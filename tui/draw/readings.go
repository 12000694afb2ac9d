package draw

import (
	"fmt"
	"strconv"
	"strings"

	"evenload/data/visible"
)

// Reading is what was measured beside a bolt.
type Reading struct {
	Bolt              int
	Text              string // the value without its unit; "" is not measured yet
	Widest, Narrowest bool
}

// widestSign and narrowestSign put a value between the shapes of the widest and
// the narrowest: <3.4> and >2.1<.
func widestSign(value string) string    { return "<" + value + ">" }
func narrowestSign(value string) string { return ">" + value + "<" }

// labels are what may stand at the place of a reading, the fullest first.
func (d Reading) labels() []string {
	number := strconv.Itoa(d.Bolt)
	value := visible.Text(d.Text)
	switch {
	case value == "":
		return []string{number + " ?"}
	case d.Widest:
		return []string{number + " " + widestSign(value) + " widest", number + " " + widestSign(value)}
	case d.Narrowest:
		return []string{number + " " + narrowestSign(value) + " narrowest", number + " " + narrowestSign(value)}
	}
	return []string{number + " " + value}
}

func (d Reading) ink() Role {
	switch {
	case d.Text == "":
		return Plain
	case d.Widest, d.Narrowest:
		return Now
	}
	return Strong
}

// Readings draws the joint with what was measured at its places, in at most w
// by h cells; the other bolts are there by their numbers, or as dots. A reading
// whose place has no room stands beside it, and an o marks the bolt. Where not
// every reading finds room they are a list.
func (r Ring) Readings(w, h int, all []Reading, t Theme) []string {
	if w < 1 || h < 1 || r.Bolts < 1 {
		return nil
	}
	if w < 20 || h < 8 {
		return listed(all, w, h, t)
	}
	for _, others := range []bool{true, false} {
		if g := newGrid(w, h); r.measured(g, all, others, t) {
			return g.lines(t)
		}
	}
	return listed(all, w, h, t)
}

// measured draws the readings into a grid, with the other bolts or without. It
// says false where a reading has no room.
func (r Ring) measured(g grid, all []Reading, others bool, t Theme) bool {
	at, middle := r.cells(len(g[0]), len(g))
	for _, p := range at {
		if others {
			g.put(p.x, p.y, ".", Plain)
		}
	}
	for _, d := range all {
		if d.Bolt < 1 || d.Bolt > r.Bolts {
			return false
		}
		g.put(at[d.Bolt-1].x, at[d.Bolt-1].y, "o", d.ink())
	}
	for _, first := range []bool{true, false} { // the two that count most first
		for _, d := range all {
			if (d.Widest || d.Narrowest) == first && !g.reading(d, at[d.Bolt-1], middle) {
				return false
			}
		}
	}
	datum(g, middle.x, t.Spell(visible.Text(r.Datum)))
	r.from(g, middle, t)
	for i, p := range at {
		if g[p.y][p.x].text != "." {
			continue
		}
		number := strconv.Itoa(i + 1)
		g[p.y][p.x] = cell{}
		if !g.near(p.x-len(number)/2, p.y, number, Plain, nearby[:1]) {
			g.put(p.x, p.y, ".", Plain)
		}
	}
	return true
}

// reading writes the fullest label that finds room: on its bolt, inward from
// it, or in the rows beside it.
func (g grid) reading(d Reading, at, middle spot) bool {
	for _, text := range d.labels() {
		long := width(text)
		starts := []int{at.x - long/2, at.x, at.x - long + 1}
		switch {
		case at.x < middle.x-2:
			starts = []int{at.x, at.x - 1, at.x - long/2, at.x - long + 1}
		case at.x > middle.x+2:
			starts = []int{at.x - long + 1, at.x - long + 2, at.x - long/2, at.x}
		}
		own := g[at.y][at.x]
		g[at.y][at.x] = cell{}
		for _, x := range starts {
			if g.roomy(x, at.y, long) {
				g.put(x, at.y, text, d.ink())
				return true
			}
		}
		g[at.y][at.x] = own
		inward := 1
		if at.y > middle.y {
			inward = -1
		}
		for _, row := range []int{inward, -inward, 2 * inward} {
			for _, x := range starts {
				if at.y+row > 0 && g.roomy(x, at.y+row, long) {
					g.put(x, at.y+row, text, d.ink())
					return true
				}
			}
		}
	}
	return false
}

// roomy is free with two empty cells at each side: a reading is two numbers,
// and has to stand apart from those beside it.
func (g grid) roomy(x, y, n int) bool {
	from, to := max(0, x-1), min(len(g[0]), x+n+1)
	return x >= 0 && x+n <= len(g[0]) && g.free(from, y, to-from)
}

// listed says readings in at most h lines of w cells.
func listed(all []Reading, w, h int, t Theme) []string {
	var parts []string
	for _, d := range all {
		parts = append(parts, d.labels()[0])
	}
	if parts == nil {
		return nil
	}
	return first(Wrap(t.Spell(fmt.Sprintf("bolt: %s", strings.Join(parts, ", "))), w), h, w)
}
