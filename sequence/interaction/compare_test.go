package interaction

import (
	"math"
	"slices"
	"testing"

	"evenload/joint/unit"
	"evenload/sequence"
)

// plan is the part of a plan that orders are made of.
func plan(t *testing.T, p sequence.Pattern, n, tools int) sequence.Plan {
	t.Helper()
	stations, err := sequence.Stations(p, n, tools, nil)
	if err != nil {
		t.Fatal(err)
	}
	return sequence.Plan{Bolts: n, Pattern: p, Stations: stations, CheckRounds: 4}
}

func TestOrdersOfPlan(t *testing.T) {
	for _, c := range []struct {
		shares []unit.Share
		counts []int
	}{
		{[]unit.Share{0.3, 0.6, 1}, []int{3, 1, 5}}, {[]unit.Share{1}, []int{1, 3, 5}}, {[]unit.Share{0.5, 1}, []int{2, 1, 5}},
		{[]unit.Share{0.1, 0.2, 0.4, 0.7, 1}, []int{5, 1, 3}},
	} {
		orders, err := Orders(plan(t, sequence.Circle, 12, 2), c.shares)
		if err != nil {
			t.Fatal(err)
		}
		if len(orders) != 9 || !orders[0].Own || !slices.Equal(orders[0].Shares, c.shares) || orders[0].Pattern != sequence.Circle {
			t.Errorf("%v: %d orders, the first %+v", c.shares, len(orders), orders[0])
		}
		for i, o := range orders {
			if len(o.Shares) != c.counts[i%3] || o.Shares[len(o.Shares)-1] != 1 || o.Own != (i == 0) || o.Rounds != 4 || o.Rounds+o.Further != MostRounds || len(o.Stations) != 6 {
				t.Errorf("%v: order %d is %+v", c.shares, i, o)
			}
		}
		if want := []sequence.Pattern{sequence.Circle, sequence.Star, sequence.Quadrant}; orders[3].Pattern != want[1] || orders[6].Pattern != want[2] {
			t.Errorf("the patterns are %s, %s, %s", orders[0].Pattern, orders[3].Pattern, orders[6].Pattern)
		}
	}
	given := plan(t, sequence.Star, 8, 1)
	given.Pattern = sequence.Given
	if orders, err := Orders(given, []unit.Share{0.5, 1}); err != nil || len(orders) != 12 {
		t.Errorf("an order given beside the three patterns: %d, %v", len(orders), err)
	}
	if _, err := Orders(sequence.Plan{Bolts: 8}, nil); err == nil {
		t.Error("a plan without order or passes is compared")
	}
}

// What is counted, and that the rounds looked at beyond those of the job change
// nothing of what the order leaves.
func TestCompareCounts(t *testing.T) {
	gaskets := []*Bolts{joined(t, 12, 20), joined(t, 12, 200), joined(t, 12, 2000)}
	orders, err := Orders(plan(t, sequence.Star, 12, 2), []unit.Share{0.3, 0.6, 1})
	if err != nil {
		t.Fatal(err)
	}
	all, err := Compare(gaskets, orders, 100e3, 0.05)
	if err != nil || len(all) != 9 {
		t.Fatal(len(all), err)
	}
	for _, c := range all {
		for g, r := range c.Results {
			passes := len(c.Shares)
			if r.Bolts != 12*(passes+r.Rounds) || r.Stations != 6*passes+12*r.Rounds {
				t.Errorf("%s in %d passes, %d rounds: %d bolts at %d stations", c.Pattern, passes, r.Rounds, r.Bolts, r.Stations)
			}
			if r.Still != 0 && r.Still < r.Rounds || r.Still == 0 && r.Rounds != 4 || r.Rounds > 4 || r.Still > MostRounds {
				t.Errorf("%d rounds, still in %d", r.Rounds, r.Still)
			}
			if r.Final.Least > r.Final.Mean || r.Final.Mean > r.Final.Most || r.Final.Most > r.Highest || r.Final.Least != slices.Min(r.Loads) || !(r.Uneven > 0) {
				t.Errorf("%+v", r)
			}
			o := c.Order
			o.Further = 0
			alone, err := gaskets[g].Run(o, 100e3, 0.05)
			if err != nil || alone.Final != r.Final || alone.Bolts != r.Bolts || alone.Uneven != r.Uneven {
				t.Errorf("looking on changes %+v to %+v (%v)", alone, r, err)
			}
		}
		if soft, stiff := c.Results[0], c.Results[2]; soft.Final.Mean > stiff.Final.Mean || stiff.Still == 0 || soft.Still != 0 && soft.Still < stiff.Still {
			t.Errorf("%s: on the soft gasket %+v, on the stiff one %+v", c.Pattern, soft, stiff)
		}
	}
	for _, bad := range []struct{ target, moves float64 }{{0, 0.05}, {math.NaN(), 0.05}, {1e5, 0}} {
		if _, err := Compare(gaskets, orders, unit.Force(bad.target), unit.Share(bad.moves)); err == nil {
			t.Errorf("target %v and share %v are taken", bad.target, bad.moves)
		}
	}
}
