package interaction

import (
	"math"
	"testing"

	"evenload/joint/unit"
)

// holds checks that loads and nuts still fit: F = (delta - u)/give where it pulls.
func holds(t *testing.T, s *State) {
	t.Helper()
	for i, f := range s.load {
		if want := (s.delta[i] - s.closed(i)) / s.bolts.give; s.taut[i] && math.Abs(f-want) > 1e-6*math.Abs(want) {
			t.Fatalf("bolt %d carries %g, its nut stands for %g", i+1, f, want)
		}
	}
}

// TestSettleIsTightenBackwards: what a bolt loses is what tightening it again to the
// load before brings back, for all bolts.
func TestSettleIsTightenBackwards(t *testing.T) {
	s := joined(t, 8, 200).Snug()
	spreads(t, s, order(t, "star", 8), 0.3, 0.6, 1)
	was := s.Loads()
	try := s.Clone()
	if !try.Settle(0.2, 3) {
		t.Fatal("a taut joint does not settle")
	}
	holds(t, try)
	if got := float64(try.Loads()[3] / was[3]); math.Abs(got-0.8) > 1e-12 || try.Loads()[2] <= was[2] {
		t.Errorf("bolt 4 kept %v, bolt 3 has %v, had %v", got, try.Loads()[2], was[2])
	}
	if _, err := try.Tighten(was[3], 3); err != nil {
		t.Fatal(err)
	}
	for i, f := range try.Loads() {
		if math.Abs(float64(f-was[i])) > 1e-6*float64(was[i]) || s.Loads()[i] != was[i] {
			t.Errorf("bolt %d: %v, was %v; the state tried from has %v", i+1, f, was[i], s.Loads()[i])
		}
	}
	for _, wrong := range []struct {
		loss unit.Share
		bolt int
	}{{0, 1}, {1, 1}, {0.2, -1}, {0.2, 8}} {
		if s.Settle(wrong.loss, wrong.bolt) {
			t.Errorf("settles: %+v", wrong)
		}
	}
	if joined(t, 8, 200).Snug().Settle(0.2, 0) {
		t.Error("a slack joint settles")
	}
}

func TestCreepTakesFromAll(t *testing.T) {
	s := joined(t, 8, 200).Snug()
	spreads(t, s, order(t, "star", 8), 0.3, 0.6, 1)
	was, closed := s.Loads(), s.Closed()
	s.Creep(0.1)
	holds(t, s)
	for i, f := range s.Loads() {
		if math.Abs(float64(f/was[i])-0.9) > 1e-12 || math.Abs(float64(s.Closed()[i]/closed[i])-0.9) > 1e-9 {
			t.Errorf("bolt %d: %v of %v, closed %v of %v", i+1, f, was[i], s.Closed()[i], closed[i])
		}
	}
}
