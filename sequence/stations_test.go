package sequence

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestStationsByHand(t *testing.T) {
	// Worked by hand from the rule in the comment at Stations.
	for _, c := range []struct {
		p        Pattern
		n, tools int
		given    []Bolt
		want     string
	}{
		{Star, 4, 1, nil, "[[1] [3] [2] [4]]"},
		{Star, 4, 4, nil, "[[1 2 3 4]]"},
		{Star, 12, 2, nil, "[[1 7] [4 10] [2 8] [5 11] [3 9] [6 12]]"},
		{Star, 16, 4, nil, "[[1 5 9 13] [3 7 11 15] [2 6 10 14] [4 8 12 16]]"},
		{Quadrant, 8, 2, nil, "[[1 5] [3 7] [2 6] [4 8]]"},
		{Circle, 8, 4, nil, "[[1 3 5 7] [2 4 6 8]]"},
		{Given, 6, 2, []Bolt{5, 1, 3, 2, 4, 6}, "[[2 5] [1 4] [3 6]]"},
		// The count does not divide: the remainder comes last.
		{Star, 9, 2, nil, "[[1 6] [3 8] [2 7] [4 9] [5]]"},
		{Circle, 9, 4, nil, "[[1 4 6 8] [2 5 7 9] [3]]"},
		{Circle, 10, 4, nil, "[[1 4 6 9] [2 5 7 10] [3 8]]"},
		{Circle, 11, 4, nil, "[[1 4 7 10] [2 5 8 11] [3 9] [6]]"},
		// Too few bolts for the tools.
		{Star, 3, 2, nil, "[[1] [3] [2]]"},
		{Star, 3, 4, nil, "[[1] [3] [2]]"},
		{Circle, 5, 4, nil, "[[1 4] [2 5] [3]]"},
		{Circle, 6, 4, nil, "[[1 4] [2 5] [3 6]]"},
		{Circle, 7, 4, nil, "[[1 5] [2 6] [3 7] [4]]"},
	} {
		got, err := Stations(c.p, c.n, c.tools, c.given)
		if err != nil || fmt.Sprint(got) != c.want {
			t.Errorf("%s of %d, %d tools: got %v (%v), want %s", c.p, c.n, c.tools, got, err, c.want)
		}
	}
}

func TestStationsRefuses(t *testing.T) {
	for _, tools := range []int{-1, 0, 3, 5, 8} {
		want := fmt.Sprintf("%d tools at once cannot be placed evenly; use 1, 2 or 4", tools)
		if got, err := Stations(Star, 12, tools, nil); err == nil || err.Error() != want || got != nil {
			t.Errorf("%d tools: got %v, %v", tools, got, err)
		}
	}
	_, want := Order("spiral", 12, nil)
	if got, err := Stations("spiral", 12, 2, nil); err == nil || err.Error() != want.Error() || got != nil {
		t.Errorf("got %v, %v, want the error of Order: %v", got, err, want)
	}
}

func TestOneToolTakesTheOrder(t *testing.T) {
	for _, p := range []Pattern{Star, Quadrant, Circle} {
		everyRing(func(n int) {
			stations, err := Stations(p, n, 1, nil)
			order, err2 := Order(p, n, nil)
			if err != nil || err2 != nil {
				t.Fatal(err, err2)
			}
			if got := slices.Concat(stations...); len(stations) != n || !slices.Equal(got, Station(order)) {
				t.Errorf("%s of %d: one tool takes %v, want %v", p, n, got, order)
			}
		})
	}
}

func TestStationsAreSpacedEvenly(t *testing.T) {
	for _, p := range []Pattern{Star, Quadrant, Circle} {
		for _, tools := range []int{2, 4} {
			everyRing(func(n int) { checkSpacing(t, p, n, tools, nil) })
		}
	}
}

func TestGivenStationsAreSpacedEvenly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(FewestBolts, MostBolts).Draw(t, "bolts")
		given := rapid.Permutation(run(1, n)).Draw(t, "given")
		checkSpacing(t, Given, n, rapid.SampledFrom([]int{1, 2, 4}).Draw(t, "tools"), given)
	})
}

// checkSpacing checks that stations take each bolt once, the full ones first and
// spaced evenly to within a bolt, each tool going round its own arc only.
func checkSpacing(t rapid.TB, p Pattern, n, tools int, given []Bolt) {
	t.Helper()
	stations, err := Stations(p, n, tools, given)
	if err != nil {
		t.Fatalf("%s of %d, %d tools: %v", p, n, tools, err)
	}
	all := slices.Concat(stations...)
	slices.Sort(all)
	if !slices.Equal(all, Station(run(1, n))) {
		t.Errorf("%s of %d, %d tools: takes %v", p, n, tools, all)
	}
	used := len(stations[0])
	if n >= 2*tools && used != tools {
		t.Errorf("%s of %d: %d of %d tools used", p, n, used, tools)
	}
	full, left := stations[:n/used], stations[n/used:]
	arcEnd := make([]Bolt, used) // the highest bolt of each tool
	for _, s := range full {
		if len(s) != used {
			t.Fatalf("%s of %d, %d tools: %v among the full stations", p, n, tools, s)
		}
		for i, b := range s {
			next := s[(i+1)%used]
			gap := int(next-b+Bolt(n)-1)%n + 1
			if math.Abs(float64(gap)-float64(n)/float64(used)) >= 1 {
				t.Errorf("%s of %d, %d tools: %v is not even", p, n, tools, s)
			}
			arcEnd[i] = max(arcEnd[i], b)
		}
	}
	for _, s := range full {
		for i := 1; i < used; i++ {
			if s[i] <= arcEnd[i-1] {
				t.Errorf("%s of %d, %d tools: the tool of bolt %d meets the one before", p, n, tools, s[i])
			}
		}
	}
	for _, s := range left {
		if len(s) >= used || len(s) == 2 && distance(s[0], s[1], n) != n/2 {
			t.Errorf("%s of %d, %d tools: remainder %v", p, n, tools, s)
		}
	}
}

func TestStarStationsFollowTheStar(t *testing.T) {
	for _, tools := range []int{2, 4} {
		everyRing(func(n int) {
			stations, err := Stations(Star, n, tools, nil)
			if err != nil {
				t.Fatal(err)
			}
			turn := map[Bolt]int{}
			for i, b := range star(n) {
				turn[b] = i
			}
			before := -1
			for _, s := range stations[:n/len(stations[0])] {
				first := n
				for _, b := range s {
					first = min(first, turn[b])
				}
				if first < before {
					t.Errorf("star of %d, %d tools: station %v comes too late", n, tools, s)
				}
				before = first
			}
		})
	}
}

// TestStarStationsAreBalanced bounds the sum of unit vectors to the bolts done
// after each station: nothing for an even count.
func TestStarStationsAreBalanced(t *testing.T) {
	for _, tools := range []int{2, 4} {
		everyRing(func(n int) {
			stations, err := Stations(Star, n, tools, nil)
			if err != nil {
				t.Fatal(err)
			}
			bound := 1e-9
			if n%2 == 1 {
				bound = 1 + 1e-9
			}
			var x, y float64
			for _, s := range stations {
				if len(s) == 1 {
					break
				}
				for _, b := range s {
					sin, cos := math.Sincos(2 * math.Pi * float64(b) / float64(n))
					x, y = x+cos, y+sin
				}
				if off := math.Hypot(x, y); off > bound {
					t.Errorf("star of %d, %d tools: after station %v the pull to one side is %.4f", n, tools, s, off)
				}
			}
		})
	}
}
