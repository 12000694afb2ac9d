package report

import (
	"fmt"
	"slices"

	"evenload/joint/unit"
	"evenload/sequence"
)

// marked is a bolt that was marked so that it can be taken back: by turns (a bolt
// that was left, and released), or by the measure of its stud.
type marked struct {
	bolt  sequence.Bolt
	turns []int
	stud  int // 1 the first of Studs, 0 for none
}

// mark adds what an event says of bolts, as it came to a walk. It gives true for
// events that do nothing but mark them the usual way.
func (d *AsDone) mark(w sequence.Walk, said Said, step sequence.Step, data sequence.Data) bool {
	at := func(b sequence.Bolt, result, note string) {
		t := BoltTurn{Bolt: b, Gasket: d.gasket, Result: result, Note: note, At: said.At, By: said.By, Role: said.Role, Line: said.N}
		switch s := step.(type) {
		case sequence.Tighten:
			t.Place, t.Tool, t.Setting, t.Slot = s.Place, s.Work.Tool, s.Work.Setting, max(0, d.Plan.SlotOf(b))
			if r, ok := d.setBefore(t.Slot); ok && d.Plan.Several() { // a bolt that was missed is of no station now
				t.Tool, t.Setting, t.Letter = r.Tool, r.Setting, r.Letter
			}
			for _, turn := range s.Turns {
				if turn.Bolt == b {
					t.Slot, t.Letter, t.Tool, t.Setting = turn.Slot, turn.Letter, turn.Tool, turn.Setting
				}
			}
			t.Read = d.readBefore(t)
		case sequence.Check:
			t.Place, t.Tool, t.Setting, t.Letter = s.Place, s.Work.Tool, s.Work.Setting, s.Letter
			t.Read = d.readBefore(t)
		case sequence.Set: // found at any bolt before the next one, or at the end
			t.Place, t.Slot = s.Place, max(0, w.SlotAt(b))
			if d.Plan.Several() {
				t.Letter = sequence.Letter(t.Slot)
			}
			if !d.lastTool(&t) {
				t.Tool, _ = w.ToolIn(t.Slot)
			}
		case sequence.Release:
			t.Place, t.Slot, t.Letter = s.Place, s.Slot, s.Letter
			if _, found := data.(sequence.ProblemFound); found { // at another bolt maybe than the one waited for
				t.Slot = max(0, w.SlotAt(b))
				if d.Plan.Several() {
					t.Letter = sequence.Letter(t.Slot)
				}
			}
			if !d.lastTool(&t) { // it was out before the tool came to it: the one in use, set to nothing
				t.Tool, _ = w.ToolIn(t.Slot)
			}
		default: // between passes: what is found there changes no mark of the one before
			t.Place, t.Slot, t.Between = d.under, max(0, w.SlotAt(b)), true
			if d.Plan.Several() {
				t.Letter = sequence.Letter(t.Slot)
			}
			t.Tool, _ = w.ToolIn(t.Slot)
		}
		d.Turns = append(d.Turns, t)
	}
	// stays: the walk can take the mark back.
	stays := func(b sequence.Bolt) { d.marked = append(d.marked, marked{bolt: b, turns: []int{len(d.Turns) - 1}}) }
	switch data := data.(type) {
	case sequence.BoltDone:
		for _, b := range data.Bolts {
			at(b, ResultDone, "")
			stays(b)
		}
		return true
	case sequence.NutMoved:
		at(data.Bolt, ResultMoved, "")
		stays(data.Bolt)
		return true
	case sequence.NutStill:
		at(data.Bolt, ResultStill, "")
		stays(data.Bolt)
		return true
	case sequence.ProblemFound:
		if data.Bolt > 0 {
			d.problem(said, step, data, at, stays)
		}
	case sequence.Replaced:
		at(data.Bolt, ResultNewParts, said.Text)
	case sequence.Released:
		if data.Of == sequence.OfBolt {
			at(data.Bolt, ResultReleased, said.Text)
			// What is taken back is then the release with what was released.
			if i := d.lastMarked(data.Bolt); i >= 0 {
				d.marked[i].turns = append(d.marked[i].turns, len(d.Turns)-1)
			}
		}
	case sequence.Undone:
		bolts := data.Bolts
		if data.Bolt > 0 {
			bolts = []sequence.Bolt{data.Bolt}
		}
		for _, b := range bolts {
			d.takeBack(b, fmt.Sprintf("taken back by line %d", said.N))
		}
	}
	return false
}

// problem adds one that was found at a bolt. One that was tightened out of order
// has its mark; one that was missed loses it.
func (d *AsDone) problem(said Said, step sequence.Step, p sequence.ProblemFound, at func(sequence.Bolt, string, string), stays func(sequence.Bolt)) {
	t, known := sequence.TroubleOf(p.What)
	switch _, check := step.(sequence.Check); {
	case p.What == sequence.Missed:
		d.takeBack(p.Bolt, fmt.Sprintf("found missed in line %d", said.N))
		at(p.Bolt, ResultProblem, said.Text)
	case p.What == sequence.WrongBolt && check:
		at(p.Bolt, ResultMoved, said.Text)
		stays(p.Bolt)
	case p.What == sequence.WrongBolt:
		at(p.Bolt, ResultDone, said.Text)
		stays(p.Bolt)
		if s, ok := step.(sequence.Tighten); ok {
			for _, turn := range s.Turns {
				if t := &d.Turns[len(d.Turns)-1]; turn.Slot == p.Tool { // by the tool that was at it
					t.Slot, t.Letter, t.Tool, t.Setting = turn.Slot, turn.Letter, turn.Tool, turn.Setting
					t.Read = d.readBefore(*t)
				}
			}
		}
	default:
		at(p.Bolt, ResultProblem, said.Text)
		if (!known || t.Leaves()) && !p.Now {
			stays(p.Bolt)
		}
	}
}

func (d *AsDone) lastMarked(b sequence.Bolt) int {
	for i, m := range slices.Backward(d.marked) {
		if m.bolt == b {
			return i
		}
	}
	return -1
}

// takeBack takes back the last mark of a bolt, which may be that of its stud.
func (d *AsDone) takeBack(b sequence.Bolt, how string) {
	i := d.lastMarked(b)
	if i < 0 {
		return
	}
	m := d.marked[i]
	d.marked = slices.Delete(d.marked, i, i+1)
	if m.stud > 0 {
		d.Studs[m.stud-1].Result = StudTakenBack
	}
	for _, turn := range m.turns {
		t := &d.Turns[turn]
		if t.Note == "" {
			t.Note = "was: " + t.Result
		}
		t.Note, t.Result = t.Note+", "+how, ResultTakenBack
	}
}

// lastTool is the tool that was last at the bolt in this pass or round, with what
// its gauge read, for a release that names none: false where none was.
func (d *AsDone) lastTool(t *BoltTurn) bool {
	for _, before := range slices.Backward(d.Turns) {
		if before.Bolt == t.Bolt && before.Gasket == t.Gasket && before.Pass == t.Pass && before.RoundSet == t.RoundSet && before.Round == t.Round {
			t.Slot, t.Letter, t.Tool, t.Setting, t.Read = before.Slot, before.Letter, before.Tool, before.Setting, before.Read
			return true
		}
	}
	return false
}

// setBefore is the last reading of a slot that its tool was set by.
func (d *AsDone) setBefore(slot int) (PressureRead, bool) {
	for _, r := range slices.Backward(d.Reads) {
		if r.Slot == slot && !r.AtEnd {
			return r, true
		}
	}
	return PressureRead{}, false
}

// readBefore is that reading for a turn, in the state that counts; 0 where there is none.
func (d *AsDone) readBefore(t BoltTurn) unit.Pressure {
	r, ok := d.setBefore(t.Slot)
	if !ok {
		return 0
	}
	return r.Counts()
}

// open adds the bolts of each pass that have no mark in it, as it was begun last.
func (d *AsDone) open() {
	passes, _ := d.Columns()
	result := ResultOpen
	if d.State == Damaged {
		result = ResultUnknown
	}
	for _, c := range passes {
		if !c.Latest || c.Gasket < d.gasket {
			continue
		}
		pass := d.Plan.Passes[c.Pass-1]
		for _, s := range d.Plan.Stations {
			for slot, b := range s {
				if _, any := d.Last(b, c); any {
					continue
				}
				t := BoltTurn{Gasket: c.Gasket, Place: sequence.Place{Pass: c.Pass, Of: len(d.Plan.Passes), Share: pass.Share, Repeat: c.Repeat}, Bolt: b, Slot: slot, Tool: d.Plan.Tools[slot],
					Setting: pass.Settings[slot], Result: result}
				if d.Plan.Several() {
					t.Letter = sequence.Letter(slot)
				}
				d.Turns = append(d.Turns, t)
			}
		}
	}
}
