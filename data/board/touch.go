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
	Set         int        // of check rounds, 1 the first on the card, 0 none
	Round       int        // of the set, 0 none
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

	set, round int      // of the last nut that was checked, counted where nothing is replayed
	checked    *boltSet // in that round
}

type touchKey struct {
	tool, gauge, certificate string
	day                      joint.Date
	pass, set, round         int
	what                     TouchKind
}

// boltSet has a bit for each bolt: its size does not depend on the card's length.
type boltSet [sequence.MostBolts/64 + 1]uint64

func (s *boltSet) put(b sequence.Bolt)      { s[b/64] |= 1 << (b % 64) }
func (s *boltSet) has(b sequence.Bolt) bool { return s[b/64]&(1<<(b%64)) != 0 }

func newTouches(p *sequence.Plan, offset int) touches {
	return touches{plan: p, zone: time.FixedZone("", offset*60), in: slices.Clone(p.Tools), all: map[touchKey]*boltSet{}, checked: &boltSet{}}
}

// counts gives the set of check rounds that a nut is checked in, where nothing but
// what is straight came before: each round is done to its last nut, and each set
// begins with round 1.
func (t *touches) counts(round int, b sequence.Bolt) int {
	if b < 0 || b > sequence.MostBolts {
		return t.set
	}
	again := t.checked.has(b)
	if t.set == 0 || round < t.round || round == t.round && again {
		t.set++
	}
	if round != t.round || again {
		t.round, t.checked = round, &boltSet{}
	}
	t.checked.put(b)
	return t.set
}

// straight says that after an event the sets of check rounds can be counted by their
// nuts: it takes no nut back, and neither breaks a set off nor begins one anew before a
// nut was checked in it.
func (t *touches) straight(d sequence.Data) bool {
	switch d := d.(type) {
	case sequence.SignedOn, sequence.Answered, sequence.MaterialsNoted, sequence.Snugged, sequence.PressureSet, sequence.BoltDone,
		sequence.NutMoved, sequence.NutStill, sequence.GapsMeasured, sequence.GapsAccepted, sequence.RestOver, sequence.RestWaived,
		sequence.StretchMeasured, sequence.LeakTested, sequence.Suspended, sequence.HandedOver, sequence.NoteMade, sequence.CardClosed:
		return true
	case sequence.Undone:
		return t.set == 0 || d.Question != ""
	}
	return false
}

// take keeps what an event says of tools; set is that of the check rounds under way.
func (t *touches) take(e sequence.Event, set int) {
	switch d := e.Data.(type) {
	case sequence.BoltDone:
		for _, b := range d.Bolts {
			t.add(e.At, t.plan.SlotOf(b), Tightened, d.Pass, 0, 0, b)
		}
	case sequence.NutMoved:
		t.add(e.At, 0, Checked, 0, set, d.Round, d.Bolt)
	case sequence.NutStill:
		t.add(e.At, 0, Checked, 0, set, d.Round, d.Bolt)
	case sequence.ProblemFound:
		if d.Bolt == 0 {
			return
		}
		// The tool of the bolt, the one that was told, and the one that goes
		// round alone: one too many is better than one missed.
		slots := []int{t.plan.SlotOf(d.Bolt), d.Tool, 0}
		slices.Sort(slots)
		for _, slot := range slices.Compact(slots) {
			t.add(e.At, slot, AtProblem, 0, 0, 0, d.Bolt)
		}
	case sequence.ToolChanged:
		if d.Slot >= 0 && d.Slot < len(t.in) {
			t.in[d.Slot] = d.Tool
			t.add(e.At, d.Slot, PutIn, 0, 0, 0, 0)
		}
	}
}

func (t *touches) add(at time.Time, slot int, what TouchKind, pass, set, round int, b sequence.Bolt) {
	if slot < 0 || slot >= len(t.in) || b < 0 || b > sequence.MostBolts {
		return
	}
	k := touchKey{t.in[slot].ID, t.in[slot].Gauge.ID, t.in[slot].Certificate, joint.DateOf(at.In(t.zone)), pass, set, round, what}
	bolts := t.all[k]
	if bolts == nil {
		bolts = &boltSet{}
		t.all[k] = bolts
		t.keys = append(t.keys, k)
	}
	if b > 0 {
		bolts.put(b)
	}
}

func (t *touches) list() []Touch {
	var all []Touch
	for _, k := range t.keys {
		one := Touch{Tool: k.tool, Gauge: k.gauge, Certificate: k.certificate, Day: k.day, Pass: k.pass, Set: k.set, Round: k.round, What: k.what}
		for b := sequence.Bolt(1); b <= sequence.MostBolts; b++ {
			if t.all[k].has(b) {
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
