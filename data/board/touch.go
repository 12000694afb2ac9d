package board

import (
	"cmp"
	"slices"
	"time"

	"evenload/joint"
	"evenload/sequence"
)

// Touch is what a tool did at a joint on one day, in one pass or check round.
type Touch struct {
	Tool, Gauge string
	Certificate string     // of the tool
	Day         joint.Date // local, of the card
	Pass        int        // 1 the first, 0 none
	Round       int        // of check rounds, 0 none
	What        TouchKind
	Bolts       []sequence.Bolt
}

// TouchKind says how a tool came to a joint.
type TouchKind string

// The kinds of touch.
const (
	Tightened TouchKind = "pass"
	Checked   TouchKind = "check round"
	AtProblem TouchKind = "problem" // it was at the bolt when something went wrong
	PutIn     TouchKind = "put in"  // in place of another tool
)

// touches follows the tools through the events of a card. What was taken back
// stays: the tool was at the bolt.
type touches struct {
	plan *sequence.Plan
	zone *time.Location
	in   []joint.Tool // by slot
	all  map[touchKey]*boltSet
	keys []touchKey // in the order in which they came
}

type touchKey struct {
	tool, gauge, certificate string
	day                      joint.Date
	pass, round              int
	what                     TouchKind
}

// boltSet has a bit for each bolt: its size does not depend on the card's length.
type boltSet [sequence.MostBolts/64 + 1]uint64

func newTouches(p *sequence.Plan, offset int) touches {
	return touches{plan: p, zone: time.FixedZone("", offset*60), in: slices.Clone(p.Tools), all: map[touchKey]*boltSet{}}
}

func (t *touches) take(e sequence.Event) {
	switch d := e.Data.(type) {
	case sequence.BoltDone:
		for _, b := range d.Bolts {
			t.add(e.At, t.plan.SlotOf(b), Tightened, d.Pass, 0, b)
		}
	case sequence.NutMoved:
		t.add(e.At, 0, Checked, 0, d.Round, d.Bolt)
	case sequence.NutStill:
		t.add(e.At, 0, Checked, 0, d.Round, d.Bolt)
	case sequence.ProblemFound:
		if d.Bolt == 0 {
			return
		}
		// The tool of the bolt, the one that was told, and the one that goes
		// round alone: one too many is better than one missed.
		slots := []int{t.plan.SlotOf(d.Bolt), d.Tool, 0}
		slices.Sort(slots)
		for _, slot := range slices.Compact(slots) {
			t.add(e.At, slot, AtProblem, 0, 0, d.Bolt)
		}
	case sequence.ToolChanged:
		if d.Slot >= 0 && d.Slot < len(t.in) {
			t.in[d.Slot] = d.Tool
			t.add(e.At, d.Slot, PutIn, 0, 0, 0)
		}
	}
}

func (t *touches) add(at time.Time, slot int, what TouchKind, pass, round int, b sequence.Bolt) {
	if slot < 0 || slot >= len(t.in) || b < 0 || b > sequence.MostBolts {
		return
	}
	k := touchKey{t.in[slot].ID, t.in[slot].Gauge.ID, t.in[slot].Certificate, joint.DateOf(at.In(t.zone)), pass, round, what}
	set := t.all[k]
	if set == nil {
		set = &boltSet{}
		t.all[k] = set
		t.keys = append(t.keys, k)
	}
	if b > 0 {
		set[b/64] |= 1 << (b % 64)
	}
}

func (t *touches) list() []Touch {
	var all []Touch
	for _, k := range t.keys {
		one := Touch{Tool: k.tool, Gauge: k.gauge, Certificate: k.certificate, Day: k.day, Pass: k.pass, Round: k.round, What: k.what}
		for b := sequence.Bolt(1); b <= sequence.MostBolts; b++ {
			if t.all[k][b/64]&(1<<(b%64)) != 0 {
				one.Bolts = append(one.Bolts, b)
			}
		}
		all = append(all, one)
	}
	slices.SortStableFunc(all, func(a, b Touch) int {
		if a.Day != b.Day {
			return cmp.Compare(a.Day.String(), b.Day.String())
		}
		return 0
	})
	return all
}
