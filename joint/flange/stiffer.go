package flange

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"
)

// stiffer tells how much less a section gives on a gasket that is stiffer than
// the one it was solved with. A gasket bears on few nodes, s of them, so that
// the matrix need not be taken apart again (Sherman, Morrison and Woodbury): with
// G the gasket of 1 N/m³ at its nodes, A = G's part of K⁻¹ and b that of K⁻¹q,
// q(K + x E G E')⁻¹q = q K⁻¹ q - b'(1 + x G A)⁻¹ x G b.
type stiffer struct {
	gasket, give *mat.Dense // G and A, s by s
	moves        *mat.VecDense
}

// stiffer takes the matrix K = U'U of a harmonic as upper, and y = U'⁻¹q.
func (m *Model) stiffer(upper blas64.TriangularBand, h int, y blas64.Vector) stiffer {
	at := m.seated()
	n := len(at)
	im := math.Pi
	if h == 0 {
		im = 2 * math.Pi
	}
	s := stiffer{mat.NewDense(n, n, nil), mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)}
	of := make([]blas64.Vector, n) // U'⁻¹ of a push at each node
	for i, node := range at {
		of[i] = blas64.Vector{N: m.size(), Inc: 1, Data: make([]float64, m.size())}
		of[i].Data[node] = 1
		blas64.Tbsv(blas.Trans, upper, of[i])
		s.moves.SetVec(i, blas64.Dot(of[i], y))
		for j := range i + 1 {
			give := blas64.Dot(of[i], of[j])
			s.give.Set(i, j, give)
			s.give.Set(j, i, give)
			low, high := min(node, at[j]), max(node, at[j])
			if high-low <= m.k {
				spring := im * m.seat[low*(m.k+1)+high-low]
				s.gasket.Set(i, j, spring)
				s.gasket.Set(j, i, spring)
			}
		}
	}
	return s
}

// seated are the unknowns that a gasket bears on, each once.
func (m *Model) seated() []int {
	var at []int
	seen := map[int]bool{}
	for _, e := range m.mesh.seat {
		for _, node := range e {
			if i := 3*m.number[node] + 1; !seen[i] {
				seen[i] = true
				at = append(at, i)
			}
		}
	}
	return at
}

// saves is the work that a gasket stiffer by so many N/m³ spares.
func (s stiffer) saves(by float64) (float64, bool) {
	n, _ := s.gasket.Dims()
	sum := mat.NewDense(n, n, nil)
	sum.Mul(s.gasket, s.give)
	sum.Scale(by, sum)
	for i := range n {
		sum.Set(i, i, sum.At(i, i)+1)
	}
	var pushes, held mat.VecDense
	pushes.MulVec(s.gasket, s.moves)
	pushes.ScaleVec(by, &pushes)
	if err := held.SolveVec(sum, &pushes); err != nil {
		if _, poor := err.(mat.Condition); !poor {
			return 0, false
		}
	}
	return mat.Dot(s.moves, &held), true
}
