package report

import (
	"strings"
	"testing"

	"evenload/joint/unit"
	"evenload/sequence"
)

// TestRecordOfHoldPoints: who looked, and at what.
func TestRecordOfHoldPoints(t *testing.T) {
	o := opened(t)
	o.Plan.Hold = sequence.HoldPoints([]unit.Share{0.5, 1}, true)
	c := begin(t, o)
	c.toTheEnd()
	text := recordOf(t, c.close())
	for _, h := range o.Plan.Hold {
		if !strings.Contains(text, "released, hold point "+h.Name+", by Eva, engineer: looked at\n") {
			t.Errorf("hold point %s is not in the record:\n%s", h.Name, text)
		}
	}
}
