package sequence

import (
	"fmt"
	"slices"
	"strings"
)

// Bolt is the position number of a bolt: 1 to the joint's count, clockwise from
// the datum as seen from the tool side.
type Bolt int

// Pattern names an order in which the bolts of a flange are tightened.
type Pattern string

// The patterns. Which of them is right for a joint is for the site's procedure
// and the responsible engineer to say.
const (
	// Star is the cross pattern: each bolt is followed by the one across. From
	// 36 bolts up it takes groups of neighbours. See the comment at star.
	Star Pattern = "star"
	// Quadrant takes a bolt of each quarter in turn, then the next clockwise of
	// each. See the comment at quadrant.
	Quadrant Pattern = "quadrant"
	// Circle goes round clockwise from bolt 1. It suits check rounds at full
	// torque (common practice); as a first pass it closes one side before the
	// other.
	Circle Pattern = "circle"
	// Given is an order that the author of the job wrote down, for covers that
	// are no ring and for procedures that prescribe their own.
	Given Pattern = "given"
)

// The counts of bolts that can be ordered. Two bolts make no ring; 200 is
// more than any standard flange has (from memory).
const (
	FewestBolts = 3
	MostBolts   = 200
)

// Order is the order in which one tool takes n bolts, each once. given is the
// order of the pattern Given and empty for every other. The error says which
// count or pattern is wrong, or names every bolt that a given order leaves out,
// repeats or makes up.
func Order(p Pattern, n int, given []Bolt) ([]Bolt, error) {
	if n < FewestBolts || n > MostBolts {
		return nil, fmt.Errorf("%d bolts cannot be ordered; give a count from %d to %d", n, FewestBolts, MostBolts)
	}
	if p != Given && len(given) > 0 {
		return nil, fmt.Errorf("an order of %d bolts is given, but the pattern is %q; make the pattern %q or leave the order out",
			len(given), string(p), string(Given))
	}
	switch p {
	case Star:
		return star(n), nil
	case Quadrant:
		return quadrant(n), nil
	case Circle:
		return run(1, n), nil
	case Given:
		if err := checkGiven(n, given); err != nil {
			return nil, err
		}
		return slices.Clone(given), nil
	case Outward:
		return nil, fmt.Errorf("the pattern %q is for bolts with positions; use %s, %s, %s or %s", string(p), Star, Quadrant, Circle, Given)
	}
	return nil, fmt.Errorf("there is no pattern %q; use %s, %s, %s or %s", string(p), Star, Quadrant, Circle, Given)
}

// checkGiven tells everything that is wrong with a given order at once.
func checkGiven(n int, given []Bolt) error {
	times := make(map[Bolt]int)
	for _, b := range given {
		times[b]++
	}
	var missing, repeated, strange []Bolt
	for _, b := range run(1, n) {
		switch times[b] {
		case 0:
			missing = append(missing, b)
		case 1:
		default:
			repeated = append(repeated, b)
		}
		delete(times, b)
	}
	for b := range times {
		strange = append(strange, b)
	}
	slices.Sort(strange)
	var faults []string
	for _, f := range []struct {
		what  string
		bolts []Bolt
	}{{"missing", missing}, {"more than once", repeated}, {"not on this joint", strange}} {
		if len(f.bolts) > 0 {
			faults = append(faults, f.what+" "+BoltList(f.bolts))
		}
	}
	if len(faults) == 0 {
		return nil
	}
	return fmt.Errorf("the given order is not complete: %s; name each bolt from 1 to %d once", strings.Join(faults, "; "), n)
}

// run is the bolts from first to last, clockwise.
func run(first, last int) []Bolt {
	var bolts []Bolt
	for b := first; b <= last; b++ {
		bolts = append(bolts, Bolt(b))
	}
	return bolts
}

// quadrant takes a bolt of each quarter of the ring in turn: the first of each,
// across and then a quarter on (1, 7, 4, 10 of twelve), then the next clockwise
// of each. Where four does not divide the count some quarters hold a bolt more,
// and are gone on with when the others are done. It is quicker to follow than
// the star: after the first four the tool only moves on by one in each quarter.
// Common practice; ASME PCC-1 has alternatives of this kind (from memory).
//
// For an even count the unit vectors to the bolts done never sum to more than
// 1, for an odd count to 1.41.
func quadrant(n int) []Bolt {
	var order []Bolt
	quarters := arcs(n, 4)
	for i := range len(quarters[0]) {
		for _, k := range []int{0, 2, 1, 3} {
			if i < len(quarters[k]) {
				order = append(order, quarters[k][i])
			}
		}
	}
	return order
}

// arcs cuts the ring into count arcs of neighbours, clockwise from bolt 1, whose
// sizes differ by one at most. The first is never the smaller.
func arcs(n, count int) [][]Bolt {
	cut := make([][]Bolt, count)
	for k := range count {
		cut[k] = run(ceil(k*n, count)+1, ceil((k+1)*n, count))
	}
	return cut
}

// ceil is a/b, rounded up.
func ceil(a, b int) int { return (a + b - 1) / b }
