package sequence

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// everyRing calls f for each count of bolts that can be ordered.
func everyRing(f func(n int)) {
	for n := FewestBolts; n <= MostBolts; n++ {
		f(n)
	}
}

func TestEveryOrderTakesEachBoltOnce(t *testing.T) {
	for _, p := range []Pattern{Star, Quadrant, Circle} {
		everyRing(func(n int) {
			order, err := Order(p, n, nil)
			if err != nil {
				t.Fatalf("%s of %d: %v", p, n, err)
			}
			if order[0] != 1 {
				t.Errorf("%s of %d starts at bolt %d", p, n, order[0])
			}
			slices.Sort(order)
			if !slices.Equal(order, run(1, n)) {
				t.Errorf("%s of %d takes %v", p, n, order)
			}
		})
	}
}

func TestQuadrantAndCircle(t *testing.T) {
	// The orders follow from the definition of each pattern.
	for _, c := range []struct {
		p    Pattern
		n    int
		want string
	}{
		{Quadrant, 3, "1, 3, 2"},
		{Quadrant, 5, "1, 4, 3, 5, 2"},
		{Quadrant, 8, "1, 5, 3, 7, 2, 6, 4, 8"},
		{Quadrant, 10, "1, 6, 4, 9, 2, 7, 5, 10, 3, 8"},
		{Quadrant, 16, "1, 9, 5, 13, 2, 10, 6, 14, 3, 11, 7, 15, 4, 12, 8, 16"},
		{Circle, 5, "1, 2, 3, 4, 5"},
	} {
		order, err := Order(c.p, c.n, nil)
		if got := BoltList(order); err != nil || got != c.want {
			t.Errorf("%s of %d: got %s (%v), want %s", c.p, c.n, got, err, c.want)
		}
	}
}

func TestOrderRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		p     Pattern
		n     int
		given []Bolt
		want  string
	}{
		{"too few", Star, 2, nil, "2 bolts cannot be ordered; give a count from 3 to 200"},
		{"too many", Circle, 201, nil, "201 bolts cannot be ordered; give a count from 3 to 200"},
		{"negative", Given, -4, nil, "-4 bolts cannot be ordered; give a count from 3 to 200"},
		{"no pattern", "", 8, nil, `there is no pattern ""; use star, quadrant, circle or given`},
		{"letter case", "Star", 8, nil, `there is no pattern "Star"; use star, quadrant, circle or given`},
		{"two orders", Star, 4, []Bolt{1, 3, 2, 4},
			`an order of 4 bolts is given, but the pattern is "star"; make the pattern "given" or leave the order out`},
		{"no order", Given, 3, nil,
			"the given order is not complete: missing 1, 2, 3; name each bolt from 1 to 3 once"},
		{"everything wrong", Given, 8, []Bolt{1, 5, 3, 9, 2, 5, 0, 3, 8, 5, 9, -1},
			"the given order is not complete: missing 4, 6, 7; more than once 3, 5; not on this joint -1, 0, 9; name each bolt from 1 to 8 once"},
	} {
		order, err := Order(c.p, c.n, c.given)
		if err == nil || err.Error() != c.want || order != nil {
			t.Errorf("%s:\n got %v, %v\nwant %s", c.name, order, err, c.want)
		}
	}
}

func TestGivenKeepsItsOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(FewestBolts, MostBolts).Draw(t, "bolts")
		given := rapid.Permutation(run(1, n)).Draw(t, "given")
		before := slices.Clone(given)
		order, err := Order(Given, n, given)
		if err != nil || !slices.Equal(order, before) {
			t.Fatalf("got %v (%v), want %v", order, err, before)
		}
		order[0] = 0
		if !slices.Equal(given, before) {
			t.Fatal("changing the order changed what was given")
		}
	})
}

func TestGivenNamesEachFault(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(FewestBolts, MostBolts).Draw(t, "bolts")
		given := rapid.Permutation(run(1, n)).Draw(t, "given")
		at := rapid.IntRange(0, n-1).Draw(t, "place")
		lost := given[at]
		given[at] = Bolt(rapid.IntRange(-5, MostBolts+5).Filter(func(b int) bool { return Bolt(b) != lost }).Draw(t, "instead"))
		other := "more than once"
		if given[at] < 1 || int(given[at]) > n {
			other = "not on this joint"
		}
		_, err := Order(Given, n, given)
		want := fmt.Sprintf("missing %d; %s %d;", lost, other, given[at])
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Fatalf("got %v, want %q in it", err, want)
		}
	})
}
