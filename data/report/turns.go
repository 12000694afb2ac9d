package report

import (
	"slices"

	"evenload/joint/unit"
	"evenload/sequence"
)

// mark adds what an event says of bolts. It gives true for events that do
// nothing but mark them the usual way.
func (d *AsDone) mark(said Said, step sequence.Step, data sequence.Data) bool {
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
			t.Place, t.Tool, t.Setting, t.Letter, t.Series = s.Place, s.Work.Tool, s.Work.Setting, s.Letter, d.series()
		case sequence.Release:
			t.Place, t.Slot, t.Letter = s.Place, s.Slot, s.Letter
			if t.Round > 0 {
				t.Series = d.series()
			}
			d.lastTool(&t)
		default:
			return // no bolt's turn: the sentence says it
		}
		t.Read = d.readBefore(t)
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
			d.againTurn, d.againEvent = len(d.Turns), len(d.Events)
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

// takeBack marks the last mark of a bolt as taken back.
func (d *AsDone) takeBack(b sequence.Bolt) {
	for i := len(d.Turns) - 1; i >= 0; i-- {
		t := &d.Turns[i]
		if t.Bolt != b || t.Result == ResultTakenBack {
			continue
		}
		if t.Note == "" {
			t.Note = "was: " + t.Result
		}
		t.Result = ResultTakenBack
		return
	}
}

// series is that of the check rounds under way: 2 once the rest is over.
func (d *AsDone) series() int {
	for _, e := range d.Events[d.againEvent:] {
		if e.Kind == (sequence.RestOver{}).Kind() || e.Kind == (sequence.RestWaived{}).Kind() {
			return 2
		}
	}
	return 1
}

// lastTool is the tool that was last at the bolt in this pass or round, for a
// release that names none.
func (d *AsDone) lastTool(t *BoltTurn) {
	for _, before := range slices.Backward(d.Turns) {
		if before.Bolt == t.Bolt && before.Pass == t.Pass && before.Round == t.Round {
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

// open adds the bolts of each pass that have no mark in it.
func (d *AsDone) open() {
	for i, pass := range d.Plan.Passes {
		for _, s := range d.Plan.Stations {
			for slot, b := range s {
				if slices.ContainsFunc(d.Turns[d.againTurn:], func(t BoltTurn) bool {
					return t.Bolt == b && t.Pass == i+1 && t.Round == 0 && t.Result != ResultTakenBack
				}) {
					continue
				}
				t := BoltTurn{Place: sequence.Place{Pass: i + 1, Of: len(d.Plan.Passes), Share: pass.Share}, Bolt: b, Slot: slot, Tool: d.Plan.Tools[slot],
					Setting: pass.Settings[slot], Result: ResultOpen}
				if d.Plan.Several() {
					t.Letter = sequence.Letter(slot)
				}
				d.Turns = append(d.Turns, t)
			}
		}
	}
}

// Last is the last mark of a bolt in a pass, or in a check round of a series;
// false when it has none.
func (d *AsDone) Last(b sequence.Bolt, pass, series, round int) (BoltTurn, bool) {
	for _, t := range slices.Backward(d.Turns[d.againTurn:]) {
		if t.Bolt == b && t.Series == series && t.Round == round && (round > 0 || t.Pass == pass) && t.Result != ResultTakenBack {
			return t, true
		}
	}
	return BoltTurn{}, false
}

// Rounds lists the check rounds that were begun, as series and round.
func (d *AsDone) Rounds() [][2]int {
	var all [][2]int
	for _, t := range d.Turns[d.againTurn:] {
		if r := [2]int{t.Series, t.Round}; t.Round > 0 && !slices.Contains(all, r) {
			all = append(all, r)
		}
	}
	return all
}
