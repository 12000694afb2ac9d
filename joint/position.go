package joint

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"evenload/joint/unit"
)

// Position is where a bolt of a joint that is no ring is, seen from the tool
// side: x to the right and y up, to the datum.
type Position struct {
	X unit.Length `json:"x_m"`
	Y unit.Length `json:"y_m"`
}

// MostPosition is how far from the origin a bolt may be, either way: more is a
// slip of the keys or of the unit.
const MostPosition = unit.Length(50)

// PitchLeast is how many bolt diameters apart two bolts are at least: nearer,
// nuts and socket find no room (common practice; nuts alone take about 1.6).
const PitchLeast = 1.5

// same is what two lengths may differ by and count as equal: far below any
// drawing, far above the last bits of a processor.
const same = unit.Length(1e-6)

// To is the distance to another position.
func (p Position) To(q Position) unit.Length {
	return unit.Length(math.Hypot(float64(p.X-q.X), float64(p.Y-q.Y)))
}

// Text is the position in millimetres or inches: "(120, -60)".
func (p Position) Text(s unit.System) string {
	scale := unit.Millimetre
	if s == unit.US {
		scale = unit.Inch
	}
	at := func(v unit.Length) float64 { return math.Round(float64(v)/scale*100)/100 + 0 }
	return fmt.Sprintf("(%v, %v)", at(p.X), at(p.Y))
}

// Layout is where the bolts of a joint that is no ring are: rectangular and
// oval covers, tie-rods. The i-th position is that of bolt i+1; none at all is
// a ring.
type Layout []Position

// Crowded gives the first two bolts that are nearer to each other than least,
// as indices; false when there are none.
func (l Layout) Crowded(least unit.Length) (i, j int, is bool) {
	for j := range l {
		for i := range j {
			if l[i].To(l[j]) < least-same {
				return i, j, true
			}
		}
	}
	return 0, 0, false
}

// OnOneLine says that all bolts are on one straight line, within a hundredth of
// the distance of its ends: such bolts hold no cover.
func (l Layout) OnOneLine() bool {
	var a, b Position
	var long unit.Length
	for j := range l {
		for i := range j {
			if d := l[i].To(l[j]); d > long {
				a, b, long = l[i], l[j], d
			}
		}
	}
	for _, p := range l {
		off := math.Abs(float64((b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X))) / float64(long)
		if unit.Length(off) > long/100 {
			return false
		}
	}
	return true
}

// Middle is the centroid of the bolts.
func (l Layout) Middle() Position {
	var m Position
	for _, p := range l {
		m.X += p.X / unit.Length(len(l))
		m.Y += p.Y / unit.Length(len(l))
	}
	return m
}

// Box is the outline about the bolts, with sides along x and y: its lowest and
// its highest corner.
func (l Layout) Box() (low, high Position) {
	if len(l) == 0 {
		return low, high
	}
	low, high = l[0], l[0]
	for _, p := range l {
		low.X, low.Y = min(low.X, p.X), min(low.Y, p.Y)
		high.X, high.Y = max(high.X, p.X), max(high.Y, p.Y)
	}
	return low, high
}

// Round gives the bolts, as indices, in the order in which they lie round the
// middle: clockwise from bolt 1, those in one direction from the inside out.
func (l Layout) Round() []int {
	m := l.Middle()
	turn := make([]float64, len(l))
	out := make([]unit.Length, len(l))
	for i, p := range l {
		if out[i] = m.To(p); out[i] > same {
			// Rounded, so that bolts in one direction are that on every processor.
			turn[i] = math.Round(math.Atan2(float64(p.X-m.X), float64(p.Y-m.Y))*1e9) / 1e9
		}
	}
	first := 0.0
	if len(l) > 0 {
		first = turn[0]
	}
	all := make([]int, len(l))
	for i := range all {
		all[i] = i
		if turn[i] < first {
			turn[i] += 2 * math.Pi
		}
	}
	slices.SortStableFunc(all, func(i, j int) int {
		return cmp.Or(cmp.Compare(turn[i], turn[j]), cmp.Compare(out[i], out[j]))
	})
	return all
}

// Numbering is how the numbers of the bolts run.
type Numbering int

// The ways in which numbers run.
const (
	Otherwise        Numbering = iota // not once round
	Clockwise                         // once round, as on a ring
	CounterClockwise                  // once round the wrong way: as seen from the other side
)

// Numbering says how the numbers run; a ring's run clockwise.
func (l Layout) Numbering() Numbering {
	clockwise, counter := true, true
	for k, i := range l.Round() {
		clockwise = clockwise && i == k
		counter = counter && i == (len(l)-k)%len(l)
	}
	switch {
	case clockwise:
		return Clockwise
	case counter:
		return CounterClockwise
	}
	return Otherwise
}
