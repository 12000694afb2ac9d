package interaction

import (
	"slices"

	"evenload/joint/unit"
)

// Clone is a state of its own, to try a step on.
func (s *State) Clone() *State {
	c := *s
	c.load, c.delta, c.taut = slices.Clone(s.load), slices.Clone(s.delta), slices.Clone(s.taut)
	c.room, c.found, c.stands = slices.Clone(s.room), slices.Clone(s.found), slices.Clone(s.stands)
	return &c
}

// Closed is how far the flanges have closed at every bolt since snug, bolt 1 first.
func (s *State) Closed() []unit.Length {
	all := make([]unit.Length, len(s.load))
	for i := range all {
		all[i] = unit.Length(s.closed(i))
	}
	return all
}

// Settle lets one bolt (0 the first) lose a share of its load by itself, as when its
// nut beds in: its neighbours take up a little of it. False where another bolt is
// slack or would be: then nothing was changed.
func (s *State) Settle(loss unit.Share, b int) bool {
	if b < 0 || b >= s.bolts.n || !(loss > 0 && loss < 1) || slices.Contains(s.taut, false) {
		return false
	}
	n, gone := s.bolts.n, s.load[b]*float64(loss)
	for j := range s.load {
		if j != b {
			s.load[j] += s.bolts.alpha[(j-b+n)%n] * gone
		}
	}
	s.load[b] -= gone
	s.delta[b] = s.load[b]*s.bolts.give + s.closed(b)
	return true
}

// Creep lets every bolt lose a share of its load, as when the gasket gives way:
// then each nut stands as if it were turned on by that share less.
func (s *State) Creep(loss unit.Share) {
	if !(loss > 0 && loss < 1) {
		return
	}
	for i := range s.load {
		s.load[i] *= 1 - float64(loss)
		s.delta[i] *= 1 - float64(loss)
	}
}
