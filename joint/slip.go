package joint

import (
	"fmt"
	"math"

	"evenload/joint/unit"
)

// What is usual of a target: the axial stress of a bolt as a share of its
// yield, or where that is not known as a stress (common practice).
const (
	leastUsualShare, mostUsualShare   = 0.2, 0.9
	leastUsualStress, mostUsualStress = unit.Stress(100e6), unit.Stress(600e6)
)

// A sound target, about, as a share of yield: what is left when a slip is taken
// back (common practice).
const leastSound, middling, mostSound = 0.25, 0.45, 0.75

// slip is a factor between two units that are taken for one another (NIST SP
// 811 Appendix B).
type slip struct {
	factor float64
	units  string
}

// slips are those of each form of target. One of 10.2 is N·m against kgf·cm
// and kgf·m, by how the point is moved.
var slips = map[TargetKind][]slip{
	ByTorque:     {{1.355818, "N·m and lbf·ft"}, {9.80665, "N·m and kgf·m"}, {10.19716, "N·m and kgf·cm"}, {12, "lbf·ft and lbf·in"}},
	ByBoltStress: {{6.894757, "MPa and ksi"}, {10, "MPa and bar"}, {14.50377, "bar and psi"}, {145.0377, "MPa and psi"}},
	ByBoltLoad:   {{4.448222, "kN and thousands of lbf"}, {9.80665, "kN and tonnes-force"}},
}

// sizeFindings says when a target is rare for the size of the bolt, and names
// the units that may have been mixed.
func (j Joint) sizeFindings(system unit.System) []Finding {
	aim, err := j.Aim()
	if err != nil {
		return nil
	}
	share, usual := float64(aim.YieldShare), fmt.Sprintf("%.0f %% to %.0f %% of yield is usual", leastUsualShare*100, mostUsualShare*100)
	is, out := aim.YieldShare.Text()+" of yield", share < leastUsualShare || share > mostUsualShare
	if aim.YieldShare <= 0 {
		is, usual = aim.TensileStress.Text(system), fmt.Sprintf("%s to %s is usual", leastUsualStress.Text(system), mostUsualStress.Text(system))
		share, out = float64(aim.TensileStress/720e6), aim.TensileStress < leastUsualStress || aim.TensileStress > mostUsualStress
	}
	if !out {
		return nil
	}
	text := fmt.Sprintf("the target, %s, gives a bolt %s %s on the tensile area; %s (common practice): look at target, thread and friction", aim.Torque.Text(system), j.Thread.Designation, is, usual)
	if s, found := nearestSlip(slips[j.Target.Kind], share); found {
		text += fmt.Sprintf("; it is about %.3g times off, as when %s are mixed", s.factor, s.units)
	}
	return []Finding{{Warning, "target-size", "target", text}}
}

// nearestSlip is the slip that leaves a share of yield soundest when it is
// taken back; none where it would not be sound.
func nearestSlip(all []slip, share float64) (slip, bool) {
	best, off := slip{}, math.Inf(1)
	for _, s := range all {
		back := share / s.factor
		if share < middling {
			back = share * s.factor
		}
		if d := math.Abs(math.Log(back / middling)); back >= leastSound && back <= mostSound && d < off {
			best, off = s, d
		}
	}
	return best, best.factor > 0
}

// Between these the top of a chart lies: the air of tools has 6 to 10 bar
// (common practice).
const leastTop, mostTop = unit.Pressure(1 * unit.Bar), unit.Pressure(20 * unit.Bar)

// chartUnits says when the pressures of a chart are those of another unit: bar
// and psi are 14.5 apart.
func (t Tool) chartUnits(key string) []Finding {
	top := t.Chart.Last().Pressure
	if top >= leastTop && top <= mostTop {
		return nil
	}
	return []Finding{{Error, "chart-units", key + ".curve", fmt.Sprintf("the chart ends at %s, and air for tools has about 6 to 10 bar (90 to 150 psi): are bar and psi mixed, 14.5 to one?",
		t.Gauged(top))}}
}
