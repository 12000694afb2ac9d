package sequence

import (
	"errors"
	"fmt"

	"evenload/joint/unit"
)

// Alignment is how far flanges may be out of line before the gasket goes in,
// without force (ASME PCC-1 Appendix E, from memory).
type Alignment struct {
	Offset   unit.Length `json:"offset_m"`        // of the centre lines
	Parallel unit.Length `json:"parallel_m"`      // widest less narrowest gap at the rim of the faces
	Holes    unit.Length `json:"holes_m"`         // of the bolt holes, turned against each other
	Gap      unit.Length `json:"gap_m,omitempty"` // between the faces at rest; 0: not asked

	Widest    unit.Length `json:"widest_m,omitempty"`    // of the gaps at the rim, where both were read
	Narrowest unit.Length `json:"narrowest_m,omitempty"` // and Parallel is their difference
}

// UsualAlignment has the limits for the usual case: 1.5 mm, 0.8 mm, 3 mm (ASME
// PCC-1 Appendix E, from memory).
var UsualAlignment = Alignment{Offset: 1.5 * unit.Millimetre, Parallel: 0.8 * unit.Millimetre, Holes: 3 * unit.Millimetre}

// mostAlignment is the longest reading that is believed.
const mostAlignment = 500 * unit.Millimetre

// gapDifference names the reading that can be two gaps.
const gapDifference = "Gap difference"

// Reading is one of the things measured, with its limit.
type Reading struct {
	Name  string
	Limit unit.Length
	Value unit.Length
}

// Readings are what is measured, in order, each against the limit of most.
func (a Alignment) Readings(most Alignment) []Reading {
	all := []Reading{{"Centre offset", most.Offset, a.Offset}, {gapDifference, most.Parallel, a.Parallel}, {"Hole offset", most.Holes, a.Holes}}
	if most.Gap > 0 {
		all = append(all, Reading{"Gap at rest", most.Gap, a.Gap})
	}
	return all
}

// IsDifference says that the reading can be two, one less the other.
func (r Reading) IsDifference() bool { return r.Name == gapDifference }

// OverLimit says that a reading is beyond its limit; one that reads the same is not.
func (r Reading) OverLimit() bool { return r.Value > r.Limit+printed }

// Within says that all readings keep their limits.
func (a Alignment) Within(most Alignment) bool {
	for _, r := range a.Readings(most) {
		if r.OverLimit() {
			return false
		}
	}
	return true
}

// Words say every reading, and which are beyond their limits.
func (a Alignment) Words(most Alignment, s unit.System) []string {
	var all []string
	for _, r := range a.Readings(most) {
		text := fmt.Sprintf("%s %s, at most %s", r.Name, r.Value.Text(s), r.Limit.Text(s))
		if r.IsDifference() && a.Widest > 0 {
			text = fmt.Sprintf("%s %s (%s less %s), at most %s", r.Name, r.Value.Text(s), a.Widest.Text(s), a.Narrowest.Text(s), r.Limit.Text(s))
		}
		if r.OverLimit() {
			text += ": BEYOND"
		}
		all = append(all, text)
	}
	return all
}

// judgeAlignment holds an answer against what was measured: yes is within the
// limits and nothing else is.
func (w *Walk) judgeAlignment(q Question, d Answered) error {
	switch {
	case !q.Measured && d.Measured == nil:
		return nil
	case !q.Measured:
		return errors.New("this question is not measured")
	case d.Answer == NotApplicable && d.Measured == nil:
		return nil
	case d.Measured == nil:
		return errors.New("measure, and type the readings")
	}
	for _, r := range d.Measured.Readings(*w.plan.Alignment) {
		if !(r.Value >= 0 && r.Value <= mostAlignment) {
			return fmt.Errorf("%s: %s is not believable, read it again", r.Name, r.Value.Text(w.plan.System))
		}
	}
	if a := d.Measured; !(a.Narrowest >= 0 && a.Widest >= a.Narrowest && a.Widest <= mostAlignment) {
		return errors.New("the widest gap is not below the narrowest: read them again")
	}
	if within := d.Measured.Within(*w.plan.Alignment); within != (d.Answer == Yes) {
		return errors.New("the readings say otherwise")
	}
	return nil
}

// Aligned is the answer that readings of the alignment give.
func (w Walk) Aligned(q Question, a Alignment) Answered {
	d := Answered{Question: q.ID, Answer: No, Measured: &a}
	if a.Within(*w.plan.Alignment) {
		d.Answer = Yes
	}
	return d
}

// IsMeasured says that a question is answered by readings.
func (w Walk) IsMeasured(question string) bool {
	i := w.indexOf(question)
	return i >= 0 && w.plan.Questions[i].Measured
}

// checkMeasured guards against a card whose plan was written by hand.
func checkMeasured(p *Plan) error {
	for _, q := range p.Questions {
		if q.Measured && p.Alignment == nil {
			return fmt.Errorf("question %s of the plan is measured, and the plan has no limits", q.ID)
		}
	}
	if a := p.Alignment; a != nil && !(a.Offset > 0 && a.Parallel > 0 && a.Holes > 0 && a.Gap >= 0) {
		return errors.New("the plan's limits of the alignment are none")
	}
	return nil
}
