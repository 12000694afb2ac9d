package flange

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
)

// Model is a section assembled: the stiffness of harmonic m is
// I_m (K0 + m K1 + m² K2 + gasket), I_m = 2 pi for m = 0, else pi.
type Model struct {
	section Section
	mesh    mesh
	number  []int // of the nodes in the matrices
	k       int   // half the band, in unknowns
	parts   [3][]float64
	seat    []float64 // of a gasket of 1 N/m³
	rigid   int       // the unknown that is held against sliding of m = 1
}

// New assembles a section. The error is that of Check.
func New(s Section) (*Model, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	m := &Model{section: s, mesh: newMesh(s)}
	m.number = m.mesh.order()
	for _, e := range m.mesh.elements {
		for _, a := range e {
			for _, b := range e {
				m.k = max(m.k, 3*(m.number[a]-m.number[b])+2)
			}
		}
	}
	for i := range m.parts {
		m.parts[i] = make([]float64, m.size()*(m.k+1))
	}
	for _, e := range m.mesh.elements {
		m.element(e)
	}
	m.gasket()
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

// add adds to the upper half of a symmetric band matrix, row by row as gonum
// keeps it.
func (m *Model) add(to []float64, i, j int, v float64) {
	if j >= i {
		to[i*(m.k+1)+j-i] += v
	}
}

// The points and weights of Gauss with three points.
var gauss3 = [3][2]float64{{-math.Sqrt(0.6), 5.0 / 9}, {0, 8.0 / 9}, {math.Sqrt(0.6), 5.0 / 9}}

// shapes are the functions of the 8-node quadrilateral with their derivatives.
func shapes(x, y float64) (n, dx, dy [8]float64) {
	n = [8]float64{-(1 - x) * (1 - y) * (1 + x + y) / 4, -(1 + x) * (1 - y) * (1 - x + y) / 4, -(1 + x) * (1 + y) * (1 - x - y) / 4, -(1 - x) * (1 + y) * (1 + x - y) / 4,
		(1 - x*x) * (1 - y) / 2, (1 + x) * (1 - y*y) / 2, (1 - x*x) * (1 + y) / 2, (1 - x) * (1 - y*y) / 2}
	dx = [8]float64{(1 - y) * (2*x + y) / 4, (1 - y) * (2*x - y) / 4, (1 + y) * (2*x + y) / 4, (1 + y) * (2*x - y) / 4,
		-x * (1 - y), (1 - y*y) / 2, -x * (1 + y), -(1 - y*y) / 2}
	dy = [8]float64{(1 - x) * (x + 2*y) / 4, (1 + x) * (2*y - x) / 4, (1 + x) * (2*y + x) / 4, (1 - x) * (2*y - x) / 4,
		-(1 - x*x) / 2, -(1 + x) * y, (1 - x*x) / 2, -(1 - x) * y}
	return n, dx, dy
}

// element adds one element. With u_r = U cos m th, u_z = Z cos m th, u_th = V sin
// m th the strains are B0 + m B1: eps_r U,r; eps_th U/r + m V/r; eps_z Z,z; gam_rz
// U,z + Z,r; gam_rth V,r - V/r - m U/r; gam_zth V,z - m Z/r. The products
// B'DB are written out by pairs of nodes.
func (m *Model) element(e [8]int) {
	const mu = modulus / (2 * (1 + poisson))
	const lam = modulus * poisson / ((1 + poisson) * (1 - 2*poisson))
	const p = lam + 2*mu
	for _, gx := range gauss3 {
		for _, gy := range gauss3 {
			n, dx, dy := shapes(gx[0], gy[0])
			var r, rx, ry, zx, zy float64
			for i, at := range e {
				q := m.mesh.nodes[at]
				r += n[i] * q.r
				rx, ry = rx+dx[i]*q.r, ry+dy[i]*q.r
				zx, zy = zx+dx[i]*q.z, zy+dy[i]*q.z
			}
			det := rx*zy - zx*ry
			w := gx[1] * gy[1] * det * r * m.holes(r, e)
			var x, z, t [8]float64 // N,r  N,z  N/r
			for i := range e {
				x[i] = (zy*dx[i] - zx*dy[i]) / det
				z[i] = (rx*dy[i] - ry*dx[i]) / det
				t[i] = n[i] / r
			}
			for a := range e {
				i := 3 * m.number[e[a]]
				for b := range e {
					j := 3 * m.number[e[b]]
					if j < i-2 {
						continue // the other half
					}
					xa, za, ta, xb, zb, tb := x[a], z[a], t[a], x[b], z[b], t[b]
					m.add(m.parts[0], i, j, w*(p*(xa*xb+ta*tb)+lam*(xa*tb+ta*xb)+mu*za*zb))
					m.add(m.parts[0], i, j+1, w*(lam*(xa+ta)*zb+mu*za*xb))
					m.add(m.parts[0], i+1, j, w*(lam*za*(xb+tb)+mu*xa*zb))
					m.add(m.parts[0], i+1, j+1, w*(p*za*zb+mu*xa*xb))
					m.add(m.parts[0], i+2, j+2, w*mu*((xa-ta)*(xb-tb)+za*zb))

					m.add(m.parts[1], i, j+2, w*(lam*xa*tb+p*ta*tb-mu*ta*(xb-tb)))
					m.add(m.parts[1], i+1, j+2, w*(lam*za*tb-mu*ta*zb))
					m.add(m.parts[1], i+2, j, w*(p*ta*tb+lam*ta*xb-mu*(xa-ta)*tb))
					m.add(m.parts[1], i+2, j+1, w*(lam*ta*zb-mu*za*tb))

					m.add(m.parts[2], i, j, w*mu*ta*tb)
					m.add(m.parts[2], i+1, j+1, w*mu*ta*tb)
					m.add(m.parts[2], i+2, j+2, w*p*ta*tb)
				}
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
	inFlange := m.mesh.nodes[e[2]].z < float64(s.Thickness)+tiny
	if !inFlange || math.Abs(off) >= half {
		return 1
	}
	left := 1 - float64(s.Bolts)*math.Sqrt(half*half-off*off)/(math.Pi*r)
	return left * left
}

// gasket adds its seat: a bed of springs on the half of its thickness that
// belongs to this flange, so twice as stiff as the whole.
func (m *Model) gasket() {
	m.seat = make([]float64, m.size()*(m.k+1))
	for _, e := range m.mesh.seat {
		a, b := m.mesh.nodes[e[0]].r, m.mesh.nodes[e[1]].r
		for _, g := range gauss3 {
			n, r := onEdge(g[0], a, b)
			for i := range e {
				for j := range e {
					m.add(m.seat, 3*m.number[e[i]]+1, 3*m.number[e[j]]+1, 2*g[1]*(b-a)/2*r*n[i]*n[j])
				}
			}
		}
	}
}

// onEdge gives the functions of the three nodes of an edge, and the radius.
func onEdge(x, a, b float64) (n [3]float64, r float64) {
	return [3]float64{x * (x - 1) / 2, x * (x + 1) / 2, 1 - x*x}, (a+b)/2 + x*(b-a)/2
}

// stiffness is the matrix of a harmonic with a gasket (N/m³), written to data.
func (m *Model) stiffness(data []float64, h int, kappa float64) blas64.SymmetricBand {
	f, im := float64(h), math.Pi
	if h == 0 {
		im = 2 * math.Pi
	}
	for i := range data {
		data[i] = im * (m.parts[0][i] + f*(m.parts[1][i]+f*m.parts[2][i]) + kappa*m.seat[i])
	}
	// What is left free as a rigid body is held by a soft spring that carries nothing.
	switch h {
	case 0: // turning about the axis
		for i := 2; i < m.size(); i += 3 {
			data[i*(m.k+1)] += 1e6
		}
	case 1: // sliding
		data[m.rigid*(m.k+1)] += 1e7
	}
	return blas64.SymmetricBand{N: m.size(), K: m.k, Stride: m.k + 1, Data: data, Uplo: blas.Upper}
}
