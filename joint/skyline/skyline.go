// Package skyline takes symmetric positive definite matrices apart, A = L L', and
// keeps of each row only what lies between its first place that is not zero and
// the diagonal. Beside a band as wide as the widest row, finite elements of a
// flange need an eighth of the work.
package skyline

import "math"

// Shape says which places are kept. Its matrices are slices of Places numbers.
type Shape struct {
	first []int // of each row the first column that is kept
	start []int // where column 0 of the row would stand
	size  int
}

// New is the shape of rows with their first columns, each at most the row's own.
func New(first []int) Shape {
	s := Shape{first: first, start: make([]int, len(first))}
	for i, f := range first {
		s.start[i] = s.size - f
		s.size += i - f + 1
	}
	return s
}

// Full is the shape of n rows that lack nothing.
func Full(n int) Shape { return New(make([]int, n)) }

// Places is how many numbers a matrix has.
func (s Shape) Places() int { return s.size }

// At is where row i keeps column j, which is at most i and at least its first.
func (s Shape) At(i, j int) int { return s.start[i] + j }

// Factor writes L over A, with the inverse of each number of the diagonal in its
// place. False: A is not positive definite.
func (s Shape) Factor(a []float64) bool {
	for i := 0; i < len(s.first); {
		// Three rows that begin together, as those of a node do, go at once: they
		// read each row above them once instead of three times.
		if i+2 < len(s.first) && s.first[i] == s.first[i+1] && s.first[i] == s.first[i+2] {
			s.three(a, i)
			if !s.finish(a, i, i) || !s.finish(a, i+1, i) || !s.finish(a, i+2, i) {
				return false
			}
			i += 3
			continue
		}
		if !s.finish(a, i, s.first[i]) {
			return false
		}
		i++
	}
	return true
}

// three finds rows i to i+2 up to column i-1.
func (s Shape) three(a []float64, i int) {
	f := s.first[i]
	p, q, r := a[s.At(i, f):s.At(i, i)], a[s.At(i+1, f):s.At(i+1, i)], a[s.At(i+2, f):s.At(i+2, i)]
	for j := f; j < i; j++ {
		from := max(f, s.first[j])
		above := a[s.At(j, from):s.At(j, j)]
		n := len(above)
		x, y, z := p[from-f:][:n], q[from-f:][:n], r[from-f:][:n]
		var dx, dy, dz float64
		for k, v := range above {
			dx += v * x[k]
			dy += v * y[k]
			dz += v * z[k]
		}
		inverse := a[s.At(j, j)]
		p[j-f], q[j-f], r[j-f] = (p[j-f]-dx)*inverse, (q[j-f]-dy)*inverse, (r[j-f]-dz)*inverse
	}
}

// finish finds row i from a column on.
func (s Shape) finish(a []float64, i, from int) bool {
	f := s.first[i]
	row := a[s.At(i, f) : s.At(i, i)+1]
	for j := from; j < i; j++ {
		g := max(f, s.first[j])
		row[j-f] = (row[j-f] - Dot(a[s.At(j, g):s.At(j, j)], row[g-f:])) * a[s.At(j, j)]
	}
	left := row[i-f] - Dot(row[:i-f], row)
	if !(left > 0) || math.IsInf(left, 0) {
		return false
	}
	row[i-f] = 1 / math.Sqrt(left)
	return true
}

// Forward replaces x with L⁻¹ x. Of x the rows from one on are given, those before
// are zero and stay so.
func (s Shape) Forward(l []float64, from int, x []float64) {
	for k := range x {
		i := from + k
		f := max(from, s.first[i])
		x[k] = (x[k] - Dot(l[s.At(i, f):s.At(i, i)], x[f-from:])) * l[s.At(i, i)]
	}
}

// Back replaces x with L'⁻¹ x.
func (s Shape) Back(l, x []float64) {
	for i := len(s.first) - 1; i >= 0; i-- {
		f := s.first[i]
		x[i] *= l[s.At(i, i)]
		for k, v := range l[s.At(i, f):s.At(i, i)] {
			x[f+k] -= v * x[i]
		}
	}
}

// Dot is the sum of the products of a and as much of b.
func Dot(a, b []float64) float64 {
	sum := 0.0
	b = b[:len(a)]
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}
