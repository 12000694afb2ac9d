package report

import (
	"fmt"
	"slices"

	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/flange"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/interaction"
)

// Moves is by how much of the target a bolt gains when its nut counts as moved, if
// nothing else is said.
const Moves = unit.Share(0.05)

// stiffnesses are what the gasket's stiffness is multiplied by: it is the weakest
// of all inputs, so nothing is said of one alone.
var stiffnesses = [3]unit.Stiffness{0.5, 1, 2}

// middle is the gasket as it is known.
const middle = 1

// estimate is the joint with its gasket at half, once and twice its stiffness.
type estimate struct {
	pair    job.Pair
	gaskets [3]unit.Stiffness
	rows    [3][]unit.Compliance
	rings   []*interaction.Bolts
}

func newEstimate(j job.Job) (estimate, error) {
	pair, err := j.Pair()
	if err != nil {
		return estimate{}, err
	}
	e := estimate{pair: pair}
	model, err := flange.New(pair.Section)
	if err != nil {
		return estimate{}, err
	}
	for i, by := range stiffnesses {
		e.gaskets[i] = pair.Gasket * by
	}
	rows, err := model.Rows(e.gaskets[:]...)
	if err != nil {
		return estimate{}, err
	}
	for i, row := range rows {
		e.rows[i] = row
		ring, err := interaction.New(row, pair.Give)
		if err != nil {
			return estimate{}, err
		}
		e.rings = append(e.rings, ring)
	}
	return e, nil
}

// WithEstimate adds to the findings of a plan what the estimate of how bolts unload
// each other says. It takes many times as long as all other findings, so check
// leaves it out. Of a joint that cannot be estimated nothing is said.
func WithEstimate(j job.Job, p sequence.Plan, findings []joint.Finding) []joint.Finding {
	own, ok := ownCompared(j, p)
	if !ok {
		return findings
	}
	first := slices.IndexFunc(findings, func(f joint.Finding) bool { return f.Severity == joint.Note })
	if first < 0 {
		first = len(findings)
	}
	return slices.Insert(slices.Clip(findings), first, roundsFew(own, Moves)...)
}

// RoundsWord says how many check rounds to expect, as an estimate; empty for a
// joint that cannot be estimated.
func RoundsWord(j job.Job, p sequence.Plan) string {
	own, ok := ownCompared(j, p)
	if !ok {
		return ""
	}
	return fmt.Sprintf("An estimate: %s rounds until no nut moves.", roundsUntilStill(own))
}

// ownCompared is the job's own order, estimated.
func ownCompared(j job.Job, p sequence.Plan) (interaction.Compared, bool) {
	if !(p.Aim.Load > 0) || len(p.Stations) == 0 {
		return interaction.Compared{}, false
	}
	e, err := newEstimate(j)
	if err != nil {
		return interaction.Compared{}, false
	}
	own, err := interaction.Compare(e.rings, []interaction.Order{interaction.OwnOrder(p, j.Procedure.Passes)}, p.Aim.Load, Moves)
	if err != nil {
		return interaction.Compared{}, false
	}
	return own[0], true
}

// roundsFew holds the job's check rounds against the estimate: a warning where
// they are too few with the gasket as it is known, a note where only with a softer
// or stiffer one.
func roundsFew(own interaction.Compared, moves unit.Share) []joint.Finding {
	severity := joint.Warning
	if still := own.Results[middle].Still; still != 0 && still <= own.Rounds {
		severity = joint.Note
	}
	if _, high := untilStill(own); high <= own.Rounds {
		return nil
	}
	return []joint.Finding{{Severity: severity, Code: "rounds-few", Key: "procedure.check_rounds",
		Text: fmt.Sprintf("check rounds: %d, and by an estimate it takes %s until no bolt gains more than %s of the target: plan the time for more, or ask the responsible engineer",
			own.Rounds, roundsUntilStill(own), moves.Text())}}
}

// untilStill is the range of rounds until one is still, over the gaskets; one more
// than were looked at where none was.
func untilStill(c interaction.Compared) (low, high int) {
	beyond := c.Rounds + c.Further + 1
	low = beyond
	for _, r := range c.Results {
		still := r.Still
		if still == 0 {
			still = beyond
		}
		low, high = min(low, still), max(high, still)
	}
	return low, high
}

// roundsUntilStill says it: "3 to 5", "9 to more than 25".
func roundsUntilStill(c interaction.Compared) string {
	low, high := untilStill(c)
	word := func(n int) string {
		if n > c.Rounds+c.Further {
			return fmt.Sprintf("more than %d", n-1)
		}
		return fmt.Sprint(n)
	}
	if low == high {
		return word(low)
	}
	return word(low) + " to " + word(high)
}
