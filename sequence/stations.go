package sequence

import (
	"cmp"
	"fmt"
	"slices"
)

// Station is the bolts tightened together, clockwise from the first tool's: the
// i-th bolt is the i-th tool's.
type Station []Bolt

// Stations is the order in which one, two or four tools take n bolts, each bolt
// once. Two tools stand 180 degrees apart and four 90 degrees, or off by less
// than one bolt where the count does not divide; each tool keeps to its own arc
// of the ring. The stations follow the pattern: the next is that of the first
// bolt in its Order that is not yet done.
//
// What the tools cannot share comes last, with fewer tools: one bolt alone, two
// across from each other together, three as two across and then one. With
// fewer than two bolts for each tool, unless they divide, half the tools are
// used: so four tools on 5, 6 or 7 bolts work as two, and any on 3 as one.
// The rule is our own; that opposed tools share one ring and the remainder is
// done with fewer is common practice.
//
// given is as for Order; it says whose turn it is, not which bolts go together.
// The errors are those of Order, and a number of tools other than 1, 2 or 4.
func Stations(p Pattern, n, tools int, given []Bolt) ([]Station, error) {
	if tools != 1 && tools != 2 && tools != 4 {
		return nil, fmt.Errorf("%d tools at once cannot be placed evenly; use 1, 2 or 4", tools)
	}
	order, err := Order(p, n, given)
	if err != nil {
		return nil, err
	}
	for n%tools != 0 && n < 2*tools {
		tools /= 2
	}
	stations, rest := together(n, tools)
	turn := make([]int, n+1)
	for i, b := range order {
		turn[b] = i
	}
	first := func(s Station) int {
		t := n
		for _, b := range s {
			t = min(t, turn[b])
		}
		return t
	}
	slices.SortStableFunc(stations, func(a, b Station) int { return cmp.Compare(first(a), first(b)) })
	switch len(rest) {
	case 0:
	case 3:
		stations = append(stations, Station{rest[0], rest[2]}, Station{rest[1]})
	default:
		stations = append(stations, rest)
	}
	return stations, nil
}

// together is the stations of all tools, each with one bolt of every tool's arc,
// and the bolts left over in the longer arcs.
func together(n, tools int) (stations []Station, rest []Bolt) {
	ring := arcs(n, tools)
	whole := n / tools
	for i := range whole {
		var s Station
		for _, arc := range ring {
			s = append(s, arc[i])
		}
		stations = append(stations, s)
	}
	for _, arc := range ring {
		rest = append(rest, arc[whole:]...)
	}
	return stations, rest
}
