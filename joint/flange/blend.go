package flange

import (
	"math"

	"evenload/joint/skyline"
)

// closures are those of the pair by harmonic, up to the last that was solved, for
// each gasket. False: one of those solved is none.
func (m *Model) closures(at []int, solved [][][]float64, gaskets int) ([][]float64, bool) {
	whole := 0.0
	for _, v := range m.nut.load(0) {
		whole += v
	}
	all := make([][]float64, gaskets)
	blend := newBlend(at[1:])
	for h := range at[len(at)-1] + 1 {
		q := m.nut.load(h)
		shares := []float64{1} // of the harmonics solved
		if h > 0 {
			shares = append([]float64{0}, blend.shares(h)...)
		}
		for g := range all {
			c := 0.0
			for i, share := range shares {
				if share != 0 {
					c += share * work(solved[i][g], q)
				}
			}
			all[g] = append(all[g], 2*c/(whole*whole))
		}
	}
	for _, closures := range all {
		for _, h := range at {
			if c := closures[h]; !(c > 0) || math.IsInf(c, 0) {
				return nil, false
			}
		}
	}
	return all, true
}

// work is q G q, G the lower half of a symmetric matrix.
func work(half, q []float64) float64 {
	sum, at := 0.0, 0
	for i, v := range q {
		sum += v * (2*skyline.Dot(half[at:at+i], q) + half[at+i]*v)
		at += i + 1
	}
	return sum
}

// smooth is the degree of the curves that are blended.
const smooth = 9

// blend goes through what is known at some harmonics, times the harmonic, over the
// logarithm of the harmonic: the rational function of Floater and Hormann
// (Numerische Mathematik 107, 2007, from memory), which has no poles.
type blend struct {
	at     []int
	x      []float64
	weight []float64
}

func newBlend(at []int) blend {
	b := blend{at: at}
	for _, h := range at {
		b.x = append(b.x, math.Log(float64(h)))
	}
	last := len(at) - 1
	d := min(smooth, last)
	for k := range at {
		sum := 0.0
		for i := max(0, k-d); i <= min(k, last-d); i++ {
			part := 1.0
			for j := i; j <= i+d; j++ {
				if j != k {
					part /= math.Abs(b.x[k] - b.x[j])
				}
			}
			sum += part
		}
		if k%2 == 1 {
			sum = -sum
		}
		b.weight = append(b.weight, sum)
	}
	return b
}

// shares are those that each of the known ones has in what lies at harmonic h.
func (b blend) shares(h int) []float64 {
	all, sum := make([]float64, len(b.at)), 0.0
	for i, at := range b.at {
		if at == h {
			clear(all)
			all[i] = 1
			return all
		}
		all[i] = b.weight[i] / (math.Log(float64(h)) - b.x[i])
		sum += all[i]
	}
	for i, at := range b.at {
		all[i] *= float64(at) / float64(h) / sum
	}
	return all
}
