package sequence

import (
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenload/joint/unit"
)

// mm makes readings of bolts and gaps in millimetres, in pairs.
func mm(pairs ...float64) []Gap {
	var all []Gap
	for i := 0; i < len(pairs); i += 2 {
		all = append(all, Gap{Bolt(pairs[i]), unit.Length(pairs[i+1] * unit.Millimetre)})
	}
	return all
}

// TestWideSide: worked by hand from the rule in the comment at wide.
func TestWideSide(t *testing.T) {
	ring, _ := New(testPlan(t, 12, 2, 2, 0))
	p, _ := coverPlan(t, rectangle10, nil)
	cover, _ := New(&p)
	swapped := slices.Clone(rectangle10) // 2 and 7 change places
	swapped[1], swapped[6] = swapped[6], swapped[1]
	p2, _ := coverPlan(t, swapped, nil)
	odd, _ := New(&p2)
	for _, c := range []struct {
		w        Walk
		readings []Gap
		want     string
	}{
		{ring, mm(1, 2, 4, 2.8, 7, 3, 10, 2.1), "Wide at bolts 4, 5, 6, 7."},
		{ring, mm(1, 3, 4, 2, 7, 2.1, 10, 2.9), "Wide at bolts 10, 11, 12, 1."},
		{ring, mm(1, 3, 4, 2, 7, 2.1, 10, 2.2), "Wide at bolts 12, 1, 2."},                      // alone: with its neighbours
		{ring, mm(1, 2.9, 4, 2, 7, 3, 10, 2), "Wide at bolts 6, 7, 8 and bolts 12, 1, 2."},      // bent: two sides
		{ring, mm(7, 3.4, 6, 2), "Wide at bolts 7, 8."},                                         // a measured neighbour is not taken along
		{ring, mm(2, 3.4, 1, 2, 3, 2.5), "Wide at bolt 2."},                                     //
		{ring, mm(1, 2.02, 4, 2, 7, 2, 10, 2), ""},                                              // less than a leaf
		{ring, mm(1, 2, 4, 2), ""},                                                              // even
		{cover, mm(1, 2, 2, 2.2, 4, 3, 5, 3.4, 6, 3.1, 7, 2.6, 9, 2), "Wide at bolts 4, 5, 6."}, // half way is 2.7
		{odd, mm(1, 3.4, 6, 2), "Wide at bolts 10, 1, 7."},                                      // by where they lie, not by number
	} {
		r := c.w.JudgeGaps(GapCheck{Limit: 1}, c.readings)
		if got := c.w.wideWords(r); got != c.want {
			t.Errorf("%v: %q, want %q", c.readings, got, c.want)
		}
	}
}

// TestWideSideAnywhere: the widest is in the first side, the narrowest in none,
// no bolt is in two, and of the measured ones those in the wider half.
func TestWideSideAnywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(FewestBolts, 40).Draw(t, "bolts")
		w, _ := New(testPlan(t, n, 1, 1, 0))
		k := rapid.IntRange(2, n).Draw(t, "places")
		var readings []Gap
		for _, b := range rapid.SliceOfNDistinct(rapid.IntRange(1, n), k, k, rapid.ID[int]).Draw(t, "at") {
			readings = append(readings, Gap{Bolt(b), unit.Length(rapid.IntRange(10, 60).Draw(t, "gap")) / 1e4})
		}
		r := w.JudgeGaps(GapCheck{Limit: 1}, readings)
		all := slices.Concat(r.Wide...)
		if r.Spread == 0 {
			if all != nil {
				t.Fatalf("%v of even gaps", all)
			}
			return
		}
		if !slices.Contains(r.Wide[0], r.Widest.Bolt) || slices.Contains(all, r.Narrowest.Bolt) {
			t.Fatalf("%+v", r)
		}
		for _, g := range readings {
			if slices.Contains(all, g.Bolt) != (g.Gap > r.Narrowest.Gap+r.Spread/2) {
				t.Fatalf("bolt %d in %v, %+v", g.Bolt, all, r)
			}
		}
		for i, b := range all {
			if slices.Contains(all[:i], b) && len(r.Wide) == 1 {
				t.Fatalf("%v twice", b)
			}
		}
	})
}

// TestGapsThatWereBefore: what is accepted is what the next measurement is held
// against, reading by reading, and so it is when the card is read again.
func TestGapsThatWereBefore(t *testing.T) {
	plan := testPlan(t, 4, 2, 2, time.Hour)
	w, at := stage(t, plan, is[GapCheck])
	if g := w.Next(at).(GapCheck); g.Was != nil || g.trendWords(GapResult{}, unit.SI) != "" || g.BeforeWords(unit.SI) != "" {
		t.Errorf("before the first measurement: %+v", g)
	}
	first := mm(1, 2.4, 3, 2)
	w, at = stage(t, plan, func(s Step) bool { g, ok := s.(GapCheck); return ok && !g.All })
	w.spread, w.measured = 0.0004, first
	for _, c := range []struct {
		readings []Gap
		want     string
	}{
		{mm(1, 2.2, 3, 2), "Closing: the spread was 0.4 mm. Beside bolt 1 it was 2.4 mm."},
		{mm(2, 2.42, 3, 2), "As before: the spread was 0.4 mm."},
		{mm(1, 2.45, 3, 2), "Growing: the spread was 0.4 mm. Beside bolt 1 it was 2.4 mm."},
	} {
		g := w.Next(at).(GapCheck)
		if got := g.trendWords(w.JudgeGaps(g, c.readings), unit.SI); got != c.want {
			t.Errorf("%v: %q", c.readings, got)
		}
	}
	grown := mm(1, 2.6, 3, 2)
	w, err := w.Apply(Event{At: at, By: "A", Data: GapsMeasured{grown}})
	if err != nil {
		t.Fatal(err)
	}
	g := w.Next(at).(GapCheck)
	if text := strings.Join(w.GapWords(g, unit.SI), " "); !strings.Contains(text, "stay at this torque, work the wide side (bolts 4, 1, 2)") || !slices.Equal(g.Over.Readings, grown) || !slices.Equal(g.Was, first) {
		t.Errorf("%q, %+v", text, g)
	}
	w, err = w.Apply(Event{At: at, By: "A", Data: GapsAccepted{Named{Name: "E", Role: "engineer", Reason: "looked at"}}})
	if err != nil || !slices.Equal(w.measured, grown) {
		t.Errorf("accepted are %v: %v", w.measured, err)
	}
}
