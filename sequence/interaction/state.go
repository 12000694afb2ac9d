package interaction

import (
	"fmt"
	"math"
	"slices"

	"evenload/joint/skyline"
	"evenload/joint/unit"
)

// State is the loads of all bolts, and how far every nut is turned on from snug.
type State struct {
	bolts *Bolts
	load  []float64 // N
	delta []float64 // m
	taut  []bool

	room, found, stands []float64 // for solving: loads found, and where nuts stand
}

// Snug is the joint before the first pass: all nuts on, no load.
func (b *Bolts) Snug() *State {
	return &State{bolts: b, load: make([]float64, b.n), delta: make([]float64, b.n), taut: make([]bool, b.n),
		room: make([]float64, b.n+b.n*(b.n+1)/2), found: make([]float64, b.n), stands: make([]float64, b.n)}
}

// Loads are those of all bolts, bolt 1 first.
func (s *State) Loads() []unit.Force {
	all := make([]unit.Force, len(s.load))
	for i, f := range s.load {
		all[i] = unit.Force(f)
	}
	return all
}

// closed is how far the flanges have closed at a bolt.
func (s *State) closed(i int) float64 {
	return skyline.Dot(s.bolts.from(i), s.load)
}

// Tighten turns nuts (0 the first) together until each of their bolts carries at
// least the load. A nut whose bolt carries as much is not turned, and none is ever
// turned back, as with torque wrenches. It gives by how much each was topped up.
func (s *State) Tighten(load unit.Force, nuts ...int) ([]unit.Force, error) {
	before := make([]float64, len(nuts))
	for i, b := range nuts {
		if b < 0 || b >= s.bolts.n {
			return nil, fmt.Errorf("there is no bolt %d, the joint has 1 to %d", b+1, s.bolts.n)
		}
		before[i] = s.load[b]
	}
	gained := make([]unit.Force, len(nuts))
	if len(nuts) == 1 && s.step(float64(load), nuts[0]) {
		gained[0] = load - unit.Force(before[0])
		return gained, nil
	}
	turned, err := s.together(float64(load), nuts)
	if err != nil {
		return nil, err
	}
	for i, b := range nuts {
		if turned[b] {
			gained[i] = load - unit.Force(before[i])
		}
	}
	return gained, nil
}

// together finds which of the nuts are turned: those that end at the load having
// gone on, while those that do not move end above it. There is one such set; the
// first nut that is in the wrong one changes, until none is (Murty's rule).
func (s *State) together(load float64, nuts []int) ([]bool, error) {
	turned := make([]bool, s.bolts.n)
	was := slices.Clone(s.delta)
	for range 1 << (len(nuts) + 2) {
		wrong := slices.IndexFunc(nuts, func(b int) bool {
			if turned[b] {
				return s.delta[b] < was[b]-1e-15 // a nut is never turned back
			}
			return s.load[b] < load*(1-1e-12)
		})
		if wrong < 0 {
			return turned, nil
		}
		turned[nuts[wrong]] = !turned[nuts[wrong]]
		copy(s.delta, was)
		if err := s.solve(load, turned); err != nil {
			return nil, err
		}
	}
	return nil, fmt.Errorf("which of %d nuts turn together does not settle: the closure row is that of no joint", len(nuts))
}

// step tightens one bolt by the coefficients, which hold while all bolts pull;
// false where they do not: then nothing was changed.
func (s *State) step(load float64, b int) bool {
	gain := load - s.load[b]
	if gain <= load*1e-12 {
		return false
	}
	n := s.bolts.n
	for j, f := range s.load {
		if j != b && (!s.taut[j] || f-s.bolts.alpha[(j-b+n)%n]*gain < 0) {
			return false
		}
	}
	for j := range s.load {
		s.load[j] -= s.bolts.alpha[(j-b+n)%n] * gain
	}
	s.load[b], s.taut[b] = load, true
	s.delta[b] = load*s.bolts.give + s.closed(b)
	return true
}

// allAtOnce is in how many rounds every bolt that is wrongly taut or slack changes.
const allAtOnce = 8

// solve finds the loads when the turned nuts stand at a load and all others
// where they were: F = max(0, (delta - u)/give), which has one solution.
func (s *State) solve(load float64, turned []bool) error {
	n := s.bolts.n
	pull, rest, wrong := make([]int, 0, n), make([]int, 0, n), make([]int, 0, n)
	// All wrong bolts change at first, which is nearly always enough; then the worst
	// alone; should that go round too, the one with the lowest number, which cannot.
	for step := 0; step < 60*n+100; step++ {
		pull, rest = pull[:0], rest[:0]
		for i, taut := range s.taut {
			if taut && !turned[i] {
				pull = append(pull, i)
			} else {
				rest = append(rest, i)
			}
		}
		if err := s.equilibrium(load, turned, pull, rest); err != nil {
			return err
		}
		worst, by := -1, 0.0
		wrong = wrong[:0]
		for i := range n {
			off := s.delta[i] - s.stands[i] // of a slack bolt: how far its nut presses
			if s.taut[i] {
				off = -s.found[i] * s.bolts.give
			}
			if turned[i] || off <= 1e-15 {
				continue
			}
			if step < allAtOnce {
				wrong = append(wrong, i)
			}
			if worst < 0 || off > by && step < 3*n {
				worst, by = i, off
			}
		}
		for _, i := range wrong {
			s.taut[i] = !s.taut[i]
		}
		if worst >= 0 && len(wrong) == 0 {
			s.taut[worst] = !s.taut[worst]
		}
		if worst >= 0 {
			continue
		}
		for i, f := range s.found {
			s.load[i] = max(0, f)
		}
		for b, is := range turned {
			if is {
				s.load[b], s.taut[b] = load, true
			}
		}
		for b, is := range turned {
			if is {
				s.delta[b] = load*s.bolts.give + s.closed(b)
			}
		}
		return nil
	}
	return fmt.Errorf("the loads of %d bolts do not settle: the closure row is that of no joint", n)
}

// equilibrium finds the loads while the nuts of some bolts stand where they are and
// the rest carries what it does, the load where it is turned and else nothing;
// and for the rest where a nut would stand for that. The smaller of both sets
// is solved for: loads by C, or places of nuts by the inverse.
func (s *State) equilibrium(load float64, turned []bool, pull, rest []int) error {
	b := s.bolts
	clear(s.found)
	for _, i := range rest {
		if turned[i] {
			s.found[i] = load
		}
	}
	if len(pull) <= len(rest) {
		x := s.room[:len(pull)]
		for r, i := range pull {
			x[r] = s.delta[i] - skyline.Dot(b.from(i), s.found)
		}
		if err := s.invert(b.from, b.give, pull, x); err != nil {
			return err
		}
		for r, i := range pull {
			s.found[i] = x[r]
		}
		for _, i := range rest {
			s.stands[i] = skyline.Dot(b.from(i), s.found) + b.give*s.found[i]
		}
		return nil
	}
	copy(s.stands, s.delta)
	for _, i := range rest {
		s.stands[i] = 0
	}
	x := s.room[:len(rest)]
	for r, i := range rest {
		x[r] = s.found[i] - skyline.Dot(b.pulled(i), s.stands)
	}
	if err := s.invert(b.pulled, 0, rest, x); err != nil {
		return err
	}
	for r, i := range rest {
		s.stands[i] = x[r]
	}
	for _, i := range pull {
		s.found[i] = skyline.Dot(b.pulled(i), s.stands)
	}
	return nil
}

// invert solves the part of a symmetric matrix at some bolts, with more on its
// diagonal, for x, which it replaces.
func (s *State) invert(row func(int) []float64, more float64, at []int, x []float64) error {
	n := len(at)
	if n == 0 {
		return nil
	}
	whole := skyline.Full(n)
	a := s.room[s.bolts.n:][:whole.Places()]
	for r, i := range at {
		from := row(i)
		for c := range r + 1 {
			a[whole.At(r, c)] = from[at[c]]
		}
		a[whole.At(r, r)] += more
	}
	if !whole.Factor(a) {
		return fmt.Errorf("the closure row is that of no joint: it would give way by itself")
	}
	whole.Forward(a, 0, x) // A = L L'
	whole.Back(a, x)
	return nil
}

// Spread is how the loads lie.
func (s *State) Spread() Spread {
	all := Spread{Least: unit.Force(math.Inf(1))}
	for _, f := range s.Loads() {
		all.Least, all.Most, all.Mean = min(all.Least, f), max(all.Most, f), all.Mean+f/unit.Force(len(s.load))
	}
	return all
}
