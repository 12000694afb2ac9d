package interaction

import (
	"errors"
	"fmt"
	"slices"

	"evenload/joint/cores"
	"evenload/joint/unit"
	"evenload/sequence"
)

// MostRounds is how many check rounds are looked at for one that is still.
const MostRounds = 25

// Compared is one order on the same joint with gaskets that differ in stiffness.
type Compared struct {
	Order
	Results []Result // by gasket
}

// Compare runs orders on the joint with each gasket, on all cores.
func Compare(gaskets []*Bolts, orders []Order, target unit.Force, moves unit.Share) ([]Compared, error) {
	if !(target > 0) || !(moves > 0) {
		return nil, fmt.Errorf("to compare orders a target above zero is needed, and a share that a nut may gain")
	}
	all := make([]Compared, len(orders))
	errs := make([]error, len(orders))
	cores.Each(len(orders), func() func(int) {
		return func(i int) { all[i], errs[i] = compare(gaskets, orders[i], target, moves) }
	})
	return all, errors.Join(errs...)
}

func compare(gaskets []*Bolts, o Order, target unit.Force, moves unit.Share) (Compared, error) {
	c := Compared{Order: o}
	for _, b := range gaskets {
		r, err := b.Run(o, target, moves)
		if err != nil {
			return c, err
		}
		c.Results = append(c.Results, r)
	}
	return c, nil
}

// OwnOrder is the order of a plan, with the passes of its procedure: a plan that
// has errors has none itself.
func OwnOrder(p sequence.Plan, passes []unit.Share) Order {
	return Order{Pattern: p.Pattern, Own: true, Stations: p.Stations, Shares: passes, Rounds: p.CheckRounds, Further: max(0, MostRounds-p.CheckRounds)}
}

// Orders are those to compare a plan with, the plan's own first: each pattern
// for a ring with the same tools, each with the same passes and with two other
// numbers of passes in equal steps.
func Orders(p sequence.Plan, passes []unit.Share) ([]Order, error) {
	own := OwnOrder(p, passes)
	if len(own.Stations) == 0 || len(own.Shares) == 0 {
		return nil, fmt.Errorf("there is no order or there are no passes: evenload check says why")
	}
	patterns := []Order{own}
	for _, pattern := range []sequence.Pattern{sequence.Star, sequence.Quadrant, sequence.Circle} {
		if pattern == own.Pattern {
			continue
		}
		stations, err := sequence.Stations(pattern, p.Bolts, len(own.Stations[0]), nil)
		if err != nil {
			return nil, err
		}
		o := own
		o.Pattern, o.Own, o.Stations = pattern, false, stations
		patterns = append(patterns, o)
	}
	others := slices.DeleteFunc([]int{1, 5, 3}, func(n int) bool { return n == len(own.Shares) })[:2]
	slices.Sort(others)
	var all []Order
	for _, o := range patterns {
		all = append(all, o)
		for _, n := range others {
			o.Own, o.Shares = false, equal(n)
			all = append(all, o)
		}
	}
	return all, nil
}

// equal is n passes in equal steps up to the target.
func equal(n int) []unit.Share {
	var shares []unit.Share
	for i := range n {
		shares = append(shares, unit.Share(i+1)/unit.Share(n))
	}
	return shares
}
