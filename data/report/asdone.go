package report

import (
	"fmt"
	"slices"
	"time"

	"evenload/data/card"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// State says how far a card can be relied on.
type State string

// The states of a card.
const (
	Closed  State = "closed"
	Draft   State = "draft"   // not closed, or its last line is torn
	Damaged State = "damaged" // it does not verify: what stands before the damage
)

// AsDone is what a card says was done, by bolt and pass. Papers and files for
// other programs are made of it; nothing of it is computed anew but the torque
// that a chart gives at a reading.
type AsDone struct {
	ID     string // of tag, day and first line: the file may have any name
	Seal   string
	State  State
	Why    string // it is a draft or damaged, empty when closed
	Forks  []Fork // beside it, where they were looked for
	Opened sequence.CardOpened
	Plan   *sequence.Plan
	Walk   sequence.Walk // after the last event that could be followed
	Zone   *time.Location
	Events []Said
	Turns  []BoltTurn // in order of time, then those of the passes that were never done
	Reads  []PressureRead
	Gaps   []GapTurn
	Studs  []StudTurn
	Rests  []RestTurn
	People []Person // who worked the tool, once more where something about the person changed

	marked  []marked // what can be taken back, in order of time
	columns []Column // as they were begun
	gasket  int      // the one that the work is on: 1 the first
	under   sequence.Place
}

// Said is one event in words. Routine is one that the walk itself asks for, so
// that it is no deviation, Stops an answer that stopped the work, Marks one that
// only marks bolts: those have a place of their own.
type Said struct {
	N              int
	At             time.Time
	By, Role       string
	Kind           sequence.Kind
	Text           string
	Back           bool // the clock went back before it
	Routine, Marks bool
	Stops          bool
	Data           sequence.Data
}

// BoltTurn is what became of one bolt in one pass or check round. What was
// taken back stays.
type BoltTurn struct {
	sequence.Place
	Gasket  int // 1 the first; a new one begins the work again
	Bolt    sequence.Bolt
	Slot    int
	Letter  string // of the tool, empty where the job has only one
	Tool    joint.Tool
	Setting joint.Setting
	Read    unit.Pressure // before it, in the state of the tool's chart; 0 not known
	Result  string        // ResultDone and so on
	Note    string
	At      time.Time // zero for one that was never done
	By      string
	Role    string
	Line    int  // of the card
	Between bool // found or put in between passes: it is no mark of its Place
}

// What becomes of a bolt in a pass or check round.
const (
	ResultDone      = "done"
	ResultStill     = "still"
	ResultMoved     = "moved"
	ResultProblem   = "problem"
	ResultReleased  = "released undone"
	ResultNewParts  = "new parts"
	ResultTakenBack = "taken back"
	ResultOpen      = "not done"
	ResultUnknown   = "not known" // nothing of it before the damage of a card
)

// PressureRead is one reading of a gauge.
type PressureRead struct {
	sequence.Place
	Gasket  int
	AtEnd   bool
	Slot    int
	Letter  string
	Tool    joint.Tool
	Setting joint.Setting
	Running unit.Pressure // 0 not read
	Static  unit.Pressure // 0 not read
	At      time.Time
	By      string
	Line    int

	Released *sequence.Named // who let an end reading above its band count
}

// Counts is the reading in the state in which the tool's chart was made.
func (r PressureRead) Counts() unit.Pressure {
	if r.Tool.Reading == joint.Static {
		return r.Static
	}
	return r.Running
}

// judged says how an end reading lies outside its band: LOW, HIGH, empty for
// inside. A start reading counts only inside.
func (r PressureRead) judged() string {
	switch c := r.Counts(); {
	case !r.AtEnd || r.Setting.InBand(c):
	case c < r.Setting.Least:
		return "LOW"
	case c > r.Setting.Most:
		return "HIGH"
	}
	return ""
}

// GapTurn is one measurement of the gaps.
type GapTurn struct {
	sequence.GapResult
	After    string
	Limit    unit.Length
	Accepted *sequence.Named // when it was beyond its limit
	At       time.Time
	Line     int
}

// DoneOf puts a card together. damage is what reading it said, nil when
// nothing: then what stands before the damage is given as damaged. It refuses
// practice with errPractice, and a card of which not even the plan is left.
func DoneOf(c card.Card, damage error) (AsDone, error) {
	opened := c.Opened()
	d := AsDone{Seal: c.Seal(), gasket: 1, Opened: opened, Zone: time.FixedZone("", opened.OffsetMinutes*60)}
	switch {
	case len(c.Entries) == 0 && damage != nil:
		return d, damage
	case opened.Practice || card.IsPractice(c.Path):
		return d, fmt.Errorf("%s: %w", c.Path, errPractice)
	}
	d.ID = card.ID(opened, c.Entries[0].Event.At, c.Entries[0].Hash)
	d.Plan = &d.Opened.Plan
	w, err := sequence.New(d.Plan)
	if err != nil {
		return d, fmt.Errorf("%s: %w", c.Path, err)
	}
	if damage != nil {
		d.State, d.Why = Damaged, damage.Error()
	}
	for i, e := range c.Entries {
		before := w
		if i > 0 {
			after, err := w.Apply(e.Event)
			if err != nil {
				d.State, d.Why = Damaged, fmt.Sprintf("line %d does not follow the card's own plan: %v", e.N, err)
				break
			}
			w = after
		}
		d.take(c, i, before)
		d.begun(e.Event, w)
	}
	d.Walk = w
	switch {
	case d.State != "":
	case c.Torn != nil:
		d.State, d.Why = Draft, "the card's last line is torn; open it with evenload walk"
	case !w.IsClosed():
		d.State, d.Why = Draft, "the card is not closed"
	default:
		d.State = Closed
	}
	d.open()
	return d, nil
}

// routine are the events that the walk itself asks for.
var routine = []sequence.Kind{"opened", "signed_on", "answered", "materials", "snugged", "set", "done", "moved", "still", "gaps", "rested", "stretch", "leak_tested",
	"suspended", "handed_over", "closed"}

// take adds an event, as it came to a walk.
func (d *AsDone) take(c card.Card, i int, w sequence.Walk) {
	e := c.Entries[i].Event
	back := i > 0 && e.At.Before(c.Entries[i-1].Event.At)
	said := Said{N: c.Entries[i].N, At: e.At.In(d.Zone), By: e.By, Role: d.roleOf(e.By), Kind: e.Data.Kind(), Text: Sentence(w, e.Data), Back: back,
		Routine: slices.Contains(routine, e.Data.Kind()) && !back, Data: e.Data}
	step := w.Next(e.At)
	switch data := e.Data.(type) {
	case sequence.SignedOn:
		d.signOn(data, said)
		said.Role = d.roleOf(e.By)
		said.Routine = said.Routine && data.Permit == "" // with one it opens stopped work again
	case sequence.Answered:
		said.Routine, said.Stops = said.Routine && data.Answer == sequence.Yes, stops(w, data)
	case sequence.StretchMeasured:
		d.marked = append(d.marked, marked{bolt: data.Bolt, stud: len(d.Studs) + 1})
		d.Studs = append(d.Studs, StudTurn{StretchMeasured: data, Result: StudMeasured, Gasket: d.gasket, At: said.At, By: e.By, Role: said.Role, Line: said.N})
		said.Routine = said.Routine && d.Plan.Stretch != nil && d.Plan.Stretch.InBand(data.Load)
	case sequence.StudsAgain:
		d.studsAgain(step, data)
	case sequence.RestOver, sequence.RestWaived:
		d.rested(step, &said)
	case sequence.LeakTested:
		said.Routine = said.Routine && data.Result == sequence.Tight
	case sequence.PressureSet:
		if s, ok := step.(sequence.Set); ok {
			tool, _ := w.ToolIn(data.Tool)
			r := PressureRead{Place: s.Place, Gasket: d.gasket, AtEnd: data.AtEnd, Slot: data.Tool, Letter: s.Letter, Tool: tool, Setting: s.Setting,
				Running: data.Running, Static: data.Static, At: said.At, By: e.By, Line: said.N}
			said.Routine = said.Routine && r.judged() == ""
			d.Reads = append(d.Reads, r)
		}
	case sequence.BoltDone, sequence.NutMoved, sequence.NutStill, sequence.ProblemFound, sequence.Undone, sequence.Released, sequence.Replaced:
		said.Marks = d.mark(w, said, step, data)
		if r, ok := data.(sequence.Released); ok && r.Of == sequence.OfPressure {
			d.endReleased(r)
		}
	case sequence.GapsMeasured:
		if s, ok := step.(sequence.GapCheck); ok {
			d.Gaps = append(d.Gaps, GapTurn{GapResult: w.JudgeGaps(s, data.Readings), After: s.After, Limit: s.Limit, At: said.At, Line: said.N})
		}
	case sequence.GapsAccepted:
		if n := len(d.Gaps); n > 0 {
			d.Gaps[n-1].Accepted = &data.Named
		}
	}
	d.Events = append(d.Events, said)
}

// Trainees are those who worked on the card with a supervisor, in words.
func (d *AsDone) Trainees() []string {
	var all []string
	for _, e := range d.Events {
		if s, ok := e.Data.(sequence.SignedOn); ok && s.Supervisor != "" {
			if who := traineeWord(s); !slices.Contains(all, who) {
				all = append(all, who)
			}
		}
	}
	return all
}
