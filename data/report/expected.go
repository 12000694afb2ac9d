package report

import (
	"evenload/data/job"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/interaction"
)

// Expected estimates how many check rounds a plan takes on the job's flanges, over
// half, one and two times the gasket's stiffness. None where the model refuses
// the joint. It takes a good part of a second: not in a screen.
func Expected(j job.Job, p sequence.Plan) sequence.Expected {
	if !(p.Aim.Load > 0) || len(p.Stations) == 0 {
		return sequence.Expected{}
	}
	e, err := newEstimate(j)
	if err != nil {
		return sequence.Expected{}
	}
	passes := make([]unit.Share, len(p.Passes)) // those of the card: the job may be another now
	for i, pass := range p.Passes {
		passes[i] = pass.Share
	}
	own, err := interaction.Compare(e.rings, []interaction.Order{interaction.OwnOrder(p, passes)}, p.Aim.Load, Moves)
	if err != nil {
		return sequence.Expected{}
	}
	low, high := untilStill(own[0])
	return sequence.Expected{Low: low, High: high, Looked: own[0].Rounds + own[0].Further}
}
