package flange

import (
	"math"
	"slices"

	"evenload/joint/skyline"
)

// The mesh: radial lines no further apart than a part of the thickness, layers
// through the thickness and along the hub, pipe for two diameters, growing.
const (
	linesAThickness = 2.5
	layers          = 3
	hubLayers       = 4
	pipeLength      = 2 // pipe diameters
	pipeGrowth      = 1.25
)

// point is a node of the section, in metres; z from the gasket face.
type point struct{ r, z float64 }

// mesh is the section in 8-node quadrilaterals: corners counter-clockwise from
// the inner lower one, then the middles of the edges in the same order.
type mesh struct {
	nodes    []point
	elements [][8]int
	top      [][3]int // edges under the nut: inner, outer, middle node
	seat     [][3]int // edges on the gasket
}

// Radii that are near each other, a hundredth of a millimetre, are one line of the
// mesh: a thinner element would be all but flat, and no flange is made finer.
const near = 1e-5

func newMesh(s Section) mesh {
	var m mesh
	// Elements share a node where their points are the same to the last bit, so
	// every point is computed in one way: rounded ones fell apart at a border.
	index := map[point]int{}
	node := func(p point) int {
		i, ok := index[p]
		if !ok {
			i = len(m.nodes)
			index[p] = i
			m.nodes = append(m.nodes, p)
		}
		return i
	}
	quad := func(corner ...point) {
		var e [8]int
		for i, p := range corner {
			q := corner[(i+1)%4]
			e[i], e[i+4] = node(p), node(point{(p.r + q.r) / 2, (p.z + q.z) / 2})
		}
		m.elements = append(m.elements, e)
	}
	h, in := float64(s.Thickness), float64(s.Bore)/2
	lines := s.lines()
	levels := [layers + 1]float64{layers: h}
	for j := range layers {
		levels[j] = h * float64(j) / layers
	}
	for i := range len(lines) - 1 {
		for j, low := range levels[:layers] {
			high := levels[j+1]
			quad(point{lines[i], low}, point{lines[i+1], low}, point{lines[i+1], high}, point{lines[i], high})
		}
	}
	if s.hub() {
		heights, walls := s.wall()
		var parts []float64
		for _, r := range lines {
			if r <= float64(s.HubLarge)/2+near {
				parts = append(parts, (r-in)/(float64(s.HubLarge)/2-in))
			}
		}
		for k := range len(heights) - 1 {
			for i := range len(parts) - 1 {
				at := func(i, k int) point {
					if k == 0 {
						return point{lines[i], h} // that of the flange
					}
					return point{in + parts[i]*walls[k], heights[k]}
				}
				quad(at(i, k), at(i+1, k), at(i+1, k+1), at(i, k+1))
			}
		}
	}
	m.edges(s)
	return m
}

// lines are the radii of the mesh in the flange.
func (s Section) lines() []float64 {
	circle, nut, hole := float64(s.BoltCircle)/2, float64(s.NutBearing)/2, float64(s.Hole)/2
	breaks := []float64{float64(s.Bore) / 2, float64(s.Outside) / 2, float64(s.GasketInner) / 2, float64(s.GasketOuter) / 2,
		circle - nut, circle, circle + nut, circle - hole, circle + hole}
	if s.hub() {
		breaks = append(breaks, float64(s.HubLarge)/2)
	}
	slices.Sort(breaks)
	breaks = slices.CompactFunc(breaks, func(a, b float64) bool { return math.Abs(b-a) < near })
	lines := breaks[:1:1]
	for i := 1; i < len(breaks); i++ {
		a, b := breaks[i-1], breaks[i]
		n := max(1, int(math.Ceil((b-a)/(float64(s.Thickness)/linesAThickness)-1e-9)))
		for k := 1; k <= n; k++ {
			lines = append(lines, a+(b-a)*float64(k)/float64(n))
		}
	}
	return lines
}

// wall gives the heights of the layers of hub and pipe, and how thick the wall
// is at each.
func (s Section) wall() (heights, walls []float64) {
	h, y, in, pipe := float64(s.Thickness), float64(s.HubLength), float64(s.Bore)/2, float64(s.Pipe)/2
	large, small := float64(s.HubLarge)/2-in, pipe-in
	for i := range hubLayers + 1 {
		part := float64(i) / hubLayers
		heights, walls = append(heights, h+(y-h)*part), append(walls, large+(small-large)*part)
	}
	end := y + pipeLength*2*pipe
	step := max(small, 0.25*math.Sqrt(pipe*small)) // a quarter of the length in which bending of a shell dies out
	for z := y; z < end-1e-12; {
		z = min(z+step, end)
		step *= pipeGrowth
		heights, walls = append(heights, z), append(walls, small)
	}
	return heights, walls
}

// edges finds where the nut presses and where the gasket bears.
func (m *mesh) edges(s Section) {
	h, circle, nut := float64(s.Thickness), float64(s.BoltCircle)/2, float64(s.NutBearing)/2
	for _, e := range m.elements {
		a, b, c, d := m.nodes[e[0]], m.nodes[e[1]], m.nodes[e[2]], m.nodes[e[3]]
		if a.z == 0 && b.z == 0 && a.r > float64(s.GasketInner)/2-near && b.r < float64(s.GasketOuter)/2+near {
			m.seat = append(m.seat, [3]int{e[0], e[1], e[4]})
		}
		if c.z == h && d.z == h && a.z < h && d.r > circle-nut-near && c.r < circle+nut+near {
			m.top = append(m.top, [3]int{e[3], e[2], e[6]})
		}
	}
}

// order numbers the nodes so that neighbours have near numbers, which keeps the
// rows of the matrix short: the reverse Cuthill-McKee order from the rim. So nut and
// gasket come late, and what is pushed there moves few rows.
func (m *mesh) order() []int {
	next := make([][]int, len(m.nodes))
	for _, e := range m.elements {
		for _, a := range e {
			for _, b := range e {
				if a != b && !slices.Contains(next[a], b) {
					next[a] = append(next[a], b)
				}
			}
		}
	}
	first := 0
	for i, p := range m.nodes {
		if f := m.nodes[first]; p.r > f.r || p.r == f.r && p.z < f.z {
			first = i
		}
	}
	number := make([]int, len(m.nodes))
	for i := range number {
		number[i] = -1
	}
	queue := []int{first}
	number[first] = 0
	for at := 0; at < len(queue); at++ {
		open := slices.Clone(next[queue[at]])
		slices.SortStableFunc(open, func(a, b int) int { return len(next[a]) - len(next[b]) })
		for _, b := range open {
			if number[b] < 0 {
				number[b] = len(queue)
				queue = append(queue, b)
			}
		}
	}
	for i := range number {
		number[i] = len(queue) - 1 - number[i]
	}
	return number
}

// shape is that of the matrices, with three unknowns at each node.
func (m *mesh) shape(number []int) skyline.Shape {
	first := make([]int, 3*len(m.nodes))
	for i := range first {
		first[i] = i / 3 * 3
	}
	for _, e := range m.elements {
		low := len(m.nodes)
		for _, a := range e {
			low = min(low, number[a])
		}
		for _, a := range e {
			for i := 3 * number[a]; i < 3*number[a]+3; i++ {
				first[i] = min(first[i], 3*low)
			}
		}
	}
	return skyline.New(first)
}
