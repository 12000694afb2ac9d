package report

import (
	"testing"

	"pgregory.net/rapid"
)

// TestRightWalkIsWorthAll on every level and many seeds, with and without scatter.
func TestRightWalkIsWorthAll(t *testing.T) {
	all, err := levels()
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		l := all[rapid.IntRange(2, len(all)-1).Draw(t, "level")]
		r := newRobot(t, l, rapid.Uint64().Draw(t, "seed"), rapid.Bool().Draw(t, "scatter"))
		r.lets = rapid.Bool().Draw(t, "lets the model go on")
		if m := r.whole(); m.Total != 100 || len(m.Parts) != 4 || len(r.run.Missed()) > 0 {
			t.Fatalf("%s: %+v, missed %+v", l.Name, m, r.run.Missed())
		}
	})
}
