package report

import (
	"fmt"
	"slices"

	"evenload/joint/unit"
	"evenload/sequence"
)

// marked is a bolt that was marked: by a turn, or by the measure of its stud.
type marked struct {
	bolt sequence.Bolt
	turn int // -1 for a stud
}

// mark adds what an event says of bolts, as it came to a walk. It gives true for
// events that do nothing but mark them the usual way.
func (d *AsDone) mark(said Said, w sequence.Walk, step sequence.Step, data sequence.Data) bool {
	at := func(b sequence.Bolt, result, note string) {
		t := BoltTurn{Bolt: b, Result: result, Note: note, At: said.At, By: said.By, Role: said.Role, Line: said.N}
		switch s := step.(type) {
		case sequence.Tighten:
			t.Place, t.Tool, t.Setting, t.Slot = s.Place, s.Work.Tool, s.Work.Setting, max(0, d.Plan.SlotOf(b))
			for _, turn := range s.Turns {
				if turn.Bolt == b {
					t.Slot, t.Letter, t.Tool, t.Setting = turn.Slot, turn.Letter, turn.Tool, turn.Setting
				}
			}
		case sequence.Check:
			t.Place, t.Tool, t.Setting, t.Letter = s.Place, s.Work.Tool, s.Work.Setting, s.Letter
		case sequence.Release:
			t.Place, t.Slot, t.Letter = s.Place, s.Slot, s.Letter
			d.lastTool(&t)
		default:
			return // no bolt's turn: the sentence says it
		}
		t.Read = d.readBefore(t)
		d.marked = append(d.marked, marked{b, len(d.Turns)})
		d.Turns = append(d.Turns, t)
	}
	switch data := data.(type) {
	case sequence.BoltDone:
		for _, b := range data.Bolts {
			at(b, ResultDone, "")
		}
		return true
	case sequence.NutMoved:
		at(data.Bolt, ResultMoved, "")
		return true
	case sequence.NutStill:
		at(data.Bolt, ResultStill, "")
		return true
	case sequence.ProblemFound:
		if data.Bolt > 0 {
			at(data.Bolt, ResultProblem, said.Text)
		}
	case sequence.Released:
		if data.Restart {
			d.againTurn, d.againRead = len(d.Turns), len(d.Reads)
		}
		if data.Of == sequence.OfBolt {
			at(data.Bolt, ResultReleased, said.Text)
		}
	case sequence.Undone:
		bolts := data.Bolts
		if data.Bolt > 0 {
			bolts = []sequence.Bolt{data.Bolt}
		}
		for _, b := range bolts {
			d.takeBack(b)
		}
	}
	return false
}

// takeBack takes back the last mark of a bolt, which may be that of its stud.
func (d *AsDone) takeBack(b sequence.Bolt) {
	for i, m := range slices.Backward(d.marked) {
		if m.bolt != b {
			continue
		}
		d.marked = slices.Delete(d.marked, i, i+1)
		if m.turn >= 0 {
			t := &d.Turns[m.turn]
			if t.Note == "" {
				t.Note = "was: " + t.Result
			}
			t.Result = ResultTakenBack
		}
		return
	}
}

// lastTool is the tool that was last at the bolt in this pass or round, for a
// release that names none.
func (d *AsDone) lastTool(t *BoltTurn) {
	for _, before := range slices.Backward(d.Turns) {
		if before.Bolt == t.Bolt && before.Pass == t.Pass && before.RoundSet == t.RoundSet && before.Round == t.Round {
			t.Slot, t.Letter, t.Tool, t.Setting = before.Slot, before.Letter, before.Tool, before.Setting
			return
		}
	}
}

// readBefore is the last reading of the tool of a turn before it, that counts.
func (d *AsDone) readBefore(t BoltTurn) unit.Pressure {
	for _, r := range slices.Backward(d.Reads) {
		if r.Slot == t.Slot && !r.AtEnd {
			return r.Counts()
		}
	}
	return 0
}

// open adds the bolts of each pass that have no mark in it, as it was begun last.
func (d *AsDone) open() {
	passes, _ := d.Columns()
	result := ResultOpen
	if d.State == Damaged {
		result = ResultUnknown
	}
	for _, c := range passes {
		if !c.Latest {
			continue
		}
		pass := d.Plan.Passes[c.Pass-1]
		for _, s := range d.Plan.Stations {
			for slot, b := range s {
				if _, any := d.Last(b, c); any {
					continue
				}
				t := BoltTurn{Place: sequence.Place{Pass: c.Pass, Of: len(d.Plan.Passes), Share: pass.Share, Repeat: c.Repeat}, Bolt: b, Slot: slot, Tool: d.Plan.Tools[slot],
					Setting: pass.Settings[slot], Result: result}
				if d.Plan.Several() {
					t.Letter = sequence.Letter(slot)
				}
				d.Turns = append(d.Turns, t)
			}
		}
	}
}

// Column is a pass as it was begun once, or a check round.
type Column struct {
	Pass, Repeat    int // Repeat: how often it was begun again before
	RoundSet, Round int // 0 in a pass
	Latest          bool
}

// Columns are the passes, each as often as it was begun, and the check rounds
// that were begun.
func (d *AsDone) Columns() (passes, rounds []Column) {
	for i := range d.Plan.Passes {
		repeats := 0
		for _, t := range d.Turns[d.againTurn:] {
			if t.Pass == i+1 && t.Round == 0 {
				repeats = max(repeats, t.Repeat)
			}
		}
		for _, r := range d.Reads[d.againRead:] {
			if r.Pass == i+1 && r.Round == 0 {
				repeats = max(repeats, r.Repeat)
			}
		}
		for r := range repeats + 1 {
			passes = append(passes, Column{Pass: i + 1, Repeat: r, Latest: r == repeats})
		}
	}
	for _, t := range d.Turns[d.againTurn:] {
		if c := (Column{RoundSet: t.RoundSet, Round: t.Round}); c.Round > 0 && !slices.Contains(rounds, c) {
			rounds = append(rounds, c)
		}
	}
	return passes, rounds
}

// Text names a column: 60 %; 60 % 2nd for a pass that was begun again; round 1.2
// for the second round of the first set.
func (d *AsDone) Text(c Column) string {
	if c.Round > 0 {
		return fmt.Sprintf("round %d.%d", c.RoundSet, c.Round)
	}
	share := d.Plan.Passes[c.Pass-1].Share.Text()
	if c.Repeat == 0 {
		return share
	}
	return fmt.Sprintf("%s again %d", share, c.Repeat)
}

// has says that a mark belongs to a column: what a new bolt repeats alone
// belongs to its pass as it was done last.
func (c Column) has(t BoltTurn) bool {
	if c.Round > 0 {
		return t.RoundSet == c.RoundSet && t.Round == c.Round
	}
	return t.Round == 0 && t.Pass == c.Pass && (t.Repeat == c.Repeat && t.Redo == 0 || c.Latest && t.Redo > 0)
}

// Last is the last mark of a bolt in a column; false when it has none.
func (d *AsDone) Last(b sequence.Bolt, c Column) (BoltTurn, bool) {
	for _, t := range slices.Backward(d.Turns[d.againTurn:]) {
		if t.Bolt == b && c.has(t) && t.Result != ResultTakenBack {
			return t, true
		}
	}
	return BoltTurn{}, false
}

// SetWhy says after what, or what for, a set of check rounds was begun; empty for 0.
func (d *AsDone) SetWhy(set int) string {
	if all := d.Walk.RoundSets(); set > 0 && set <= len(all) {
		return all[set-1]
	}
	return ""
}
