package interaction

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"

	"evenload/joint/unit"
)

// State is the loads of all bolts, and how far every nut is turned on from snug.
type State struct {
	bolts *Bolts
	load  []float64 // N
	delta []float64 // m
	taut  []bool
}

// Snug is the joint before the first pass: all nuts on, no load.
func (b *Bolts) Snug() *State {
	return &State{bolts: b, load: make([]float64, b.n), delta: make([]float64, b.n), taut: make([]bool, b.n)}
}

// Loads are those of all bolts, bolt 1 first.
func (s *State) Loads() []unit.Force {
	all := make([]unit.Force, len(s.load))
	for i, f := range s.load {
		all[i] = unit.Force(f)
	}
	return all
}

// Closures are how far the flanges have closed at each bolt.
func (s *State) Closures() []unit.Length {
	all := make([]unit.Length, len(s.load))
	for i := range all {
		all[i] = unit.Length(s.closed(i))
	}
	return all
}

func (s *State) closed(i int) float64 {
	u := 0.0
	for j, f := range s.load {
		u += s.bolts.at(i, j) * f
	}
	return u
}

// Tighten turns nuts (0 the first) together until each of their bolts carries at
// least the load: a nut whose bolt carries as much already is not turned, as with
// a torque wrench. It gives by how much each of them was topped up.
func (s *State) Tighten(load unit.Force, nuts ...int) ([]unit.Force, error) {
	before := make([]float64, len(nuts))
	turned := make([]bool, s.bolts.n)
	for i, b := range nuts {
		if b < 0 || b >= s.bolts.n {
			return nil, fmt.Errorf("there is no bolt %d, the joint has 1 to %d", b+1, s.bolts.n)
		}
		before[i] = s.load[b]
	}
	if len(nuts) == 1 && s.step(float64(load), nuts[0]) {
		return []unit.Force{load - unit.Force(before[0])}, nil
	}
	for more := true; more; {
		more = false
		for _, b := range nuts { // one that was full may lose load while the others are turned
			if !turned[b] && s.load[b] < float64(load)*(1-1e-12) {
				turned[b], more = true, true
			}
		}
		if !more {
			break
		}
		if err := s.solve(float64(load), turned); err != nil {
			return nil, err
		}
	}
	gained := make([]unit.Force, len(nuts))
	for i, b := range nuts {
		if turned[b] {
			gained[i] = load - unit.Force(before[i])
		}
	}
	return gained, nil
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

// solve finds the loads when the turned nuts stand at a load and all others
// where they were: F = max(0, (delta - u)/give), which has one solution.
func (s *State) solve(load float64, turned []bool) error {
	n := s.bolts.n
	want := make([]float64, n) // delta less what the turned bolts close
	for i := range n {
		want[i] = s.delta[i]
		for b, is := range turned {
			if is {
				want[i] -= s.bolts.at(i, b) * load
			}
		}
	}
	var pull []int
	f := make([]float64, n)
	// The worst bolt first; should that go round, the lowest number, which cannot.
	for step := 0; step < 60*n+100; step++ {
		pull = pull[:0]
		for i, taut := range s.taut {
			if taut && !turned[i] {
				pull = append(pull, i)
			}
		}
		if err := s.equilibrium(pull, want, f); err != nil {
			return err
		}
		worst, by := -1, 0.0
		for i := range n {
			var off float64
			switch {
			case turned[i]:
				continue
			case s.taut[i]:
				off = -f[i] * s.bolts.give
			default:
				off = want[i]
				for _, j := range pull {
					off -= s.bolts.at(i, j) * f[j]
				}
			}
			if off > by+1e-15 && (worst < 0 || step < 3*n) {
				worst, by = i, off
			}
		}
		if worst >= 0 {
			s.taut[worst] = !s.taut[worst]
			continue
		}
		for i := range n {
			s.load[i] = 0
		}
		for _, i := range pull {
			s.load[i] = max(0, f[i])
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

// equilibrium solves (C + give) F = want for the bolts that pull.
func (s *State) equilibrium(pull []int, want, f []float64) error {
	n := len(pull)
	for i := range f {
		f[i] = 0
	}
	if n == 0 {
		return nil
	}
	a, b := make([]float64, n*n), make([]float64, n)
	for r, i := range pull {
		for c := r; c < n; c++ {
			a[r*n+c] = s.bolts.at(i, pull[c])
		}
		a[r*n+r] += s.bolts.give
		b[r] = want[i]
	}
	factor, ok := lapack64.Potrf(blas64.Symmetric{N: n, Stride: n, Data: a, Uplo: blas.Upper})
	if !ok {
		return fmt.Errorf("the closure row is that of no joint: it would give way by itself")
	}
	lapack64.Potrs(factor, blas64.General{Rows: n, Cols: 1, Stride: 1, Data: b})
	for r, i := range pull {
		f[i] = b[r]
	}
	return nil
}

// Spread gives the least, the mean and the most load.
func (s *State) Spread() (least, mean, most unit.Force) {
	least = unit.Force(math.Inf(1))
	for _, f := range s.Loads() {
		least, most, mean = min(least, f), max(most, f), mean+f/unit.Force(len(s.load))
	}
	return least, mean, most
}
