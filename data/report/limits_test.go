package report

import (
	"strings"
	"testing"

	"evenload/joint"
)

// A bar shows by its signs where target and scatter stand to the limit.
func TestBars(t *testing.T) {
	s := joint.Scatter{Target: 50e3, Nominal: 50e3, Low: 0.2, High: 0.2}
	for _, c := range []struct {
		bound joint.Bound
		want  string
	}{
		{joint.Bound{Most: 80e3}, "================(---T---)=======]......."},
		{joint.Bound{Most: 55e3}, "================(---T-]-)..............."},
		{joint.Bound{Least: 20e3}, "........[=======(---T---)==============="},
		{joint.Bound{Least: 45e3}, "................(-[-T---)==============="},
		{joint.Bound{Least: 90e3}, "................(---T---)...........[==="},
		{joint.Bound{Most: 60e3}, "================(---T---]..............."},
		{joint.Bound{Least: 40e3}, "................[---T---)==============="},
		{joint.Bound{Most: 50.1e3}, "================(---T]--)..............."},
		{joint.Bound{Most: 49.9e3}, "================(--]T---)..............."},
		{joint.Bound{Least: 50.1e3}, "................(---T[--)==============="},
	} {
		if got := bar(c.bound, s, 100e3); got != c.want {
			t.Errorf("%+v:\n%s, want\n%s", c.bound, got, c.want)
		}
	}
}

// A broken limit is on the page though there are no passes then, and in the
// JSON with its verdict.
func TestBrokenLimitIsShown(t *testing.T) {
	j := changed(t, `most_stress  = "210 MPa"`, `most_stress  = "90 MPa"`)
	text := planText(t, j, day)
	for _, want := range []string{"gasket: crush", "  ERROR  |", "NOT FOR WORK", "5.1 bar running", "(gasket-crush)"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q:\n%s", want, text)
		}
	}
	got := decoded(t, j, day)
	for path, want := range map[string]any{"limits #2 code": "gasket-crush", "limits #2 verdict": "error", "limits #2 least_kN": nil, "limits #0 verdict": "kept"} {
		if v, err := at(got, path); err != nil || v != want {
			t.Errorf("%s is %v, want %v: %v", path, v, want, err)
		}
	}
	if v, _ := at(got, "limits #2 most_kN"); v.(float64) < 88.7 || v.(float64) > 88.8 { // 90 MPa x 11830 mm² / 12
		t.Errorf("the gasket's limit is %v kN", v)
	}
}
