package joint

import (
	"fmt"
	"math"

	"evenload/joint/unit"
)

// mostOff is the part of a pass's torque by which the nearest division may miss
// it (a rule of ours).
const mostOff = 0.1

// PassFindings judges the settings of a tool over all passes, shares beside
// them: so low that the tool may not stall steadily, so coarse that a pass gets
// another torque or the one of the pass before. key is the tool's.
func (t Tool) PassFindings(settings []Setting, shares []unit.Share, key string, system unit.System) []Finding {
	var all []Finding
	for i, s := range settings {
		pass := shares[i].Text()
		if i == 0 && s.Set < SteadyStall*(1-hair) { // passes rise: said once, of the lowest
			all = append(all, Finding{Warning, "low-pressure", key + ".curve", fmt.Sprintf(
				"pass at %s is set to %s: below %s a tool may not stall steadily (common practice): begin with a higher share or take a smaller tool", pass, t.Gauged(s.Set), t.Gauged(SteadyStall))})
		}
		switch off := float64(s.Delivered/s.Torque) - 1; {
		case i > 0 && s.Set <= settings[i-1].Set:
			all = append(all, Finding{Error, "set-same", key + ".gauge.division", fmt.Sprintf(
				"passes at %s and %s are both set to %s: the gauge cannot tell them apart; take a finer gauge, or passes further apart", shares[i-1].Text(), pass, t.Gauged(s.Set))})
		case math.Abs(off) > mostOff:
			all = append(all, Finding{Error, "set-off", key + ".gauge.division", fmt.Sprintf(
				"pass at %s wants %s, and the nearest division %s gives %s: take a finer gauge or a smaller tool", pass, s.Torque.Text(system), t.Gauged(s.Set), s.Delivered.Text(system))})
		}
	}
	return all
}
