package sequence

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"evenload/joint"
	"evenload/joint/unit"
)

// Outward is the pattern for bolts that are no ring: from the middle outward.
// See the comment at outward.
const Outward Pattern = "outward"

// layoutOrder is the order in which one tool takes bolts that are no ring:
// Outward, or given as it is. The error is that of a given order, or says that
// a pattern is for rings.
func layoutOrder(p Pattern, l joint.Layout, given []Bolt) ([]Bolt, error) {
	switch p {
	case Given:
		return Order(p, len(l), given)
	case Outward:
		if len(given) > 0 {
			return nil, fmt.Errorf("an order of %d bolts is given, but the pattern is %q; make the pattern %q or leave the order out",
				len(given), string(p), string(Given))
		}
		return outward(l), nil
	}
	return nil, fmt.Errorf("the pattern %q is for bolts on a circle, and these have positions: leave the pattern silent, which means %q, or make it %q with an order",
		string(p), string(Outward), string(Given))
}

// outward goes from the middle of a cover to its corners, working across the
// middle: so the cover beds in from its middle, and no side closes before the
// other. It begins with the bolt nearest the middle (the centroid of all
// bolts). Each next one is of the innermost bolts that are open, which are those
// not farther out than the nearest by more than a fiftieth of the farthest: of
// these the one farthest from the bolt before, of equal ones the lowest number.
// Two things come first: it is no neighbour of the bolt before (next to it on
// the way round the middle) while the joint has an open bolt that is none, and
// the corners (see corners) wait for all others.
//
// A rectangular cover is so closed out along both long sides with its corners
// last, an oval one with its ends last, and four tie-rods by diagonal pairs.
// From the middle outward, across, corners last and tie-rods by diagonals are
// common practice; the rule that makes them one order is our own.
func outward(l joint.Layout) []Bolt {
	middle := l.Middle()
	out := make([]unit.Length, len(l))
	for i, p := range l {
		out[i] = middle.To(p)
	}
	beside, corner := neighbours(l), corners(l)
	open := make([]int, len(l))
	for i := range open {
		open[i] = i
	}
	var order []Bolt
	for before := -1; len(open) > 0; {
		among := sift(sift(open, func(i int) bool { return before < 0 || !slices.Contains(beside[before], i) }),
			func(i int) bool { return !corner[i] })
		nearest := slices.MinFunc(among, func(i, j int) int { return compare(out[i], out[j]) })
		next := nearest
		if before >= 0 {
			ring := sift(among, func(i int) bool { return out[i] <= out[nearest]+slices.Max(out)/50+equal })
			next = slices.MinFunc(ring, func(i, j int) int { return compare(l[j].To(l[before]), l[i].To(l[before])) })
		}
		order = append(order, Bolt(next+1))
		open = slices.DeleteFunc(open, func(i int) bool { return i == next })
		before = next
	}
	return order
}

// sift keeps the bolts that fit; where none does, all of them.
func sift(bolts []int, fits func(int) bool) []int {
	var kept []int
	for _, i := range bolts {
		if fits(i) {
			kept = append(kept, i)
		}
	}
	if kept == nil {
		return bolts
	}
	return kept
}

// corners says of each bolt whether it is in a corner of the outline: as near
// to it as half the way to the bolt next to it.
func corners(l joint.Layout) []bool {
	is := make([]bool, len(l))
	low, high := l.Box()
	for i, p := range l {
		next := unit.Length(math.Inf(1))
		for j, q := range l {
			if j != i {
				next = min(next, p.To(q))
			}
		}
		for _, c := range []joint.Position{low, high, {X: low.X, Y: high.Y}, {X: high.X, Y: low.Y}} {
			is[i] = is[i] || p.To(c) < next/2
		}
	}
	return is
}

// equal is what two lengths may differ by and be taken for equal, so that equal
// choices are equal on every processor.
const equal = unit.Length(1e-6)

// compare orders lengths; near equal ones are equal.
func compare(a, b unit.Length) int {
	switch {
	case a < b-equal:
		return -1
	case a > b+equal:
		return 1
	}
	return 0
}

// neighbours are for each bolt the ones before and after it on the way round.
func neighbours(l joint.Layout) [][]int {
	n := len(l)
	beside := make([][]int, n)
	round := l.Round()
	for k, i := range round {
		beside[i] = []int{round[(k+1)%n], round[(k+n-1)%n]}
	}
	return beside
}

// layoutGaps chooses the bolts beside which the gaps of a cover are measured:
// those nearest to the corners of the outline about all bolts, then to the
// middles of its sides, the longer sides first (common practice); a bolt that is
// nearest to two of them counts once. most caps them; four are the fewest that
// tell how a cover lies.
func layoutGaps(l joint.Layout, most int) []Bolt {
	low, high := l.Box()
	mid := joint.Position{X: (low.X + high.X) / 2, Y: (low.Y + high.Y) / 2}
	spots := []joint.Position{{X: low.X, Y: high.Y}, {X: high.X, Y: low.Y}, high, low}
	upDown := []joint.Position{{X: mid.X, Y: high.Y}, {X: mid.X, Y: low.Y}}
	sides := []joint.Position{{X: high.X, Y: mid.Y}, {X: low.X, Y: mid.Y}}
	if high.Y-low.Y > high.X-low.X {
		upDown, sides = sides, upDown
	}
	spots = slices.Concat(spots, upDown, sides)
	var at []Bolt
	nearest := func(spot joint.Position, among func(Bolt) bool) Bolt {
		best := Bolt(0)
		for i, p := range l {
			if b := Bolt(i + 1); among(b) && (best == 0 || p.To(spot) < l[best-1].To(spot)-equal) {
				best = b
			}
		}
		return best
	}
	for _, spot := range spots {
		if b := nearest(spot, func(Bolt) bool { return true }); !slices.Contains(at, b) && len(at) < max(FewestLayoutGaps, most) {
			at = append(at, b)
		}
	}
	for i := 0; len(at) < min(FewestLayoutGaps, len(l)); i++ {
		at = append(at, nearest(spots[i], func(b Bolt) bool { return !slices.Contains(at, b) }))
	}
	slices.Sort(at)
	return at
}

// FewestLayoutGaps is how many places of a cover are measured at least, where
// it has as many bolts.
const FewestLayoutGaps = 4

// layoutStations plans the bolts that are no ring, one tool after another bolt,
// and says what is wrong with doing so.
func layoutStations(l joint.Layout, p Procedure) ([]Station, []joint.Finding) {
	var findings []joint.Finding
	if p.ToolsAtOnce > 1 {
		findings = append(findings, joint.Finding{Severity: joint.Error, Code: "layout-tools", Key: "procedure.tools_at_once",
			Text: fmt.Sprintf("%d tools at once are for bolts on a circle, and these have positions: make tools_at_once 1", p.ToolsAtOnce)})
	}
	order, err := layoutOrder(p.Pattern, l, p.Given)
	if err != nil {
		return nil, append(findings, joint.Finding{Severity: joint.Error, Code: "order", Key: "procedure.pattern", Text: err.Error()})
	}
	if l.Numbering() == joint.CounterClockwise {
		findings = append(findings, joint.Finding{Severity: joint.Warning, Code: "mirrored", Key: "bolts.positions",
			Text: "the positions go round counter-clockwise, as seen from the other side: x is to the right and y up, seen from numbering.viewed_from; look whether the drawing is seen from there"})
	}
	stations := make([]Station, len(order))
	for i, b := range order {
		stations[i] = Station{b}
	}
	return stations, findings
}

// numberedAsDrawn asks for the numbers of bolts that are no ring: they need not
// run round, so they are held against the drawing.
func numberedAsDrawn(all []Question, about About) {
	for i := range all {
		if all[i].ID == "16" {
			all[i].Text = "Are bolts numbered as on the drawing, seen from the " + about.ViewedFrom + "?"
			all[i].Why = "Seen from the other side, or numbered otherwise, the order is another one."
		}
	}
}

// checkLayout guards against a card whose plan was written by hand.
func checkLayout(plan *Plan) error {
	if n := len(plan.Positions); n > 0 && n != plan.Bolts {
		return fmt.Errorf("the plan has %d bolts and positions for %d", plan.Bolts, n)
	}
	if len(plan.Positions) > 0 && len(plan.Tools) != 1 {
		return fmt.Errorf("the plan has positions of bolts and %d tools at once: they are for bolts on a circle", len(plan.Tools))
	}
	for i, p := range plan.Positions {
		if !(math.Abs(float64(p.X)) <= float64(joint.MostPosition) && math.Abs(float64(p.Y)) <= float64(joint.MostPosition)) {
			return fmt.Errorf("the plan's position of bolt %d is beyond %v m", i+1, float64(joint.MostPosition))
		}
	}
	if _, _, is := plan.Positions.Crowded(2 * equal); is {
		return errors.New("the plan has two bolts in one place")
	}
	return nil
}

// RoundWord says how check rounds go round: a ring's bolts clockwise.
func (p *Plan) RoundWord() string {
	if p.Positions.Numbering() == joint.Clockwise {
		return "clockwise"
	}
	return "by number"
}
