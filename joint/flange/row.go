package flange

import (
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync/atomic"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/interp"

	"evenload/joint/unit"
)

// harmonicsABolt is up to which harmonic the row is summed, for each bolt.
const harmonicsABolt = 8

// sampled is how many steps there are up to the last harmonic, equal in its
// logarithm; some 40 are different. Those between are taken from
// a spline, since the closure falls smoothly, about as m^-1.5.
const sampled = 56

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

// Rows are those of Row for several gasket stiffnesses, in less time than each
// by itself.
func (m *Model) Rows(kappas ...unit.Stiffness) ([][]unit.Compliance, error) {
	return m.rows(kappas, samples(harmonicsABolt*m.section.Bolts))
}

// samples are the harmonics to solve up to a last one: all at first, then
// further and further apart.
func samples(last int) []int {
	at := []int{0}
	for i := range sampled {
		at = append(at, int(math.Round(math.Pow(float64(last), float64(i)/(sampled-1)))))
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
	unitLoad := 0.0
	for _, v := range m.load(0) {
		unitLoad += v
	}
	closures := make([][]float64, len(at))
	var next atomic.Int64
	var failed atomic.Bool
	workers := min(runtime.GOMAXPROCS(0), len(at))
	ended := make(chan any, workers) // with nothing, or a panic
	for range workers {
		go func() {
			defer func() { ended <- recover() }()
			room := make([]float64, m.shape.Places()) // one matrix a core, not one a harmonic
			for i := next.Add(1) - 1; i < int64(len(at)); i = next.Add(1) - 1 {
				c, ok := m.closures(room, at[i], kappas, math.Abs(unitLoad))
				closures[i] = c
				if !ok {
					failed.Store(true)
				}
			}
		}()
	}
	for range workers {
		if p := <-ended; p != nil {
			panic(p) // here the caller may catch it, who has a terminal to give back
		}
	}
	if failed.Load() {
		return nil, fmt.Errorf("the flange cannot be solved: look at its sizes and at the gasket stiffness")
	}
	rows := make([][]unit.Compliance, len(kappas))
	for i := range rows {
		solved := make([]float64, len(at))
		for h, c := range closures {
			solved[h] = c[i]
		}
		rows[i] = m.sum(between(at, solved))
	}
	return rows, nil
}

// sum is the row of closures by harmonic.
func (m *Model) sum(closures []float64) []unit.Compliance {
	n := m.section.Bolts
	row := make([]unit.Compliance, n)
	for k := range row {
		sum := 0.0
		for h, c := range closures {
			sum += c * math.Cos(2*math.Pi*float64(h*k%n)/float64(n))
		}
		row[k] = unit.Compliance(sum)
	}
	row[0] += unit.Compliance(2 * localTerm / (modulus * float64(m.section.NutBearing)))
	return row
}

// between fills in the harmonics that were not solved.
func between(at []int, closures []float64) []float64 {
	last := at[len(at)-1]
	if last == len(at)-1 {
		return closures
	}
	var x, y []float64
	for i, h := range at[1:] {
		x, y = append(x, math.Log(float64(h))), append(y, closures[i+1]*math.Pow(float64(h), 1.5))
	}
	var spline interp.NaturalCubic
	cm := make([]float64, last+1)
	cm[0] = closures[0]
	if err := spline.Fit(x, y); err != nil {
		panic(err) // x rises by construction, two of them at least
	}
	for h := 1; h <= last; h++ {
		cm[h] = spline.Predict(math.Log(float64(h))) / math.Pow(float64(h), 1.5)
	}
	return cm
}

// closures are those of the pair under its own load, harmonic h, on gaskets of
// some stiffnesses; room is for the matrix.
func (m *Model) closures(room []float64, h int, kappas []unit.Stiffness, unitLoad float64) ([]float64, bool) {
	softest := float64(slices.Min(kappas))
	m.stiffness(room, h, softest)
	if !m.shape.Factor(room) {
		return nil, false
	}
	y := m.load(h) // K = L L': with L y = q the work q K⁻¹ q is y y
	m.shape.Forward(room, y)
	work := dot(y, y)
	var saved saved
	all := make([]float64, len(kappas))
	for i, kappa := range kappas {
		w := work
		if more := float64(kappa) - softest; more > 0 {
			if saved.give == nil {
				saved = m.stiffer(room, h, y)
			}
			less, ok := saved.by(more)
			if !ok {
				return nil, false
			}
			w -= less
		}
		all[i] = 2 * w / (unitLoad * unitLoad)
		if !(all[i] > 0) || math.IsInf(all[i], 0) {
			return nil, false
		}
	}
	return all, true
}

// strip is a circle on which the nut of bolt 0 presses: within the half angles
// inner and outer, on three nodes.
type strip struct {
	at           [3]int // axial unknowns
	on           [3]float64
	inner, outer float64
}

// strips cuts the bearing face of the nut, which presses evenly with 1 N.
func (m *Model) strips() []strip {
	s := m.section
	circle, nut, hole := float64(s.BoltCircle)/2, float64(s.NutBearing)/2, float64(s.Hole)/2
	area := math.Pi * (nut*nut - hole*hole)
	// half is the half angle under which a circle about the bolt is seen at r.
	half := func(r, radius float64) float64 {
		return math.Acos(min(1, (r*r+circle*circle-radius*radius)/(2*r*circle)))
	}
	x, w := make([]float64, 8), make([]float64, 8)
	quad.Legendre{}.FixedLocations(x, w, -1, 1)
	var all []strip
	for _, e := range m.mesh.top {
		a, b := m.mesh.nodes[e[0]].r, m.mesh.nodes[e[1]].r
		for g := range x {
			n, r := onEdge(x[g], a, b)
			one := strip{inner: half(r, hole), outer: half(r, nut)}
			for k, node := range e {
				one.at[k], one.on[k] = 3*m.number[node]+1, -n[k]*r*w[g]*(b-a)/2/area
			}
			all = append(all, one)
		}
	}
	return all
}

// load is the nut of bolt 0 in harmonic h.
func (m *Model) load(h int) []float64 {
	q := make([]float64, m.size())
	for _, s := range m.nut {
		arc := 2 * (s.outer - s.inner)
		if h > 0 {
			arc = 2 * (math.Sin(float64(h)*s.outer) - math.Sin(float64(h)*s.inner)) / float64(h)
		}
		for k, at := range s.at {
			q[at] += s.on[k] * arc
		}
	}
	return q
}
