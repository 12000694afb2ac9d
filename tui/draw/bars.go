package draw

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"evenload/data/visible"
)

// Bar is one bolt with a value before and now, both as shares of the longest bar.
type Bar struct {
	Bolt        int
	Before, Now float64
	Text        string // the value now
	Mark        Mark   // beside the number
}

// room of the parts of a bar: number with mark, and value.
const (
	barLabel = 4
	barText  = 6
	barReach = 5 // by how much the circle goes out in the middle
)

// Bars draws the joint as a circle of bars, in at most w by h cells: # is what
// stays, + what was gained, - what was lost, | the line at a share of the longest
// bar (0: none). Where the circle has no room the bars stand in columns.
func (r Ring) Bars(w, h int, bars []Bar, line float64, t Theme) []string {
	if w < 20 || h < 1 || len(bars) == 0 {
		return nil
	}
	rows := r.pairs(bars)
	half := (w - 1) / 2
	long := min(32, half-2-barReach-barLabel-barText)
	if r.Bolts < 3 {
		return columnsOf(min(w, 60), h, bars, line, t)
	}
	if len(rows)+1 > h || long < 6 {
		return columnsOf(w, h, bars, line, t)
	}
	apart := 0
	if len(rows) > 1 {
		apart = min(2, (h-1-len(rows))/(len(rows)-1)) // a few bolts stand further apart
	}
	out := []string{strings.Repeat(" ", half) + cut("v "+t.Spell(visible.Text(r.Datum)), half)}
	for i, row := range rows {
		if i > 0 {
			out = append(out, make([]string, apart)...)
		}
		reach := 2 + int(math.Round(barReach*row.reach))
		left, right := "", ""
		if row.left != nil {
			text := row.left.draw(long, line, true, t)
			left = strings.Repeat(" ", max(0, half-reach-width(text))) + text
		}
		if row.right != nil {
			right = strings.Repeat(" ", max(0, half+reach-width(left))) + row.right.draw(long, line, false, t)
		}
		out = append(out, left+right)
	}
	return out
}

// row is a bolt on each side of the circle at one height; reach is how far out.
type row struct {
	left, right *Bar
	reach       float64
}

// pairs are the bolts from the top down, right and left.
func (r Ring) pairs(bars []Bar) []row {
	var right, left []Bar
	for _, b := range bars {
		if math.Sin(r.turn(b.Bolt-1)) >= -1e-9 {
			right = append(right, b)
		} else {
			left = append(left, b)
		}
	}
	down := func(a, b Bar) int {
		return cmp.Compare(math.Round(1e6*math.Cos(r.turn(b.Bolt-1))), math.Round(1e6*math.Cos(r.turn(a.Bolt-1))))
	}
	slices.SortStableFunc(right, down)
	slices.SortStableFunc(left, down)
	n := max(len(right), len(left))
	rows := make([]row, n)
	for i := range rows {
		rows[i].reach = math.Sin(math.Pi * (float64(i) + 0.5) / float64(n))
		if i < len(right) {
			rows[i].right = &right[i]
		}
		if at := i - (n - len(left)); at >= 0 && len(right) > len(left) && r.Bolt1OnDatum {
			rows[i].left = &left[at] // bolt 1 stands alone at the top
		} else if i < len(left) && !(len(right) > len(left) && r.Bolt1OnDatum) {
			rows[i].left = &left[i]
		}
	}
	return rows
}

// draw is a bar with its number and its value, or the mirror of it.
func (b Bar) draw(long int, line float64, mirrored bool, t Theme) string {
	cells := func(v float64) int { return max(0, min(long, int(math.Round(v*float64(long))))) }
	kept, before, now, mark := cells(min(b.Before, b.Now)), cells(b.Before), cells(b.Now), cells(line)
	stay := strings.Repeat("#", kept)
	gain, loss := strings.Repeat("+", max(0, now-kept)), strings.Repeat("-", max(0, before-kept))
	rest := ""
	if end := max(now, before); line > 0 && mark > end {
		rest = strings.Repeat(" ", mark-end-1) + "|"
		if mirrored {
			rest = "|" + strings.Repeat(" ", mark-end-1)
		}
	}
	label := strconv.Itoa(b.Bolt) + shapes[b.Mark]
	if b.Mark == Current {
		label = shapes[Current] + strconv.Itoa(b.Bolt)
	}
	paint := func(s string, role Role) string {
		if s == "" {
			return ""
		}
		return t.Paint(role, s)
	}
	text := strings.TrimSpace(b.Text)
	if mirrored {
		room := strings.Repeat(" ", max(0, barLabel-width(label)))
		return text + " " + rest + paint(loss, Danger) + paint(gain, Now) + paint(stay, Ready) + " " + paint(label, inks[b.Mark]) + room
	}
	room := strings.Repeat(" ", max(0, barLabel-width(label)))
	return room + paint(label, inks[b.Mark]) + " " + paint(stay, Ready) + paint(gain, Now) + paint(loss, Danger) + rest + " " + text
}

// columnsOf are the bars in columns, clockwise from bolt 1; where even they have no
// room, those that changed most.
func columnsOf(w, h int, bars []Bar, line float64, t Theme) []string {
	const least = barLabel + 1 + 4 + 1 + barText
	fit := h * max(1, w/(least+2))
	if len(bars) > fit {
		bars = slices.Clone(bars)
		slices.SortStableFunc(bars, func(a, b Bar) int {
			return cmp.Compare(math.Abs(b.Now-b.Before), math.Abs(a.Now-a.Before))
		})
		bars = bars[:fit]
		slices.SortStableFunc(bars, func(a, b Bar) int { return cmp.Compare(a.Bolt, b.Bolt) })
	}
	columns := (len(bars) + h - 1) / h
	high := (len(bars) + columns - 1) / columns
	wide := w / columns
	long := min(32, wide-2-barLabel-1-1-barText)
	out := make([]string, high)
	for i, b := range bars {
		col, at := i/high, i%high
		out[at] += strings.Repeat(" ", max(0, col*wide-width(out[at]))) + b.draw(long, line, false, t)
	}
	return out
}
