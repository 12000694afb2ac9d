package report

import (
	"strings"
	"testing"

	"evenload/data/reference"
)

func TestShow(t *testing.T) {
	for _, c := range []struct{ kind, name, want string }{
		{"flange", "8 in 300#", "bolt_circle_mm 330.2"},
		{"flange", "8 in 300#", "hub_large_X_mm"},
		{"flange", "DN 450 PN 10", "from memory: check it"},
		{"grade", "B7", "105"},
		{"lubricant", "nickel anti-seize", "0.27"},
		{"gasket", "spiral wound, stainless", "68.9"},
		{"seal", "NPS 8 class 300", "233.4"},
		{"nut", "ISO 4032 M20", "30"},
		{"pipe", "NPS 8 schedule 40", "0.322"},
		{"scatter", "torque wrench", "Machinery's Handbook"},
	} {
		var out strings.Builder
		err := Show(&out, c.kind, c.name)
		squeezed := strings.Join(strings.Fields(out.String()), " ")
		if err != nil || !strings.Contains(squeezed, c.want) || !strings.Contains(squeezed, "source") {
			t.Errorf("show %s %q: %v\n%s", c.kind, c.name, err, out.String())
		}
	}
	for _, k := range reference.Kinds() {
		var out strings.Builder
		if err := Show(&out, k.Name, ""); err != nil || strings.Count(out.String(), "\n") < len(k.Tables()[0].Rows) || !strings.Contains(out.String(), "source: ") {
			t.Errorf("show %s: %v", k.Name, err)
		}
	}
	for kind, name := range map[string]string{"flanges": "", "grade": "B77"} {
		if err := Show(&strings.Builder{}, kind, name); err == nil {
			t.Errorf("show %s %s gives no error", kind, name)
		}
	}
}
