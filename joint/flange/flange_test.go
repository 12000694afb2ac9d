package flange

import (
	"maps"
	"math"
	"testing"

	"evenload/joint/unit"
)

const mm = unit.Millimetre

// sections are the four of the finite-element checks, akin to ASME B16.5
// weld-neck flanges (from memory; they are inputs of the checks, no table).
var sections = map[string]Section{
	"A": {Bolts: 8, Outside: 292.1 * mm, Bore: 97.2 * mm, BoltCircle: 235 * mm, Thickness: 44.5 * mm, Hole: 31.75 * mm, NutBearing: 46 * mm,
		HubLarge: 158.8 * mm, HubLength: 114.3 * mm, Pipe: 114.3 * mm, GasketInner: 120.6 * mm, GasketOuter: 149.4 * mm},
	"B": {Bolts: 16, Outside: 520.7 * mm, Bore: 303.2 * mm, BoltCircle: 450.8 * mm, Thickness: 50.8 * mm, Hole: 31.75 * mm, NutBearing: 46 * mm,
		HubLarge: 374.7 * mm, HubLength: 130 * mm, Pipe: 323.8 * mm, GasketInner: 342.9 * mm, GasketOuter: 374.7 * mm},
	"C": {Bolts: 16, Outside: 596.9 * mm, Bore: 381 * mm, BoltCircle: 539.8 * mm, Thickness: 36.5 * mm, Hole: 28.6 * mm, NutBearing: 41.3 * mm,
		HubLarge: 457.2 * mm, HubLength: 127 * mm, Pipe: 406.4 * mm, GasketInner: 422.4 * mm, GasketOuter: 463.6 * mm},
	"D": {Bolts: 12, Outside: 406.4 * mm, Bore: 254.5 * mm, BoltCircle: 362 * mm, Thickness: 30.2 * mm, Hole: 25.4 * mm, NutBearing: 36.5 * mm,
		HubLarge: 304.8 * mm, HubLength: 101.6 * mm, Pipe: 273 * mm, GasketInner: 287.3 * mm, GasketOuter: 317.5 * mm},
}

// kappa is a gasket stiffness in N/mm³.
func kappa(v float64) unit.Stiffness { return unit.Stiffness(v * 1e9) }

func model(t testing.TB, name string) *Model {
	m, err := New(sections[name])
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// every harmonic up to the last.
func every(m *Model) []int {
	var at []int
	for h := range harmonicsABolt*m.section.Bolts + 1 {
		at = append(at, h)
	}
	return at
}

// The closures of an implementation of the same model in another language
// (direct sparse solver), kappa 200 N/mm³, hub, pipe of two diameters, all
// harmonics: µm/kN.
var regression = map[string]struct {
	nodes int
	row   []float64
}{
	"A": {260, []float64{7.857158, 4.838851, 0.459625, -2.760615, -3.899298}},
	"D": {326, []float64{4.730560, 1.924592, 0.144380, -0.304167, -0.245395, -0.137978, -0.100814}},
	"B": {231, []float64{3.324146, 2.159782, 0.905488, 0.073377, -0.293280, -0.344265, -0.256197, -0.158288, -0.118937}},
}

func TestRowAgainstAnotherImplementation(t *testing.T) {
	for name, want := range regression {
		m := model(t, name)
		if len(m.mesh.nodes) != want.nodes {
			t.Errorf("%s has %d nodes, want %d", name, len(m.mesh.nodes), want.nodes)
		}
		t.Logf("%s: %d unknowns, %d places", name, m.size(), m.shape.Places())
		all, err := m.rows([]unit.Stiffness{kappa(200)}, every(m))
		if err != nil {
			t.Fatal(err)
		}
		row := all[0]
		quick, err := m.Row(kappa(200))
		if err != nil {
			t.Fatal(err)
		}
		for k, w := range want.row {
			if got := float64(row[k]) * 1e9; math.Abs(got-w) > 1.01e-6 {
				t.Errorf("%s: c%d is %.6f, want %.6f", name, k, got, w)
			}
			if got := float64(quick[k]) * 1e9; math.Abs(got-w) > 3e-5*want.row[0] {
				t.Errorf("%s by few harmonics: c%d is %.6f, want %.6f", name, k, got, w)
			}
		}
	}
}

// The harmonics that are solved tell of all: to a hundred thousandth of the first.
func TestFewHarmonicsTellOfAll(t *testing.T) {
	all := map[string]Section{"wide": wide(), "A bare": bare("A"), "B bare": bare("B")}
	maps.Copy(all, sections)
	most := 0.0
	for name, s := range all {
		m, err := New(s)
		if err != nil {
			t.Fatal(err)
		}
		on := []unit.Stiffness{kappa(5), kappa(200), kappa(4000)}
		want, err := m.rows(on, every(m))
		if err != nil {
			t.Fatal(err)
		}
		got, err := m.Rows(on...)
		if err != nil {
			t.Fatal(err)
		}
		for i := range on {
			off := furthest(floats(got[i]), floats(want[i])) / float64(want[i][0])
			if most = max(most, off); off > 1e-5 {
				t.Errorf("%s on %v N/m³ is off by %.2g of the first", name, on[i], off)
			}
		}
	}
	t.Logf("off by %.2g at most", most)
}

// BenchmarkRow16 is a weld neck with 16 bolts from the sizes to the row, one gasket;
// BenchmarkRow32 one with 32, twice the circle of the other.
func BenchmarkRow16(b *testing.B) { benchmark(b, sections["B"]) }

func BenchmarkRow32(b *testing.B) { benchmark(b, wide()) }

// BenchmarkRows16 has the gasket at half, one and two times its stiffness.
func BenchmarkRows16(b *testing.B) {
	for b.Loop() {
		m, err := New(sections["B"])
		if err != nil {
			b.Fatal(err)
		}
		if _, err := m.Rows(kappa(100), kappa(200), kappa(400)); err != nil {
			b.Fatal(err)
		}
	}
}

// wide has twice the bolts on twice the diameters of B.
func wide() Section {
	s := sections["B"]
	s.Bolts *= 2
	for _, l := range []*unit.Length{&s.Outside, &s.Bore, &s.BoltCircle, &s.HubLarge, &s.Pipe, &s.GasketInner, &s.GasketOuter} {
		*l *= 2
	}
	return s
}

func benchmark(b *testing.B, s Section) {
	b.ReportAllocs()
	for b.Loop() {
		m, err := New(s)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := m.Row(kappa(200)); err != nil {
			b.Fatal(err)
		}
	}
}

// TestPanicReachesTheCaller: a fault on another core is one that the caller can
// catch, since the caller may have a terminal to give back.
func TestPanicReachesTheCaller(t *testing.T) {
	m := model(t, "A")
	m.parts[2] = nil // only the cores look at it
	defer func() {
		if recover() == nil {
			t.Error("the fault was not told")
		}
	}()
	_, _ = m.Row(kappa(200))
}
