package interaction

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"evenload/joint/unit"
)

// row makes a closure row of its first half, in µm/kN (1e-9 m/N).
func row(n int, half ...float64) []unit.Compliance {
	r := make([]unit.Compliance, n)
	for k := range r {
		r[k] = unit.Compliance(half[min(k, n-k)] * 1e-9)
	}
	return r
}

func bolts(t interface{ Fatal(...any) }, r []unit.Compliance, stiffness float64) *Bolts {
	b, err := New(r, unit.Compliance(1/stiffness))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// ringCase is one of the three cases of a plain ring on a gasket, solved by an
// independent straight-beam finite-element ring and another complementarity
// solver (non-negative least squares): closures in µm/kN, shares, loads in N for
// a target of 100 kN. Stiffness in N/m.
type ringCase struct {
	name      string
	closure   []float64
	stiffness float64
	order     []int
	passes    int
	onlyUp    bool
	alpha     []float64
	loads     []float64
}

var ringCases = []ringCase{
	{"T1", []float64{8.601787, 5.471950, 0.448021, -2.837147, -3.838616}, 844e6, []int{0, 4, 2, 6, 1, 5, 3, 7}, 1, false,
		[]float64{0.553842, -0.142432, -0.064691, 0.014269},
		[]float64{19710.9, 124833.8, 39961.4, 102165.1, 0, 124203.6, 13525.4, 100000}},
	{"T2", []float64{7.812906, 3.928558, 1.001791, 0.280862, 0.229314, 0.207167, 0.186820}, 694e6, []int{0, 6, 3, 9, 1, 7, 4, 10, 2, 8, 5, 11}, 2, true,
		[]float64{0.415937, -0.083749, 0.008100, 0.008585, 0.002257, 0.001449},
		[]float64{56411.8, 80558.6, 98978.4, 58211.9, 79694.0, 99915.3, 57052.5, 80941.3, 99055.8, 58995.1, 79549.0, 100000}},
	{"T3", []float64{9.222343, 7.378878, 4.138675, 1.269866, -0.478409, -1.121063, -1.064466, -0.791208, -0.657332}, 764e6,
		[]int{0, 8, 4, 12, 2, 10, 6, 14, 1, 9, 5, 13, 3, 11, 7, 15}, 2, true,
		[]float64{0.506214, 0.019924, -0.057737, -0.023710, -0.001274, 0.002531, 0.000995, 0.000150},
		[]float64{7113.0, 100693.7, 31509.0, 107546.3, 0, 94944.8, 10989.7, 99970.1, 7061.0, 100828.2, 33059.9, 107762.9, 0, 95419.4, 11247.5, 100000}},
}

func TestRingCases(t *testing.T) {
	for _, c := range ringCases {
		b := bolts(t, row(len(c.order), c.closure...), c.stiffness)
		for k, want := range c.alpha {
			if got := b.Coefficients()[k+1]; math.Abs(got-want) > 2e-6 { // the closures have seven figures
				t.Errorf("%s: coefficient %d is %.6f, want %.6f", c.name, k+1, got, want)
			}
		}
		s := b.Snug()
		for range c.passes {
			for _, i := range c.order {
				if _, err := s.Tighten(100e3, i); err != nil {
					t.Fatal(err)
				}
			}
		}
		for i, want := range c.loads {
			if got := float64(s.Loads()[i]); math.Abs(got-want) > 1 {
				t.Errorf("%s: bolt %d carries %.1f N, want %.1f", c.name, i, got, want)
			}
		}
	}
}

// On a rigid flange (closed form): global balance, opposite bolts gain.
func TestRigidFlange(t *testing.T) {
	const n, kb, k0, tilt = 12, 700e6, 30e9, 15e9 // tilt: of the first harmonic at the bolt circle
	r := make([]unit.Compliance, n)
	for k := range r {
		r[k] = unit.Compliance(1/k0 + math.Cos(2*math.Pi*float64(k)/n)/tilt)
	}
	b := bolts(t, r, kb)
	b0, b1 := 1/(1/float64(kb)+n/k0), 1/(1/float64(kb)+n/(2*tilt))
	for k := 1; k < n; k++ {
		want := ((kb - b0) + 2*(kb-b1)*math.Cos(2*math.Pi*float64(k)/n)) / (b0 + 2*b1 + (n-3)*kb)
		if got := b.Coefficients()[k]; math.Abs(got-want) > 1e-9 {
			t.Errorf("coefficient %d is %v, want %v", k, got, want)
		}
	}
}

// anyRow draws a closure row: a sum of positive harmonics.
func anyRow(t *rapid.T, n int) []unit.Compliance {
	r := make([]unit.Compliance, n)
	for m := range n/2 + 1 {
		c := rapid.Float64Range(1e-13, 1e-9).Draw(t, "harmonic")
		for k := range r {
			r[k] += unit.Compliance(c * math.Cos(2*math.Pi*float64(m*k%n)/float64(n)))
		}
	}
	return r
}

// Loads are never negative; a slack bolt is slack because the joint closed away
// from it, one that pulls stands where its nut is; the loads scale with the
// target; turning by one place turns the loads.
func TestLoadsOfAnyRing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 20).Draw(t, "bolts")
		r := anyRow(t, n)
		b := bolts(t, r, rapid.Float64Range(1e8, 1e10).Draw(t, "stiffness"))
		s, twice, turned := b.Snug(), b.Snug(), b.Snug()
		for range rapid.IntRange(1, 3*n).Draw(t, "steps") {
			i, share := rapid.IntRange(0, n-1).Draw(t, "bolt"), unit.Force(rapid.SampledFrom([]float64{0.3, 0.6, 1}).Draw(t, "share"))
			for _, run := range []struct {
				s    *State
				load unit.Force
				nut  int
			}{{s, 100e3, i}, {twice, 200e3, i}, {turned, 100e3, (i + 1) % n}} {
				if _, err := run.s.Tighten(run.load*share, run.nut); err != nil {
					t.Fatal(err)
				}
			}
			for j, f := range s.load {
				apart := s.delta[j] - s.closed(j) - f*b.give
				if f < 0 || f > 0 && math.Abs(apart) > 1e-12 || f == 0 && apart > 1e-12 {
					t.Fatalf("bolt %d carries %v, its nut is %v m off", j, f, apart)
				}
				if math.Abs(twice.load[j]-2*f) > 1e-3 || math.Abs(turned.load[(j+1)%n]-f) > 1e-3 {
					t.Fatalf("bolt %d carries %v, at twice the load %v, turned by one %v", j, f, twice.load[j], turned.load[(j+1)%n])
				}
			}
		}
	})
}

// Against a dense solver of the complementarity problem (projected Gauss-Seidel
// to convergence) on random rows.
func TestAgainstAnotherSolver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 12).Draw(t, "bolts")
		b := bolts(t, anyRow(t, n), rapid.Float64Range(5e8, 5e9).Draw(t, "stiffness"))
		s := b.Snug()
		for range rapid.IntRange(1, 2*n).Draw(t, "steps") {
			if _, err := s.Tighten(unit.Force(rapid.Float64Range(1e3, 1e5).Draw(t, "load")), rapid.IntRange(0, n-1).Draw(t, "bolt")); err != nil {
				t.Fatal(err)
			}
		}
		f := make([]float64, n)
		for range 200_000 {
			most := 0.0
			for i := range f {
				rest := s.delta[i]
				for j := range f {
					if j != i {
						rest -= b.from(i)[j] * f[j]
					}
				}
				v := max(0, rest/(b.from(i)[i]+b.give))
				most = max(most, math.Abs(v-f[i]))
				f[i] = v
			}
			if most < 1e-9 {
				break
			}
		}
		for i := range f {
			if math.Abs(f[i]-s.load[i]) > 1e-4 { // of 100 kN: 1e-9
				t.Fatalf("bolt %d: %v, the other solver has %v", i, s.load[i], f[i])
			}
		}
	})
}

func TestNewRefuses(t *testing.T) {
	for name, r := range map[string][]unit.Compliance{
		"none": nil, "no number": {unit.Compliance(math.NaN())}, "not symmetric": {3e-9, 1e-9, 2e-9}, "gives way": row(4, 1, 0, -5),
	} {
		if _, err := New(r, 1e-9); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
	if _, err := New(row(4, 3, 1, 0), 0); err == nil {
		t.Error("a bolt without stiffness is taken")
	}
	if _, err := bolts(t, row(4, 3, 1, 0), 1e9).Snug().Tighten(1, 4); err == nil {
		t.Error("bolt 5 of 4 is tightened")
	}
}
