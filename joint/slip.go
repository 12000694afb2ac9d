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

// usualYield stands for the yield of bolts where it is not known: that of A193 B7
// up to 2-1/2 in, as in data/reference/tables/materials.csv.
const usualYield = unit.Stress(720e6)

// A sound target, about, as a share of yield: what is left when a slip is taken
// back (common practice).
const leastSound, middling, mostSound = 0.25, 0.45, 0.75

// slip is a factor between two units that are taken for one another (NIST SP
// 811 Appendix B).
type slip struct {
	factor float64
	units  string
}

// slips are those of each form of target.
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
	round := math.Floor // never rounded to what is usual
	if share > mostUsualShare {
		round = math.Ceil
	}
	is, out := unit.Share(round(share*1000)/1000).Text()+" of yield", share < leastUsualShare || share > mostUsualShare
	if aim.YieldShare <= 0 {
		is, usual = aim.TensileStress.Text(system), fmt.Sprintf("%s to %s is usual", leastUsualStress.Text(system), mostUsualStress.Text(system))
		share, out = float64(aim.TensileStress/usualYield), aim.TensileStress < leastUsualStress || aim.TensileStress > mostUsualStress
	}
	if !out {
		return nil
	}
	text := fmt.Sprintf("the target, %s, gives a bolt %s %s on the tensile area; %s (common practice): look at target, thread and friction", aim.Torque.Text(system), j.Thread.Designation, is, usual)
	if s, found := nearestSlip(slips[j.Target.Kind], share); found {
		text += fmt.Sprintf("; %.3g times off it would be usual: are %s mixed?", s.factor, s.units)
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
