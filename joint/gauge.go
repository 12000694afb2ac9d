package joint

import (
	"fmt"
	"math"
	"strings"

	"evenload/joint/unit"
)

// Gauge is a pressure gauge as its dial and certificate say.
type Gauge struct {
	ID       string            `json:"id"`
	Class    float64           `json:"class"` // error in per cent of the span, EN 837-1
	Low      unit.Pressure     `json:"low_Pa"`
	High     unit.Pressure     `json:"high_Pa"`
	Division unit.Pressure     `json:"division_Pa"`
	Unit     unit.PressureUnit `json:"unit"`
	Due      Date              `json:"due"`
}

// onDial says whether the dial shows a pressure.
func (g Gauge) onDial(p unit.Pressure) bool { return p >= g.Low*(1-hair) && p <= g.High*(1+hair) }

// Errors are the two parts by which a reading may be wrong: the class, a share
// of the span wherever the needle stands (EN 837-1), and half a division of
// the dial.
func (g Gauge) Errors() (class, division unit.Pressure) {
	return unit.Pressure(g.Class/100) * (g.High - g.Low), g.Division / 2
}

// From which share of the setting on a gauge's class is asked about (rules of
// ours).
const wideClass, tooWideClass = 0.03, 0.05

// gaugeFindings holds the gauge against the last setting and against the tool.
func (j Joint) gaugeFindings(t Tool, key string, s Setting) []Finding {
	var all []Finding
	class, division := t.Gauge.Errors()
	if share := unit.Share(class / s.Set); share > wideClass {
		code := "gauge-error"
		if share > tooWideClass {
			code = "gauge-error-large"
		}
		all = append(all, Finding{Warning, code, key + ".gauge.class", fmt.Sprintf(
			"%s, class %v of %s to %s, may be wrong by %s, %s of the setting %s (EN 837-1): take one of a finer class or a shorter span",
			strings.TrimSpace("gauge "+t.Gauge.ID), t.Gauge.Class, t.Gauge.Low.Exact(t.Gauge.Unit), t.Typed(t.Gauge.High), t.Fine(class), unit.Share(math.Ceil(float64(share)*1000)/1000).Text(), t.Gauged(s.Set))})
	}
	scatter := j.Scatter(t, s)
	if tool, gauge := scatter.part("tool"), scatter.part("gauge"); tool > 0 && gauge > tool+0.001 { // told apart in print
		all = append(all, Finding{Note, "gauge-over-tool", key + ".gauge", fmt.Sprintf(
			"the gauge makes more of the torque's error than the tool: %s for its class and %s for half a division are %s of the torque, the tool has %s",
			t.Fine(class), t.Fine(division), gauge.Text(), tool.Text())})
	}
	return all
}
