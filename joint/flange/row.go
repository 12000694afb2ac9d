package flange

import (
	"fmt"
	"math"
	"slices"
	"sync/atomic"

	"evenload/joint/cores"
	"evenload/joint/skyline"
	"evenload/joint/unit"
)

// harmonicsABolt is up to which harmonic the row is summed, for each bolt.
const harmonicsABolt = 8

// sampledADecade is how many harmonics are solved from one to ten times as high.
// What lies between is taken from these: what a flange gives falls smoothly,
// about as 1/m, while the load of the nut, which does not, is known for each.
const sampledADecade = 10

// localTerm is the closure right under a nut that the section does not have,
// for each flange: 0.3/(E d). Fitted to solid finite elements.
const localTerm = 0.3

// Row is how much the pair closes at the place of bolt k for each newton that
// bolt 0 pulls, k from 0 to n-1, with a gasket of stiffness kappa per area over
// its whole thickness. It is symmetric, and with every bolt the same. The error
// is a section that cannot be solved.
func (m *Model) Row(kappa unit.Stiffness) ([]unit.Compliance, error) {
	rows, err := m.Rows(kappa)
	if err != nil {
		return nil, err
	}
	return rows[0], nil
}

// Rows are those of Row for several gasket stiffnesses, in hardly more time than one.
func (m *Model) Rows(kappas ...unit.Stiffness) ([][]unit.Compliance, error) {
	return m.rows(kappas, samples(harmonicsABolt*m.section.Bolts))
}

// samples are the harmonics to solve up to a last one: all at first, then
// further and further apart, equally in their logarithm.
func samples(last int) []int {
	steps := math.Ceil(sampledADecade * math.Log10(float64(last)))
	at := []int{0}
	for i := range int(steps) + 1 {
		at = append(at, int(math.Round(math.Pow(float64(last), float64(i)/steps))))
	}
	return slices.Compact(at)
}

// rows solves the harmonics at, which begin with 0, 1 and end with the last.
func (m *Model) rows(kappas []unit.Stiffness, at []int) ([][]unit.Compliance, error) {
	for _, kappa := range kappas {
		if !(kappa > 0) || math.IsInf(float64(kappa), 0) {
			return nil, fmt.Errorf("a gasket stiffness of %v N/m³ is none: it is above zero", float64(kappa))
		}
	}
	solved := make([][][]float64, len(at)) // by harmonic, then by gasket
	var failed atomic.Bool
	cores.Each(len(at), func() func(int) {
		room := make([]float64, m.shape.Places()) // one matrix a core, not one a harmonic
		return func(i int) {
			gives, ok := m.gives(room, at[i], kappas)
			solved[i] = gives
			if !ok {
				failed.Store(true)
			}
		}
	})
	var closures [][]float64
	ok := !failed.Load()
	if ok {
		closures, ok = m.closures(at, solved, len(kappas))
	}
	if !ok {
		return nil, fmt.Errorf("the flange cannot be solved: look at its sizes and at the gasket stiffness")
	}
	rows := make([][]unit.Compliance, len(kappas))
	for i := range rows {
		rows[i] = m.sum(closures[i])
	}
	return rows, nil
}

// sum is the row of closures by harmonic.
func (m *Model) sum(closures []float64) []unit.Compliance {
	n := m.section.Bolts
	cosines := make([]float64, n)
	for i := range cosines {
		cosines[i] = math.Cos(2 * math.Pi * float64(i) / float64(n))
	}
	row := make([]unit.Compliance, n)
	for k := range row {
		sum := 0.0
		for h, c := range closures {
			sum += c * cosines[h*k%n]
		}
		row[k] = unit.Compliance(sum)
	}
	row[0] += unit.Compliance(2 * localTerm / (modulus * float64(m.section.NutBearing)))
	return row
}

// gives is what one flange gives in harmonic h where the nut presses, for a push
// at each of its unknowns: the lower half of a matrix for each gasket. room is
// for the matrix of the section.
func (m *Model) gives(room []float64, h int, kappas []unit.Stiffness) ([][]float64, bool) {
	softest := slices.Min(kappas)
	m.stiffness(room, h, float64(softest))
	if !m.shape.Factor(room) {
		return nil, false
	}
	// K = L L': with y = L⁻¹ of a push, K⁻¹ between two of them is y y. Above its
	// push y is zero, and left out.
	pushed := func(at []int) [][]float64 {
		all := make([][]float64, len(at))
		for i, at := range at {
			all[i] = make([]float64, m.size()-at)
			all[i][0] = 1
			m.shape.Forward(room, at, all[i])
		}
		return all
	}
	both := func(a, b []float64) float64 {
		n := min(len(a), len(b))
		return skyline.Dot(a[len(a)-n:], b[len(b)-n:])
	}
	between := func(a [][]float64) (half []float64) {
		for i := range a {
			for j := range i + 1 {
				half = append(half, both(a[i], a[j]))
			}
		}
		return half
	}
	nut := pushed(m.nut.at)
	own := between(nut)
	var give []float64
	var moves [][]float64 // of the seat, for a push under the nut
	all := make([][]float64, len(kappas))
	for i, kappa := range kappas {
		all[i] = slices.Clone(own)
		if kappa == softest {
			continue
		}
		if give == nil {
			seat := pushed(m.seat.at)
			give = between(seat)
			for _, y := range nut {
				var at []float64
				for _, s := range seat {
					at = append(at, both(s, y))
				}
				moves = append(moves, at)
			}
		}
		if !m.seat.stiffen(all[i], give, moves, float64(kappa-softest)*around(h)) {
			return nil, false
		}
	}
	return all, true
}
