package flange

import (
	"slices"

	"evenload/joint/skyline"
)

// seat is where a gasket bears on the flange: a bed of springs on the half of its
// thickness that belongs to this flange, so twice as stiff as the whole.
type seat struct {
	at     []int // the unknowns, each once
	shape  skyline.Shape
	spring []float64 // between them, of a gasket of 1 N/m³
	gives  []float64 // its inverse
}

func (m *Model) gasket() seat {
	var s seat
	at := unknowns{number: m.number, of: map[int]int{}}
	for _, e := range m.mesh.seat {
		for _, node := range e {
			at.axial(node)
		}
	}
	s.at, s.shape = at.list, skyline.Full(len(at.list))
	s.spring, s.gives = make([]float64, s.shape.Places()), make([]float64, s.shape.Places())
	for _, e := range m.mesh.seat {
		a, b := m.mesh.nodes[e[0]].r, m.mesh.nodes[e[1]].r
		for _, g := range gauss3 {
			n, r := onEdge(g[0], a, b)
			for i := range e {
				for j := range e {
					if row, column := at.axial(e[i]), at.axial(e[j]); column <= row {
						s.spring[s.shape.At(row, column)] += 2 * g[1] * (b - a) / 2 * r * n[i] * n[j]
					}
				}
			}
		}
	}
	l := slices.Clone(s.spring)
	s.shape.Factor(l) // three points on each edge: every spring resists
	for i := range s.at {
		x := make([]float64, len(s.at))
		x[i] = 1
		s.shape.Forward(l, 0, x)
		s.shape.Back(l, x)
		for j := range i + 1 {
			s.gives[s.shape.At(i, j)] = x[j]
		}
	}
	return s
}

// stiffen takes from what a section gives at some places what it gives less on
// a gasket that is stiffer by so many N/m³, times what is around the ring. A gasket
// bears on few nodes, so that the matrix need not be taken apart again
// (Sherman, Morrison and Woodbury): with x G the stiffening at these nodes, A their
// part of K⁻¹ and B what they move for a push at the places, it is
// B'(A + (x G)⁻¹)⁻¹ B. False: it cannot be found.
func (s seat) stiffen(gives, give []float64, moves [][]float64, by float64) bool {
	sum := make([]float64, len(give))
	for i := range sum {
		sum[i] = give[i] + s.gives[i]/by
	}
	if !s.shape.Factor(sum) {
		return false
	}
	held, at := make([][]float64, len(moves)), 0
	for i := range moves {
		held[i] = slices.Clone(moves[i])
		s.shape.Forward(sum, 0, held[i])
		for j := range i + 1 {
			gives[at] -= skyline.Dot(held[i], held[j])
			at++
		}
	}
	return true
}
