package flange

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// nut is the bearing face of the nut of bolt 0.
type nut struct {
	at     []int // the unknowns that it presses on, each once
	strips []strip
}

// strip is the part of the bearing face at one radius: between the half angles
// inner and outer, on three nodes.
type strip struct {
	on           [3]int // of nut.at
	share        [3]float64
	inner, outer float64
}

// bearing cuts the face into strips, which press evenly with 1 N in all.
func (m *Model) bearing() nut {
	s := m.section
	circle, outside, hole := float64(s.BoltCircle)/2, float64(s.NutBearing)/2, float64(s.Hole)/2
	area := math.Pi * (outside*outside - hole*hole)
	// half is the half angle under which a circle about the bolt is seen at r.
	half := func(r, radius float64) float64 {
		return math.Acos(min(1, (r*r+circle*circle-radius*radius)/(2*r*circle)))
	}
	x, w := make([]float64, 8), make([]float64, 8)
	quad.Legendre{}.FixedLocations(x, w, -1, 1)
	var u nut
	at := unknowns{number: m.number, of: map[int]int{}}
	for _, e := range m.mesh.top {
		a, b := m.mesh.nodes[e[0]].r, m.mesh.nodes[e[1]].r
		for g := range x {
			n, r := onEdge(x[g], a, b)
			one := strip{inner: half(r, hole), outer: half(r, outside)}
			for k, node := range e {
				one.on[k], one.share[k] = at.axial(node), n[k]*r*w[g]*(b-a)/2/area
			}
			u.strips = append(u.strips, one)
		}
	}
	u.at = at.list
	return u
}

// load is what presses in harmonic h, by nut.at.
func (u nut) load(h int) []float64 {
	q := make([]float64, len(u.at))
	for _, s := range u.strips {
		arc := 2 * (s.outer - s.inner)
		if h > 0 {
			arc = 2 * (math.Sin(float64(h)*s.outer) - math.Sin(float64(h)*s.inner)) / float64(h)
		}
		for k, i := range s.on {
			q[i] += s.share[k] * arc
		}
	}
	return q
}

// unknowns lists those that are met, each once.
type unknowns struct {
	number []int
	of     map[int]int // by node
	list   []int
}

// axial is the place in the list of the axial unknown at a node.
func (u *unknowns) axial(node int) int {
	i, is := u.of[node]
	if !is {
		i = len(u.list)
		u.of[node] = i
		u.list = append(u.list, 3*u.number[node]+1)
	}
	return i
}
