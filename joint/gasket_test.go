package joint

import (
	"slices"
	"testing"

	"evenload/joint/unit"
)

// A constructed example (own arithmetic, not published): ASME VIII-1 Appendix 2
// on the spiral-wound gasket of NPS 8 class 300, sealing 233.4 to 263.7 mm, at
// 5.11 MPa with m = 3 and y = 69 MPa: b0 = 7.575 mm, b = 6.936 mm, G = 249.83
// mm, Wm1 = 417.4 kN, Wm2 = 375.6 kN.
func TestWm(t *testing.T) {
	g := Gasket{Inner: 0.2334, Outer: 0.2637, M: 3, Y: 69e6}
	b, d := g.Effective()
	wantNear(t, "b", float64(b), 6.936e-3, 0.0005)
	wantNear(t, "G", float64(d), 249.83e-3, 0.0005)
	wantNear(t, "Wm1", float64(g.Wm1(5.11e6)), 417.4e3, 0.001)
	wantNear(t, "Wm2", float64(g.Wm2()), 375.6e3, 0.001)
	// A narrow one bears evenly: b = b0 = N/2, N = 10 mm, G the mean diameter.
	narrow := Gasket{Inner: 0.100, Outer: 0.120}
	b, d = narrow.Effective()
	wantNear(t, "narrow b", float64(b), 5e-3, 1e-9)
	wantNear(t, "narrow G", float64(d), 0.110, 1e-9)
}

// Each is found when the load is too low for it, and not when it is enough.
func TestCodeFindings(t *testing.T) {
	j, _, _ := limited(t, 311)
	j.Gasket.M, j.Gasket.Y = 3, 69e6
	j.Pressures = Pressures{Design: 5.11e6, Test: 7.7e6}
	at := func(load unit.Force) []string {
		var all []Finding
		for _, b := range j.addCodeBounds(nil) {
			all = append(all, b.Findings(Scatter{Target: load, Nominal: load}, unit.SI)...)
		}
		return codes(all)
	}
	for load, want := range map[unit.Force][]string{
		93e3: nil, 45e3: {"wm1-test"}, 33e3: {"wm1-design", "wm1-test"}, 31e3: {"wm2", "wm1-design", "wm1-test"},
	} {
		if got := at(load); !slices.Equal(got, want) {
			t.Errorf("at %v: %v, want %v", load, got, want)
		}
	}
	j.Gasket.M = 0 // y is enough to seat
	if got := at(1); !slices.Equal(got, []string{"wm2"}) {
		t.Errorf("without m: %v", got)
	}
	j.Gasket.Y = 0
	if got := at(1); got != nil {
		t.Errorf("without factors: %v", got)
	}
}
