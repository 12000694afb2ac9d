package report

import (
	"fmt"
	"slices"

	"evenload/sequence"
)

// Column is one attempt at a pass, or a check round.
type Column struct {
	Gasket          int // 1 the first; a new one begins the work again
	Pass, Repeat    int // Repeat: how often it was begun again before; 0 in a round
	RoundSet, Round int // 0 in a pass
	Latest          bool
	Rejected        string // why it does not count: it was done again; empty when it counts
}

func (c Column) same(o Column) bool {
	return c.Gasket == o.Gasket && c.Pass == o.Pass && c.Repeat == o.Repeat && c.RoundSet == o.RoundSet && c.Round == o.Round
}

// columnOf is that of a place.
func columnOf(gasket int, p sequence.Place) Column {
	if p.Round > 0 {
		return Column{Gasket: gasket, RoundSet: p.RoundSet, Round: p.Round}
	}
	return Column{Gasket: gasket, Pass: p.Pass, Repeat: p.Repeat}
}

// begun keeps which attempts and rounds were begun, and why what was under way
// before does not count, after an event that was taken by a walk.
func (d *AsDone) begun(e sequence.Event, w sequence.Walk) {
	before, was := d.gasket, d.under
	d.under = w.At(e.At).Under()
	r, released := e.Data.(sequence.Released)
	if r.Restart {
		d.gasket++
	}
	p, found := e.Data.(sequence.ProblemFound)
	trouble, _ := sequence.TroubleOf(p.What)
	_, parts := e.Data.(sequence.Replaced)
	if r.Restart || len(r.Replace) > 0 || found && trouble.Takes() || parts {
		d.allStudsAgain()
	}
	now := columnOf(d.gasket, d.under)
	if !slices.ContainsFunc(d.columns, now.same) {
		d.columns = append(d.columns, now)
	}
	if d.gasket > before {
		d.reject(func(c Column) bool { return c.Gasket == before }, "begun again with a new gasket")
		return
	}
	again := d.under.Pass == was.Pass && d.under.Repeat > was.Repeat || d.under.RoundSet > was.RoundSet && was.RoundSet > 0
	_, set := e.Data.(sequence.PressureSet)
	_, changed := e.Data.(sequence.ToolChanged)
	switch {
	case !again:
	case set, released && r.Of == sequence.OfPressure: // one tool was high and is released, another was low
		d.reject(func(c Column) bool { return c.Gasket == before && c.of(was) }, "the pressure was low at the end")
	case changed:
		last := columnOf(before, was)
		d.reject(last.same, "another tool came")
	}
}

// of says that a column is an attempt at a place, or a round of its set.
func (c Column) of(p sequence.Place) bool {
	if p.RoundSet > 0 {
		return c.RoundSet == p.RoundSet
	}
	return c.Pass == p.Pass && c.Repeat == p.Repeat
}

func (d *AsDone) reject(which func(Column) bool, why string) {
	for i := range d.columns {
		if which(d.columns[i]) && d.columns[i].Rejected == "" {
			d.columns[i].Rejected = why
		}
	}
}

// Columns are the passes, each as often as it was begun, and the check rounds
// that were begun. Passes that were never begun are among them.
func (d *AsDone) Columns() (passes, rounds []Column) {
	for gasket := 1; gasket <= d.gasket; gasket++ {
		for pass := range d.Plan.Passes {
			first := len(passes)
			for _, c := range d.columns {
				if c.Gasket == gasket && c.Pass == pass+1 {
					passes = append(passes, c)
				}
			}
			if len(passes) == first && gasket == d.gasket {
				passes = append(passes, Column{Gasket: gasket, Pass: pass + 1})
			}
			if len(passes) > first {
				passes[len(passes)-1].Latest = true
			}
		}
	}
	for _, c := range d.columns {
		if c.Round > 0 {
			rounds = append(rounds, c)
		}
	}
	return passes, rounds
}

// Text names a column: 60 %; 60 % attempt 2 of a pass that was begun again; round
// 1.2 for the second round of the first set. Where the work was begun again with a
// new gasket it says which one.
func (d *AsDone) Text(c Column) string {
	text := fmt.Sprintf("round %d.%d", c.RoundSet, c.Round)
	if c.Round == 0 {
		text = d.Plan.Passes[c.Pass-1].Share.Text()
		if c.Repeat > 0 || !c.Latest {
			text += fmt.Sprintf(" attempt %d", c.Repeat+1)
		}
	}
	if d.gasket > 1 {
		text += fmt.Sprintf(", gasket %d", c.Gasket)
	}
	return text
}

// has says that a mark belongs to a column: what a new bolt repeats alone
// belongs to its pass as it was done last.
func (c Column) has(t BoltTurn) bool {
	switch {
	case t.Gasket != c.Gasket:
		return false
	case c.Round > 0:
		return t.RoundSet == c.RoundSet && t.Round == c.Round
	}
	return t.Round == 0 && t.Pass == c.Pass && (t.Repeat == c.Repeat && t.Redo == 0 || c.Latest && t.Redo > 0)
}

// Read says that a reading was taken in a column.
func (c Column) Read(r PressureRead) bool {
	switch {
	case r.Gasket != c.Gasket:
		return false
	case c.Round > 0:
		return r.RoundSet == c.RoundSet && r.Round == c.Round
	}
	return r.Round == 0 && r.Pass == c.Pass && (r.Repeat == c.Repeat && r.Redo == 0 || c.Latest && r.Redo > 0)
}

// columnOfTurn is the column of a mark.
func (d *AsDone) columnOfTurn(t BoltTurn) Column {
	passes, rounds := d.Columns()
	for _, c := range slices.Concat(passes, rounds) {
		if c.has(t) {
			return c
		}
	}
	return Column{}
}

// Last is the last mark of a bolt in a column; false when it has none.
func (d *AsDone) Last(b sequence.Bolt, c Column) (BoltTurn, bool) {
	for _, t := range slices.Backward(d.Turns) {
		if t.Bolt == b && c.has(t) && t.Result != ResultTakenBack && !t.Between {
			return t, true
		}
	}
	return BoltTurn{}, false
}

// HadProblem says that something was found at a bolt in a column, or behind it: a problem
// that was not taken back, or that it was tightened out of order.
func (d *AsDone) HadProblem(b sequence.Bolt, c Column) bool {
	return slices.ContainsFunc(d.Turns, func(t BoltTurn) bool {
		found := t.Result == ResultProblem || (t.Result == ResultDone || t.Result == ResultMoved) && t.Note != ""
		return found && t.Bolt == b && c.has(t)
	})
}

// HasNewParts says that parts of a bolt were replaced.
func (d *AsDone) HasNewParts(b sequence.Bolt) bool {
	return slices.ContainsFunc(d.Turns, func(t BoltTurn) bool { return t.Bolt == b && t.Result == ResultNewParts })
}

// Counts is how many bolts have which mark in a column.
type Counts struct {
	Done     int `json:"done"`
	Still    int `json:"still"`
	Moved    int `json:"moved"`
	Released int `json:"released_undone"`
	Open     int `json:"open"` // all others, what was only a problem too
}

// Count counts the bolts of a column, each by its last mark.
func (d *AsDone) Count(c Column) (n Counts) {
	for b := sequence.Bolt(1); int(b) <= d.Plan.Bolts; b++ {
		switch t, _ := d.Last(b, c); t.Result {
		case ResultDone:
			n.Done++
		case ResultStill:
			n.Still++
		case ResultMoved:
			n.Moved++
		case ResultReleased:
			n.Released++
		default:
			n.Open++
		}
	}
	return n
}

// setWhy says after what, or what for, a set of check rounds was begun; empty for 0.
func (d *AsDone) setWhy(set int) string {
	if all := d.Walk.RoundSets(); set > 0 && set <= len(all) {
		return all[set-1]
	}
	return ""
}
