package skyline

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// drawn is a symmetric matrix of any shape, which resists where it is steep.
func drawn(t *rapid.T, n int, steep bool) (Shape, []float64, *mat.SymDense) {
	first := make([]int, n)
	for i := range first {
		first[i] = rapid.IntRange(0, i).Draw(t, "first")
		if i > 0 && rapid.Bool().Draw(t, "together") {
			first[i] = first[i-1]
		}
	}
	s := New(first)
	a, whole := make([]float64, s.Places()), mat.NewSymDense(n, nil)
	for i, f := range first {
		for j := f; j <= i; j++ {
			v := float64(rapid.IntRange(-32, 32).Draw(t, "number")) / 32
			if i == j && steep {
				v += float64(n) + 1
			}
			a[s.At(i, j)] = v
			whole.SetSym(i, j, v)
		}
	}
	return s, a, whole
}

// Against the dense solver of another library.
func TestAgainstDense(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "rows")
		s, a, whole := drawn(t, n, true)
		var dense mat.Cholesky
		if !dense.Factorize(whole) || !s.Factor(a) {
			t.Fatal("it resists, and is said not to")
		}
		x := make([]float64, n)
		at := rapid.IntRange(0, n-1).Draw(t, "place")
		x[at] = 1
		var want mat.VecDense
		if err := dense.SolveVecTo(&want, mat.NewVecDense(n, append([]float64(nil), x...))); err != nil {
			t.Fatal(err)
		}
		s.Forward(a, at, x[at:])
		if rest := mat.Dot(mat.NewVecDense(n, x), mat.NewVecDense(n, x)); !(rest > 0) {
			t.Fatalf("the work is %v", rest)
		}
		s.Back(a, x)
		for i, v := range x {
			if math.Abs(v-want.AtVec(i)) > 1e-12 {
				t.Fatalf("x%d is %v, want %v", i, v, want.AtVec(i))
			}
		}
	})
}

// What does not resist is refused, by its lowest eigenvalue.
func TestNotDefinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, a, whole := drawn(t, rapid.IntRange(1, 6).Draw(t, "rows"), false)
		var eigen mat.EigenSym
		if !eigen.Factorize(whole, false) {
			t.Skip("its eigenvalues are not found")
		}
		least := slices.Min(eigen.Values(nil))
		if math.Abs(least) < 1e-9 {
			t.Skip("rounding decides")
		}
		if got := s.Factor(a); got != (least > 0) {
			t.Fatalf("definite: %v, with an eigenvalue of %v", got, least)
		}
	})
	for _, odd := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if Full(1).Factor([]float64{odd}) {
			t.Errorf("%v is taken for a number that resists", odd)
		}
	}
}
