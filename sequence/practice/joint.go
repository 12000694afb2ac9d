// Package practice is the trainee's walk: a simulated joint, what is asked about
// it, how the answers are judged and marked. Nothing of it is about a real
// flange. Like sequence it does no I/O and reads no clock; all that is drawn
// comes from a seed.
package practice

import (
	"hash/fnv"
	"math"
	"math/rand/v2"

	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/interaction"
)

// Word is what every screen and every line says.
const Word = "Practice on a model, not your flange."

// LeaveWord says what becomes of a practice that is left.
const LeaveWord = "A practice that is left does not go on later: its log says not finished, and it begins anew."

// Of the simulated joint. All are made up, of the size that is usual (common
// practice), so that a trainee sees what he will meet.
const (
	frictionScatter = 0.25 // of the bolt load, two standard deviations: torque of the same lubricant
	toolScatter     = 0.02 // of the torque, two standard deviations
	moves           = 0.05 // of the target: a nut moves when its bolt gains more
	creep           = unit.Share(0.06)
	openGap         = 3.4 * unit.Millimetre  // between the flanges at snug
	firstTilt       = 0.25 * unit.Millimetre // from the middle, before the gasket beds in
	atRim           = 0.4                    // of how unlike the flanges close at the bolts, as much shows at the rim
	gapStep         = 0.01 * unit.Millimetre // to which a gap is shown
)

// Joint is the simulated one: what the trainee does to it, and beside it what would
// be if all were done right.
type Joint struct {
	plan        *sequence.Plan
	seed        uint64
	scatter     bool
	real, right *interaction.State
	last        *Change
}

// Change is what one stall did to the loads of all bolts, as shares of the target.
type Change struct {
	Bolts         []sequence.Bolt // that were tightened
	Before, After []unit.Share    // by bolt, bolt 1 first
}

// newJoint puts a joint together, nuts loose.
func newJoint(ring *interaction.Bolts, plan *sequence.Plan, seed uint64, scatter bool) *Joint {
	return &Joint{plan: plan, seed: seed, scatter: scatter, real: ring.Snug(), right: ring.Snug()}
}

// pull is one bolt with the torque that its tool brings to it, and that it should.
type pull struct {
	bolt        sequence.Bolt
	real, right unit.Torque
}

// drawn is a number with the standard normal distribution, the same for the same
// seed and name.
func drawn(seed uint64, name string) float64 {
	h := fnv.New64a()
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(seed, h.Sum64())).NormFloat64()
}

// share is between 0 and 1, the same for the same seed and name.
func share(seed uint64, name string) float64 {
	h := fnv.New64a()
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(seed, h.Sum64())).Float64()
}

// load is what a torque makes of a bolt: by its friction and by what the tool did this time.
func (j *Joint) load(b sequence.Bolt, t unit.Torque, when string) unit.Force {
	f := 1.0
	if j.scatter {
		within := func(x, by float64) float64 { return 1 + by*math.Max(-1, math.Min(1, x/2)) }
		f = within(drawn(j.seed, "friction"+boltName(b)), frictionScatter) * within(drawn(j.seed, "tool"+when+boltName(b)), toolScatter)
	}
	return j.plan.Aim.Load * unit.Force(float64(t/j.plan.Aim.Torque)*f)
}

// stall tightens the bolts of a station together, in the state of the trainee and in the right one.
func (j *Joint) stall(pulls []pull, when string) error {
	before := j.Shares()
	c := Change{Before: before}
	// Tools that pull at once end each at its own load, so each is brought up more than once.
	for range min(3, 1+2*(len(pulls)-1)) {
		for _, p := range pulls {
			if p.real > 0 {
				if _, err := j.real.Tighten(j.load(p.bolt, p.real, when), int(p.bolt)-1); err != nil {
					return err
				}
			}
			if _, err := j.right.Tighten(j.load(p.bolt, p.right, when), int(p.bolt)-1); err != nil {
				return err
			}
		}
	}
	for _, p := range pulls {
		c.Bolts = append(c.Bolts, p.bolt)
	}
	c.After = j.Shares()
	j.last = &c
	return nil
}

// turns says whether a nut turns in a check round: where its bolt gains more than a
// person sees.
func (j *Joint) turns(b sequence.Bolt, t unit.Torque, when string) bool {
	return j.gains(j.real, b, j.load(b, t, when))
}

func (j *Joint) gains(s *interaction.State, b sequence.Bolt, to unit.Force) bool {
	return float64(to-s.Loads()[b-1]) > moves*float64(j.plan.Aim.Load)
}

// check lets the tool try a nut, in both states: it turns or sits still.
func (j *Joint) check(b sequence.Bolt, t unit.Torque, when string) error {
	c := Change{Bolts: []sequence.Bolt{b}, Before: j.Shares()}
	to := j.load(b, t, when)
	for _, s := range []*interaction.State{j.real, j.right} {
		if j.gains(s, b, to) {
			if _, err := s.Tighten(to, int(b)-1); err != nil {
				return err
			}
		}
	}
	c.After = j.Shares()
	j.last = &c
	return nil
}

// Shares are the loads of all bolts as shares of the target, bolt 1 first.
func (j *Joint) Shares() []unit.Share { return shares(j.real, j.plan) }

func shares(s *interaction.State, plan *sequence.Plan) []unit.Share {
	var all []unit.Share
	for _, f := range s.Loads() {
		all = append(all, unit.Share(f/plan.Aim.Load))
	}
	return all
}

// Last is what the last stall did, nil before the first.
func (j *Joint) Last() *Change { return j.last }

// Gaps are those at the rim beside every bolt, bolt 1 first, to the step that is
// shown. The tilt of the first day goes as the gasket is pressed.
func (j *Joint) Gaps() []unit.Length {
	s := j.real
	mean := 0.0
	all := shares(s, j.plan)
	for _, x := range all {
		mean += float64(x) / float64(len(all))
	}
	side := 2 * math.Pi * share(j.seed, "tilt")
	gaps, even := make([]unit.Length, len(all)), unit.Length(0)
	for _, closed := range s.Closed() {
		even += closed / unit.Length(len(all))
	}
	for i, closed := range s.Closed() {
		at := 2 * math.Pi * float64(i) / float64(len(all))
		tilt := firstTilt * math.Pow(math.Max(0, 1-mean), 2) * math.Cos(at-side)
		gaps[i] = unit.Length(math.Round(float64(openGap+unit.Length(tilt)-even-atRim*(closed-even))/gapStep) * gapStep)
	}
	return gaps
}

// after is a state in which a station was tightened, to be looked at only.
func (j *Joint) after(s sequence.Station, t unit.Torque) *interaction.State {
	try := j.real.Clone()
	for _, b := range s {
		if _, err := try.Tighten(j.plan.Aim.Load*unit.Force(t/j.plan.Aim.Torque), int(b)-1); err != nil {
			return nil
		}
	}
	return try
}

// Uneven is by how much the flanges would differ between two bolts after a station.
func (j *Joint) uneven(s *interaction.State) unit.Length {
	least, most := unit.Length(math.Inf(1)), unit.Length(math.Inf(-1))
	for _, u := range s.Closed() {
		least, most = min(least, u), max(most, u)
	}
	return most - least
}

// even counts the bolts whose load is, within a twentieth of the target, what it would
// be if all had been done right.
func (j *Joint) even() int {
	n := 0
	right := shares(j.right, j.plan)
	for i, x := range j.Shares() {
		if math.Abs(float64(x-right[i])) <= moves {
			n++
		}
	}
	return n
}

// settle lets a bolt lose a fifth by itself, in both states.
func (j *Joint) settle(b sequence.Bolt) bool {
	try := j.right.Clone()
	return try.Settle(fifth, int(b)-1) && j.real.Settle(fifth, int(b)-1) && j.right.Settle(fifth, int(b)-1)
}

// rest lets the gasket give way.
func (j *Joint) rest() {
	before := j.Shares()
	j.real.Creep(creep)
	j.right.Creep(creep)
	j.last = &Change{Before: before, After: j.Shares()}
}
