package flange

import (
	"math"

	"evenload/joint/skyline"
)

// Model is a section assembled: the stiffness of harmonic m is
// I_m (K0 + m K1 + m² K2 + gasket), I_m = 2 pi for m = 0, else pi.
type Model struct {
	section Section
	mesh    mesh
	number  []int // of the nodes in the matrices
	shape   skyline.Shape
	parts   [3][]float64
	seat    seat
	nut     nut
	rigid   int // the unknown that is held against sliding of m = 1
}

// New assembles a section. The error is that of Check.
func New(s Section) (*Model, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	m := &Model{section: s, mesh: newMesh(s)}
	m.number = m.mesh.order()
	m.shape = m.mesh.shape(m.number)
	for i := range m.parts {
		m.parts[i] = make([]float64, m.shape.Places())
	}
	spots := spots()
	for _, e := range m.mesh.elements {
		m.element(e, &spots)
	}
	m.seat = m.gasket()
	m.nut = m.bearing()
	best := math.Inf(1)
	for i, p := range m.mesh.nodes {
		if d := math.Hypot(p.r, p.z-float64(s.Thickness)/2); d < best {
			best, m.rigid = d, 3*m.number[i]
		}
	}
	return m, nil
}

// size is the number of unknowns: radial, axial, circumferential at each node.
func (m *Model) size() int { return 3 * len(m.mesh.nodes) }

// The points and weights of Gauss with three points.
var gauss3 = [3][2]float64{{-math.Sqrt(0.6), 5.0 / 9}, {0, 8.0 / 9}, {math.Sqrt(0.6), 5.0 / 9}}

// spot is a point of Gauss in an element: its weight, and the functions of the
// 8-node quadrilateral there with their derivatives.
type spot struct {
	weight    float64
	n, dx, dy [8]float64
}

func spots() (all [9]spot) {
	for i, gx := range gauss3 {
		for j, gy := range gauss3 {
			x, y := gx[0], gy[0]
			all[3*i+j] = spot{
				weight: gx[1] * gy[1],
				n: [8]float64{-(1 - x) * (1 - y) * (1 + x + y) / 4, -(1 + x) * (1 - y) * (1 - x + y) / 4, -(1 + x) * (1 + y) * (1 - x - y) / 4, -(1 - x) * (1 + y) * (1 + x - y) / 4,
					(1 - x*x) * (1 - y) / 2, (1 + x) * (1 - y*y) / 2, (1 - x*x) * (1 + y) / 2, (1 - x) * (1 - y*y) / 2},
				dx: [8]float64{(1 - y) * (2*x + y) / 4, (1 - y) * (2*x - y) / 4, (1 + y) * (2*x + y) / 4, (1 + y) * (2*x - y) / 4,
					-x * (1 - y), (1 - y*y) / 2, -x * (1 + y), -(1 - y*y) / 2},
				dy: [8]float64{(1 - x) * (x + 2*y) / 4, (1 + x) * (2*y - x) / 4, (1 + x) * (2*y + x) / 4, (1 - x) * (2*y - x) / 4,
					-(1 - x*x) / 2, -(1 + x) * y, (1 - x*x) / 2, -(1 - x) * y},
			}
		}
	}
	return all
}

// element adds one element. With u_r = U cos m th, u_z = Z cos m th, u_th = V sin
// m th the strains are B0 + m B1: eps_r U,r; eps_th U/r + m V/r; eps_z Z,z; gam_rz
// U,z + Z,r; gam_rth V,r - V/r - m U/r; gam_zth V,z - m Z/r. The products
// B'DB are written out by pairs of nodes, of which only those are kept that lie in
// the lower half of the matrix.
func (m *Model) element(e [8]int, spots *[9]spot) {
	const mu = modulus / (2 * (1 + poisson))
	const lam = modulus * poisson / ((1 + poisson) * (1 - 2*poisson))
	const p = lam + 2*mu
	var w [9]float64
	var x, z, t [9][8]float64 // N,r  N,z  N/r
	for g := range spots {
		s := &spots[g]
		var r, rx, ry, zx, zy float64
		for i, at := range e {
			q := m.mesh.nodes[at]
			r += s.n[i] * q.r
			rx, ry = rx+s.dx[i]*q.r, ry+s.dy[i]*q.r
			zx, zy = zx+s.dx[i]*q.z, zy+s.dy[i]*q.z
		}
		det := rx*zy - zx*ry
		w[g] = s.weight * det * r * m.holes(r, e)
		for i := range e {
			x[g][i] = (zy*s.dx[i] - zx*s.dy[i]) / det
			z[g][i] = (rx*s.dy[i] - ry*s.dx[i]) / det
			t[g][i] = s.n[i] / r
		}
	}
	k0, k1, k2 := m.parts[0], m.parts[1], m.parts[2]
	for a := range e {
		i := 3 * m.number[e[a]]
		for b := range e {
			j := 3 * m.number[e[b]]
			if j > i {
				continue // the other half
			}
			var xx, zz, tt, xz, zx, xt, tx, zt, tz float64
			for g, w := range w {
				xa, za, ta := w*x[g][a], w*z[g][a], w*t[g][a]
				xb, zb, tb := x[g][b], z[g][b], t[g][b]
				xx, zz, tt = xx+xa*xb, zz+za*zb, tt+ta*tb
				xz, zx = xz+xa*zb, zx+za*xb
				xt, tx = xt+xa*tb, tx+ta*xb
				zt, tz = zt+za*tb, tz+ta*zb
			}
			// Where the rows of node a begin: radial, axial, circumferential.
			u, v, c := m.shape.At(i, j), m.shape.At(i+1, j), m.shape.At(i+2, j)
			k0[u] += p*(xx+tt) + lam*(xt+tx) + mu*zz
			k0[v] += lam*(zx+zt) + mu*xz
			k0[v+1] += p*zz + mu*xx
			k0[c+2] += mu * (xx - xt - tx + tt + zz)
			k1[c] += p*tt + lam*tx - mu*(xt-tt)
			k1[c+1] += lam*tz - mu*zt
			k2[u] += mu * tt
			k2[v+1] += mu * tt
			k2[c+2] += p * tt
			if j < i {
				k0[u+1] += lam*(xz+tz) + mu*zx
				k1[u+2] += lam*xt + p*tt - mu*(tx-tt)
				k1[v+2] += lam*zt - mu*tz
			}
		}
	}
}

// holes weakens the flange where the bolt holes are: by the square of what they
// leave of the circumference. The exponent is fitted to solid finite elements
// with holes.
func (m *Model) holes(r float64, e [8]int) float64 {
	s := m.section
	off, half := r-float64(s.BoltCircle)/2, float64(s.Hole)/2
	inFlange := m.mesh.nodes[e[2]].z <= float64(s.Thickness)
	if !inFlange || math.Abs(off) >= half {
		return 1
	}
	left := 1 - float64(s.Bolts)*math.Sqrt(half*half-off*off)/(math.Pi*r)
	return left * left
}

// onEdge gives the functions of the three nodes of an edge, and the radius.
func onEdge(x, a, b float64) (n [3]float64, r float64) {
	return [3]float64{x * (x - 1) / 2, x * (x + 1) / 2, 1 - x*x}, (a+b)/2 + x*(b-a)/2
}

// around is the integral of the square of a cosine of harmonic h around the ring.
func around(h int) float64 {
	if h == 0 {
		return 2 * math.Pi
	}
	return math.Pi
}

// stiffness writes the matrix of a harmonic with a gasket (N/m³).
func (m *Model) stiffness(to []float64, h int, kappa float64) {
	f, im := float64(h), around(h)
	k0, k1, k2 := m.parts[0][:len(to)], m.parts[1][:len(to)], m.parts[2][:len(to)]
	for i := range to {
		to[i] = im * (k0[i] + f*(k1[i]+f*k2[i]))
	}
	for a, i := range m.seat.at {
		for b, j := range m.seat.at[:a+1] {
			if spring := m.seat.spring[m.seat.shape.At(a, b)]; spring != 0 {
				to[m.shape.At(max(i, j), min(i, j))] += im * kappa * spring
			}
		}
	}
	// What is left free as a rigid body is held by a soft spring that carries nothing.
	switch h {
	case 0: // turning about the axis
		for i := 2; i < m.size(); i += 3 {
			to[m.shape.At(i, i)] += 1e6
		}
	case 1: // sliding
		to[m.shape.At(m.rigid, m.rigid)] += 1e7
	}
}
