package flange

import "evenload/joint/skyline"

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
	where := map[int]int{} // by node
	for _, e := range m.mesh.seat {
		for _, node := range e {
			if _, is := where[node]; !is {
				where[node] = len(s.at)
				s.at = append(s.at, 3*m.number[node]+1)
			}
		}
	}
	s.shape = skyline.Full(len(s.at))
	s.spring, s.gives = make([]float64, s.shape.Places()), make([]float64, s.shape.Places())
	for _, e := range m.mesh.seat {
		a, b := m.mesh.nodes[e[0]].r, m.mesh.nodes[e[1]].r
		for _, g := range gauss3 {
			n, r := onEdge(g[0], a, b)
			for i := range e {
				for j := range e {
					if row, column := where[e[i]], where[e[j]]; column <= row {
						s.spring[s.shape.At(row, column)] += 2 * g[1] * (b - a) / 2 * r * n[i] * n[j]
					}
				}
			}
		}
	}
	l := append([]float64(nil), s.spring...)
	s.shape.Factor(l) // three points on each edge: every spring resists
	for i := range s.at {
		x := make([]float64, len(s.at))
		x[i] = 1
		s.shape.Forward(l, x)
		s.shape.Back(l, x)
		for j := range i + 1 {
			s.gives[s.shape.At(i, j)] = x[j]
		}
	}
	return s
}

// saved tells how much less a section gives on a gasket that is stiffer than
// the one it was solved with. A gasket bears on few nodes, so that the matrix need
// not be taken apart again (Sherman, Morrison and Woodbury): with G the
// gasket of 1 N/m³ at its nodes, A = their part of K⁻¹ and b that of K⁻¹q,
// q K⁻¹ q - q(K + x E G E')⁻¹q = b'(A + (x G)⁻¹)⁻¹ b.
type saved struct {
	seat
	h     int
	give  []float64 // A
	moves []float64 // b
}

// stiffer takes the matrix K = L L' of a harmonic, and y = L⁻¹q.
func (m *Model) stiffer(l []float64, h int, y []float64) saved {
	s := saved{m.seat, h, make([]float64, m.seat.shape.Places()), make([]float64, len(m.seat.at))}
	pushes := make([][]float64, len(s.at)) // L⁻¹ of a push at each node
	for i, at := range s.at {
		pushes[i] = make([]float64, m.size())
		pushes[i][at] = 1
		m.shape.Forward(l, pushes[i])
		s.moves[i] = dot(pushes[i], y)
		for j := range i + 1 {
			s.give[s.shape.At(i, j)] = dot(pushes[i], pushes[j])
		}
	}
	return s
}

// by is the work that a gasket stiffer by so many N/m³ spares.
func (s saved) by(more float64) (float64, bool) {
	sum := make([]float64, len(s.give))
	for i := range sum {
		sum[i] = s.give[i] + s.gives[i]/(more*around(s.h))
	}
	if !s.shape.Factor(sum) {
		return 0, false
	}
	held := append([]float64(nil), s.moves...)
	s.shape.Forward(sum, held)
	return dot(held, held), true
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}
