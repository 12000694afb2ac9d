package report

import (
	"cmp"

	"evenload/sequence"
)

// endOf is the reading that ended what a bolt was tightened or looked at in: of the
// same pass or series of rounds, of the same slot, with the tool that was at the bolt. False
// where none was taken since, and for a bolt that no tool came to.
func (d *AsDone) endOf(t BoltTurn) (PressureRead, bool) {
	if t.Line == 0 || t.Read == 0 {
		return PressureRead{}, false
	}
	for _, r := range d.Reads {
		if r.AtEnd && r.Line > t.Line && r.Gasket == t.Gasket && r.Slot == t.Slot && r.within(t.Place) && sameTool(r.Tool, t.Tool) {
			return r, true
		}
	}
	return PressureRead{}, false
}

// within says that a reading was taken in a pass, as often as it was begun, or in a
// series of check rounds, which is read once at its end.
func (r PressureRead) within(p sequence.Place) bool {
	if p.Round > 0 {
		return r.Round > 0 && r.RoundSet == p.RoundSet && r.Redo == p.Redo
	}
	return r.Round == 0 && r.Pass == p.Pass && r.Repeat == p.Repeat && r.Redo == p.Redo
}

// endReleased gives the end reading that was high the person who let it count.
func (d *AsDone) endReleased(of sequence.Released) {
	for i := len(d.Reads) - 1; i >= 0; i-- {
		if d.Reads[i].AtEnd && d.Reads[i].Slot == of.Tool {
			d.Reads[i].Released = &of.Named
			return
		}
	}
}

// endCells are the end reading of a turn in the unit of its gauge, how it was judged,
// and who released it; empty where there is none.
func (d *AsDone) endCells(t BoltTurn, spell spelling) []string {
	r, ok := d.endOf(t)
	if !ok {
		return []string{"", "", ""}
	}
	by := ""
	if r.Released != nil {
		by = plainCell(DecidedBy(*r.Released))
	}
	return []string{spell.number(r.Counts().In(t.Tool.Gauge.Unit), 4), cmp.Or(r.judged(), "in"), by}
}
