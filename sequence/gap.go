package sequence

import (
	"errors"
	"fmt"
	"slices"

	"evenload/joint/unit"
)

func (w *Walk) measureGaps(s GapCheck, d GapsMeasured) error {
	if err := w.gapsComplete(s, d.Readings); err != nil {
		return err
	}
	r := w.JudgeGaps(s, d.Readings)
	if r.OverLimit || r.Grown {
		w.gaps = &r
		return nil
	}
	w.spread, w.measured = r.Spread, r.Readings
	w.leaveGaps()
	return nil
}

// What a spread may be over before it counts as that.
const (
	// printed is half a thousandth of an inch: a limit of 0.5 mm reads 0.02 in,
	// and what reads the same is not beyond it.
	printed = unit.Length(0.0005 * unit.Inch)
	// leaf is the thinnest leaf of a feeler gauge: two measurements do not tell
	// less apart (common practice).
	leaf = unit.Length(0.03 * unit.Millimetre)
	// twoReadings is by how much two spreads may differ by reading alone, each
	// reading being good to a twentieth of a millimetre (common practice).
	twoReadings = unit.Length(0.1 * unit.Millimetre)
)

// mostGap is the widest gap that is believed; more is a slip of the keys.
const mostGap = unit.Length(0.2)

func (w *Walk) gapsComplete(s GapCheck, readings []Gap) error {
	var at []Bolt
	for _, r := range readings {
		if r.Bolt < 1 || int(r.Bolt) > w.plan.Bolts {
			return fmt.Errorf("there is no bolt %d, the bolts are 1 to %d", r.Bolt, w.plan.Bolts)
		}
		if !(r.Gap >= 0 && r.Gap <= mostGap) {
			return fmt.Errorf("a gap of %s beside bolt %d is not believable: read it again", r.Gap.Text(w.plan.System), r.Bolt)
		}
		if slices.Contains(at, r.Bolt) {
			return fmt.Errorf("bolt %d was given twice", r.Bolt)
		}
		at = append(at, r.Bolt)
	}
	if !s.All {
		if len(readings) != 2 {
			return errors.New("the widest and the narrowest gap are needed, each with its bolt")
		}
		return nil
	}
	for _, b := range s.Places {
		if !slices.Contains(at, b) {
			return fmt.Errorf("the gap beside bolt %d is missing", b)
		}
	}
	if len(at) != len(s.Places) {
		return errors.New("a gap was given at a bolt that is no place to measure")
	}
	return nil
}

func (w *Walk) acceptGaps(s GapCheck, d GapsAccepted) error {
	if s.Over == nil {
		return errors.New("there is nothing to accept: measure the gaps first")
	}
	if err := w.notOperator(d.Named); err != nil {
		return err
	}
	w.spread, w.measured = s.Over.Spread, s.Over.Readings
	w.except("gaps after %s not even, spread %s, accepted by %s: %s", s.After, s.Over.Spread.Text(w.plan.System), d.Name, d.Reason)
	w.leaveGaps()
	return nil
}

// leaveGaps goes on to what follows a measurement that is accepted.
func (w *Walk) leaveGaps() {
	w.gaps = nil
	switch w.phase {
	case phaseSnugGaps:
		w.startPass(0)
	case phasePassGaps:
		if w.pass+1 < len(w.plan.Passes) {
			w.startPass(w.pass + 1)
			return
		}
		w.startCheck("after the passes")
	case phaseFinalGaps:
		w.toEnd()
	}
}

// sameSpread is by how much a spread may grow without counting as grown.
func (w Walk) sameSpread() unit.Length {
	if w.plan.Rules < 3 {
		return leaf
	}
	return twoReadings
}

func (w Walk) gapLimit() unit.Length {
	if w.phase == phaseSnugGaps {
		return w.plan.GapFirst
	}
	return w.plan.GapSpread
}
