package sequence

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// TestStarAsPrinted holds the star against the cross-pattern orders of ASME PCC-1.
// Every row is from memory, nobody has compared it with the document; the last
// two fours of 28 bolts are unsure.
func TestStarAsPrinted(t *testing.T) {
	file, err := os.Open("../testdata/check/sequence_cross_pattern.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 18 {
		t.Fatalf("the file has %d rows, want a heading and 17 orders", len(rows))
	}
	for _, row := range rows[1:] {
		n, err := strconv.Atoi(row[0])
		if err != nil {
			t.Fatal(err)
		}
		printed := strings.ReplaceAll(strings.ReplaceAll(row[1], " > ", ","), ",", ", ")
		order, err := Order(Star, n, nil)
		if got := BoltList(order); err != nil || got != printed {
			t.Errorf("%d bolts, confidence %s %s:\n got %s (%v)\nwant %s", n, row[2], row[3], got, err, printed)
		}
		if unsure := strings.Contains(row[3], "not confirmed"); unsure != (n == 28) {
			t.Errorf("%d bolts: marked unsure %v; only 28 is known to be", n, unsure)
		}
	}
}

func TestStarByOurRule(t *testing.T) {
	// Worked by hand from the rule in the comment at star.
	for n, want := range map[int]string{
		3:  "1, 3, 2",
		5:  "1, 4, 2, 5, 3",
		6:  "1, 4, 2, 5, 3, 6",
		10: "1, 6, 3, 8, 5, 10, 2, 7, 4, 9",
		14: "1, 8, 4, 11, 6, 13, 2, 9, 5, 12, 3, 10, 7, 14",
	} {
		order, err := Order(Star, n, nil)
		if got := BoltList(order); err != nil || got != want {
			t.Errorf("star of %d: got %s (%v), want %s", n, got, err, want)
		}
	}
}

// distance is how many bolts a lies from b, the shorter way round.
func distance(a, b Bolt, n int) int {
	d := int(max(a, b) - min(a, b))
	return min(d, n-d)
}

func TestBoltAcrossFollowsAtOnce(t *testing.T) {
	for n := FewestBolts; n < 36; n++ {
		order := star(n)
		for i := 0; i+1 < n; i += 2 {
			if d := distance(order[i], order[i+1], n); d != n/2 {
				t.Errorf("star of %d: bolt %d is followed by %d, %d away", n, order[i], order[i+1], d)
			}
		}
	}
}

// groupsIn cuts an order where the next bolt is not the next neighbour, and
// after four: of 37 bolts the last pair of groups starts beside the one before.
func groupsIn(order []Bolt) [][]Bolt {
	var groups [][]Bolt
	for i, b := range order {
		last := len(groups) - 1
		if i == 0 || order[i-1]+1 != b || len(groups[last]) == 4 {
			groups = append(groups, nil)
			last++
		}
		groups[last] = append(groups[last], b)
	}
	return groups
}

func TestGroupAcrossFollowsAtOnce(t *testing.T) {
	// Printed with an odd number of groups, so that none lies straight across;
	// TestStarAsPrinted compares them bolt by bolt.
	odd := []int{44, 52, 60, 68}
	for n := 36; n <= MostBolts; n++ {
		if slices.Contains(odd, n) {
			continue
		}
		groups := groupsIn(star(n))
		if len(groups)%2 != 0 {
			t.Errorf("star of %d has %d groups, one has none across", n, len(groups))
			continue
		}
		for i := 0; i < len(groups); i += 2 {
			a, b := groups[i], groups[i+1]
			if d := distance(a[0], b[0], n); d != n/2 {
				t.Errorf("star of %d: group %v is followed by %v, %d away", n, a, b, d)
			}
			for _, g := range [][]Bolt{a, b} {
				if len(g) < 3 || len(g) > 4 {
					t.Errorf("star of %d: group %v, want three or four bolts", n, g)
				}
			}
			// Only the place that an odd count leaves empty makes a difference.
			if len(a) != len(b) && (n%2 == 0 || i+2 != len(groups)) {
				t.Errorf("star of %d: groups %v and %v differ in size", n, a, b)
			}
		}
	}
}

// lopsided is the longest sum of unit vectors to the bolts done, over all steps
// of an order: 0 when balanced, 1 when one bolt pulls alone.
func lopsided(order []Bolt) float64 {
	var x, y, most float64
	for _, b := range order {
		sin, cos := math.Sincos(2 * math.Pi * float64(b) / float64(len(order)))
		x, y = x+cos, y+sin
		most = max(most, math.Hypot(x, y))
	}
	return most
}

// starBound is what the comment at star promises, for a kind of count.
func starBound(n int) (kind string, bound float64) {
	switch {
	case n == 44:
		return "44", 5.18
	case n == 52:
		return "52", 4.67
	case n == 60:
		return "60", 5.75
	case n >= 36:
		return "36 and more", 4.12
	case n%2 == 1:
		return "odd, to 35", 1.38
	}
	return "even, to 34", 1 + 1e-9
}

func TestStarIsNeverLopsided(t *testing.T) {
	worst, bounds := map[string]float64{}, map[string]float64{}
	everyRing(func(n int) {
		kind, bound := starBound(n)
		got := lopsided(star(n))
		if got > bound {
			t.Errorf("star of %d: the bolts done pull to one side by %.4f, at most %.2f promised", n, got, bound)
		}
		bounds[kind], worst[kind] = bound, max(worst[kind], got)
	})
	for kind, bound := range bounds {
		if worst[kind] < bound-0.02 {
			t.Errorf("%s: %.2f is promised and %.4f kept: promise less", kind, bound, worst[kind])
		}
	}
}

func TestQuadrantIsNeverLopsided(t *testing.T) {
	everyRing(func(n int) {
		bound := 1 + 1e-9
		if n%2 == 1 {
			bound = 1.41
		}
		if got := lopsided(quadrant(n)); got > bound {
			t.Errorf("quadrant of %d: %.4f, at most %.2f promised", n, got, bound)
		}
	})
}

// TestCircleIsLopsided shows that the bounds above can fail. Of three bolts
// every order is as good as any other.
func TestCircleIsLopsided(t *testing.T) {
	for n := 4; n <= MostBolts; n++ {
		order, err := Order(Circle, n, nil)
		if err != nil {
			t.Fatal(err)
		}
		if _, bound := starBound(n); lopsided(order) <= bound {
			t.Errorf("circle of %d: %.4f keeps within the star's %.2f", n, lopsided(order), bound)
		}
	}
}
