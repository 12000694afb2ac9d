// Package interaction says how bolts unload each other: coefficients, loads
// after every step of a plan, rounds still needed. All of it is an estimate by
// an elastic model, checked against finite elements and not against measured
// joints: never a measurement.
package interaction

import (
	"errors"
	"fmt"
	"math"

	"evenload/joint/unit"
)

// Bolts is a ring of equal bolts on a joint that gives: u = C F, with C from the
// closure row, and F = (delta - u)/give for a bolt in tension, delta how far its
// nut is turned on. A bolt pulls or is slack, it never pushes.
type Bolts struct {
	n       int
	closure []float64 // m/N by distance, 0 to n-1, twice over
	give    float64   // of a bolt, m/N
	inverse []float64 // first row of (C + give)⁻¹, N/m, twice over
	alpha   []float64
}

// New makes the ring of a closure row, as joint/flange gives it, and of what one
// bolt gives. The error is a row that no joint has: not symmetric, or such that
// it would not resist.
func New(row []unit.Compliance, give unit.Compliance) (*Bolts, error) {
	n := len(row)
	if n < 1 || !(give > 0) || math.IsInf(float64(give), 0) {
		return nil, errors.New("a ring needs a bolt, and a bolt gives way a little under load")
	}
	b := &Bolts{n: n, give: float64(give), closure: make([]float64, 2*n)}
	for k, c := range row {
		if math.IsNaN(float64(c)) || math.Abs(float64(c-row[(n-k)%n])) > 1e-9*math.Abs(float64(row[0])) {
			return nil, fmt.Errorf("the closure at bolt %d is none, or not that of its mirror", k)
		}
		b.closure[k], b.closure[n+k] = float64(c), float64(c)
	}
	if err := b.invert(); err != nil {
		return nil, err
	}
	b.alpha = make([]float64, n)
	for k := 1; k < n; k++ {
		b.alpha[k] = -b.inverse[k] / b.inverse[0]
	}
	return b, nil
}

// invert finds the first row of (C + give)⁻¹, a symmetric circulant as well.
func (b *Bolts) invert() error {
	row := make([]float64, b.n)
	for j := range b.n {
		eigen := b.give
		for k, c := range b.closure[:b.n] {
			eigen += c * b.cos(j*k)
		}
		if !(eigen > 0) {
			return errors.New("the closure row is that of no joint: it would give way by itself")
		}
		for k := range row {
			row[k] += b.cos(j*k) / eigen / float64(b.n)
		}
	}
	b.inverse = append(row, row...)
	return nil
}

func (b *Bolts) cos(k int) float64 { return math.Cos(2 * math.Pi * float64(k%b.n) / float64(b.n)) }

// Coefficients say which share of the load that a bolt takes up is lost by the
// bolt k places on, k from 0 to n-1 (0 at k = 0), while all bolts pull.
func (b *Bolts) Coefficients() []float64 { return b.alpha }

// from is the closure at bolt i for each newton of every bolt.
func (b *Bolts) from(i int) []float64 { return b.closure[b.n-i : 2*b.n-i] }

// pulled is the load of bolt i for each metre that every nut is turned on.
func (b *Bolts) pulled(i int) []float64 { return b.inverse[b.n-i : 2*b.n-i] }
