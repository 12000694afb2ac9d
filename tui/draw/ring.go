package draw

import (
	"fmt"
	"math"
	"strings"
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
)

var shapes = map[Mark]string{Open: " ", Done: "#", Current: ">", Left: "x", Moved: "m", Still: "="}

// Ring is the flange as a circle, seen from the tool side, numbers clockwise.
type Ring struct {
	Bolts        int
	Mark         func(bolt int) Mark
	Datum        string
	ViewedFrom   string
	Bolt1OnDatum bool // else bolt 1 is half a spacing clockwise of the datum
}

// cell is one place of the character grid.
type cell struct {
	r    rune
	role Role
}

type grid [][]cell

func newGrid(w, h int) grid {
	g := make(grid, h)
	for i := range g {
		g[i] = make([]cell, w)
		for j := range g[i] {
			g[i][j] = cell{r: ' '}
		}
	}
	return g
}

// free says whether a text of n cells fits at x, y, with room at its sides.
func (g grid) free(x, y, n int) bool {
	if y < 0 || y >= len(g) || x < 0 || x+n > len(g[y]) {
		return false
	}
	for i := max(0, x-1); i < min(len(g[y]), x+n+1); i++ {
		if g[y][i].r != ' ' {
			return false
		}
	}
	return true
}

func (g grid) put(x, y int, text string, role Role) {
	for _, r := range text {
		if y >= 0 && y < len(g) && x >= 0 && x < len(g[y]) {
			g[y][x] = cell{r, role}
		}
		x++
	}
}

func (g grid) lines(t Theme) []string {
	lines := make([]string, len(g))
	for i, row := range g {
		end := len(row)
		for end > 0 && row[end-1].r == ' ' {
			end--
		}
		var b strings.Builder
		for j := 0; j < end; {
			k := j
			var part strings.Builder
			for k < end && row[k].role == row[j].role {
				part.WriteRune(row[k].r)
				k++
			}
			b.WriteString(t.Paint(row[j].role, part.String()))
			j = k
		}
		lines[i] = b.String()
	}
	return lines
}

// Draw draws the ring into w by h cells. The bolt at hand always keeps its
// number; numbers that would run into others become their shapes alone.
func (r Ring) Draw(w, h int, t Theme) []string {
	if w < 12 || h < 5 || r.Bolts < 1 {
		return r.words(w, h, t)
	}
	g := newGrid(w, h)
	// Character cells are twice as high as wide, so the circle is twice as wide in cells.
	ry := float64(h-2) / 2
	rx := min(2.1*ry, float64(w-8)/2)
	ry = min(ry, rx/2.0+1)
	cx, cy := float64(w-1)/2, float64(h)/2
	g.centre(cx, 0, "v "+Clean(r.Datum))
	r.view(g, int(cx), int(math.Round(cy)), rx)
	for _, b := range r.order() {
		angle := 2 * math.Pi * (float64(b-1) + r.offset()) / float64(r.Bolts)
		x := int(math.Round(cx + rx*math.Sin(angle)))
		y := int(math.Round(cy - (ry-0.5)*math.Cos(angle)))
		r.bolt(g, b, x, max(1, y))
	}
	return g.lines(t)
}

// order draws the bolt at hand first, so that nothing takes its place.
func (r Ring) order() []int {
	order := make([]int, 0, r.Bolts)
	for b := 1; b <= r.Bolts; b++ {
		if r.Mark(b) == Current {
			order = append([]int{b}, order...)
		} else {
			order = append(order, b)
		}
	}
	return order
}

func (r Ring) offset() float64 {
	if r.Bolt1OnDatum {
		return 0
	}
	return 0.5
}

func (r Ring) bolt(g grid, b, x, y int) {
	mark := r.Mark(b)
	text, role := fmt.Sprintf("%d%s", b, shapes[mark]), Plain
	switch mark {
	case Current:
		text, role = fmt.Sprintf(">%d", b), Now
	case Done, Still:
		role = Ready
	case Left, Moved:
		role = Danger
	}
	text = strings.TrimRight(text, " ")
	at := min(max(0, x-len(text)/2), len(g[0])-len(text))
	if mark == Current || g.free(at, y, len(text)) {
		g.put(at, y, text, role)
		return
	}
	shape := shapes[mark]
	if mark == Open {
		shape = "."
	}
	if x >= 0 && x < len(g[0]) && y < len(g) && g[y][x].r == ' ' {
		g.put(x, y, shape, role)
	}
}

// view writes the side that the joint is seen from into the middle.
func (r Ring) view(g grid, cx, cy int, rx float64) {
	room := int(rx) - 4
	if r.ViewedFrom == "" || room < 6 {
		return
	}
	lines := append([]string{"seen from"}, Wrap(Clean(r.ViewedFrom), room)...)
	if len(lines) > len(g)-6 {
		return
	}
	for i, l := range lines {
		g.centre(float64(cx), cy-len(lines)/2+i, cut(l, room+4))
	}
}

func (g grid) centre(cx float64, y int, text string) {
	runes := []rune(text)
	if len(g) == 0 {
		return
	}
	runes = runes[:min(len(runes), len(g[0]))]
	g.put(max(0, int(math.Round(cx-float64(len(runes)-1)/2))), y, string(runes), Plain)
}

// words says in a line what a small window cannot draw.
func (r Ring) words(w, h int, t Theme) []string {
	if w < 1 || h < 1 {
		return nil
	}
	marked, now := 0, ""
	for b := 1; b <= r.Bolts; b++ {
		switch r.Mark(b) {
		case Open:
		case Current:
			now = fmt.Sprintf("> %d  ", b)
		default:
			marked++
		}
	}
	return []string{cut(t.Paint(Now, now)+fmt.Sprintf("%d of %d", marked, r.Bolts), w)}
}
