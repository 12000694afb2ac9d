package report

import (
	"strings"
	"testing"
)

// TestPositions: where the bolts of a cover are stands in the plan for people
// and for programs; a ring has none.
func TestPositions(t *testing.T) {
	cover := load(t, jobs+"filter-cover-10.toml")
	got, err := at(decoded(t, cover, day), "positions_mm #0")
	if pair, ok := got.([]any); err != nil || !ok || len(pair) != 2 || pair[0] != -225.0 || pair[1] != 150.0 {
		t.Errorf("bolt 1 is at %v: %v", got, err)
	}
	if got, err := at(decoded(t, load(t, jobs+"strainer-8in-300.toml"), day), "positions_mm"); got != nil || err != nil {
		t.Errorf("a ring has positions %v: %v", got, err)
	}
	p, _ := cover.Plan(day)
	p.Positions[0], p.Positions[4] = p.Positions[4], p.Positions[0]
	if numbered(p) != "as the positions have them" {
		t.Errorf("numbers that do not run round are %s", numbered(p))
	}
	p.System = "us"
	if text := positions(p); !strings.HasPrefix(text, "1 (8.86, 0)") || !strings.Contains(text, " in, ") {
		t.Error(text)
	}
}
