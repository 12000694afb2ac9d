package interaction

import (
	"evenload/joint/unit"
	"evenload/sequence"
)

// Order is how a joint is tightened: the stations once over at each share of
// the target, then check rounds clockwise with one tool.
type Order struct {
	Pattern  sequence.Pattern   `json:"pattern"`
	Own      bool               `json:"own"` // the job's own pattern and passes
	Stations []sequence.Station `json:"stations"`
	Shares   []unit.Share       `json:"passes"`
	Rounds   int                `json:"most_check_rounds"`

	Further int `json:"-"` // rounds to go on for, only to find the one that is still
}

// Result is what an order leaves in the bolts, by the model.
type Result struct {
	AfterPasses Spread
	Final       Spread // after the check rounds made
	Loads       []unit.Force
	Highest     unit.Force  // of any bolt on the way
	Uneven      unit.Length // the widest difference of closing between two bolts, on the way
	Bolts       int         // times that a tool was on a bolt, check rounds made included
	Stations    int         // times that the tools were set on, several at once count once
	Rounds      int         // check rounds made: until one is still, at most those of the order
	Still       int         // the first round in which no nut gains more than the share asked; 0: none that was looked at
}

// Spread is how the loads of all bolts lie.
type Spread struct{ Least, Mean, Most unit.Force }

// Run tightens a joint from snug. In a check round a nut counts as moved when
// its bolt gains more than the share of the target.
func (b *Bolts) Run(o Order, target unit.Force, moves unit.Share) (Result, error) {
	var r Result
	s := b.Snug()
	look := func(bolts int) {
		least, most := s.closed(0), s.closed(0)
		for i, f := range s.load {
			u := s.closed(i)
			least, most = min(least, u), max(most, u)
			r.Highest = max(r.Highest, unit.Force(f))
		}
		r.Uneven = max(r.Uneven, unit.Length(most-least))
		r.Bolts += bolts
		r.Stations++
	}
	for _, share := range o.Shares {
		for _, station := range o.Stations {
			nuts := make([]int, len(station))
			for i, bolt := range station {
				nuts[i] = int(bolt) - 1
			}
			if _, err := s.Tighten(target*unit.Force(share), nuts...); err != nil {
				return r, err
			}
			look(len(nuts))
		}
	}
	r.AfterPasses, r.Final, r.Loads = s.Spread(), s.Spread(), s.Loads()
	for round := 1; round <= o.Rounds+o.Further && r.Still == 0; round++ {
		moved := false
		for i := range b.n {
			gained, err := s.Tighten(target, i)
			if err != nil {
				return r, err
			}
			moved = moved || gained[0] > target*unit.Force(moves)
			if round <= o.Rounds {
				look(1)
			}
		}
		if round <= o.Rounds {
			r.Rounds, r.Final, r.Loads = round, s.Spread(), s.Loads()
		}
		if !moved {
			r.Still = round
		}
	}
	return r, nil
}
