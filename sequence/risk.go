package sequence

import (
	"fmt"
	"slices"

	"evenload/joint/unit"
)

// touched keeps which bolts a tool worked on since its pressure was last good.
func (w *Walk) touched(slot int, b Bolt) {
	if bolts := w.sinceGood(slot); !slices.Contains(bolts, b) {
		w.keepSince(slot, and(bolts, b))
	}
}

// good says that the pressure of a tool is.
func (w *Walk) good(slot int) { w.keepSince(slot, nil) }

func (w *Walk) keepSince(slot int, bolts []Bolt) {
	since := make([][]Bolt, len(w.plan.Tools))
	copy(since, w.since)
	since[slot] = bolts
	w.since = since
}

// sinceGood are the bolts that a tool worked on since its pressure was last good.
func (w *Walk) sinceGood(slot int) []Bolt {
	if slot >= len(w.since) {
		return nil
	}
	return w.since[slot]
}

// AtRisk is what a wrong pressure may have done: an estimate.
type AtRisk struct {
	Bolts    []Bolt      // worked on since the pressure was last good
	Torque   unit.Torque // by the chart; 0: the reading lies beyond it
	HighLoad unit.Force  // of a bolt that turned out high; 0: not known
	Yield    unit.Share  // of the bolt's yield, at the high load; 0: not known
	Crush    unit.Share  // of what the gasket bears, at the high load; 0: not known
}

// Risk judges a pressure that was read at the tool of a slot, from its chart and
// the strength that the card froze.
func (w Walk) Risk(slot int, read unit.Pressure) AtRisk {
	tool, s := w.tool(slot), w.current(slot)
	r := AtRisk{Bolts: slices.Clone(w.sinceGood(slot))}
	torque, err := tool.Chart.Torque(read)
	if err != nil {
		return r
	}
	r.Torque = torque
	st := w.plan.Strength
	if st == nil {
		return r
	}
	s.Set, s.Delivered = read, torque
	r.HighLoad = st.HighLoad(tool, s)
	if st.Yield > 0 {
		r.Yield = unit.Share(r.HighLoad / st.Yield)
	}
	if st.Crush > 0 {
		r.Crush = unit.Share(r.HighLoad / st.Crush)
	}
	return r
}

// RiskWords say what a wrong pressure may have done, and to which bolts.
func (w Walk) RiskWords(slot int, read unit.Pressure) []string {
	r := w.Risk(slot, read)
	since := "since the pressure was last good"
	if w.plan.Several() {
		since = "since the pressure of tool " + Letter(slot) + " was last good"
	}
	if len(r.Bolts) == 0 {
		return []string{"No bolt was worked on " + since + "."}
	}
	words := []string{fmt.Sprintf("At risk, %s: %s.", since, boltNames(r.Bolts))}
	if r.Torque == 0 {
		return append(words, "The reading is beyond the chart: its torque is not known.")
	}
	text := fmt.Sprintf("By the chart that reading gives %s.", r.Torque.Text(w.plan.System))
	if r.HighLoad > 0 {
		text += fmt.Sprintf(" A bolt that turned out high may carry about %s", r.HighLoad.Text(w.plan.System))
		switch {
		case r.Yield > 0 && r.Crush > 0:
			text += fmt.Sprintf(": %s of yield, and %s of what the gasket bears", percent(r.Yield), percent(r.Crush))
		case r.Yield > 0:
			text += fmt.Sprintf(": %s of yield; what the gasket bears is not known", percent(r.Yield))
		case r.Crush > 0:
			text += fmt.Sprintf(": %s of what the gasket bears; yield is not known", percent(r.Crush))
		default:
			text += "; yield and what the gasket bears are not known"
		}
		text += "."
	}
	return append(words, text)
}

// boltNames is a list of bolts in a sentence.
func boltNames(bolts []Bolt) string {
	if len(bolts) == 1 {
		return "bolt " + BoltList(bolts)
	}
	return "bolts " + BoltList(bolts)
}

// percent is a whole number: no estimate is better.
func percent(s unit.Share) string { return fmt.Sprintf("%.0f %%", float64(s)*100) }

// ReadingRisk says of a reading what RiskWords do, where it is above the band
// at the end of a pass.
func (w Walk) ReadingRisk(d PressureSet) []string {
	w.advance()
	if d.Tool < 0 || d.Tool >= len(w.plan.Tools) {
		return nil
	}
	read := d.ByChart(w.tool(d.Tool))
	if s := w.current(d.Tool); !d.AtEnd || read <= s.Most || s.InBand(read) {
		return nil
	}
	return w.RiskWords(d.Tool, read)
}

// ReadsLow says that an end reading lies below its band.
func (w Walk) ReadsLow(d PressureSet) bool {
	w.advance()
	if !d.AtEnd || d.Tool < 0 || d.Tool >= len(w.plan.Tools) {
		return false
	}
	read := d.ByChart(w.tool(d.Tool))
	s := w.current(d.Tool)
	return read < s.Least && !s.InBand(read)
}
