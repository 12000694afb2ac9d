package report

import (
	"strings"
	"testing"

	"evenload/data/card"
	"evenload/joint/unit"
)

// TestRecordInOtherUnits: a card that was walked in one system of units reads whole in the
// other, but for what line 1 froze in words.
func TestRecordInOtherUnits(t *testing.T) {
	for _, name := range []string{"aaaaaa", "bbbbbb", "cccccc"} {
		c, err := card.Read("../../testdata/cards/DH-220-D1.20261125-" + name + ".card.jsonl")
		if err != nil {
			t.Fatal(err)
		}
		for to, foreign := range map[unit.System][]string{unit.US: {" N·m", " kN", " mm", " MPa"}, unit.SI: {" lbf", " in,", " ksi", " psi"}} {
			var out strings.Builder
			if err := Record(&out, c.InUnits(to)); err != nil {
				t.Fatal(err)
			}
			own := map[unit.System]string{unit.US: " lbf·ft", unit.SI: " N·m"}[to]
			if !strings.Contains(out.String(), own) || !strings.Contains(out.String(), c.Seal()) {
				t.Errorf("%s in %s has no%s, or another seal than %s", name, to, own, c.Seal())
			}
			for line := range strings.Lines(out.String()) {
				for _, f := range foreign {
					if strings.Contains(line, f) && !strings.HasPrefix(line, "socket ") {
						t.Errorf("%s in %s says%s: %s", name, to, f, line)
					}
				}
			}
		}
		if system := c.Opened().Plan.System; system != unit.SI {
			t.Errorf("the card itself is in %s now", system)
		}
	}
}
