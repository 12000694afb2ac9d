package interaction

import (
	"slices"

	"evenload/joint/unit"
	"evenload/sequence"
)

// Order is how a joint is tightened: the stations once over at each share of
// the target, then check rounds with one tool round the joint.
type Order struct {
	Name     string
	Stations []sequence.Station
	Shares   []unit.Share
	Rounds   int // most check rounds
}

// Result is what an order leaves in the bolts, by the model.
type Result struct {
	Name       string
	Loads      []unit.Force // by bolt, after all check rounds made
	AfterPass  []unit.Force // by bolt, after the last pass
	Least      unit.Force   // of Loads
	Mean       unit.Force
	Most       unit.Force
	Highest    unit.Force  // of any bolt on the way
	Uneven     unit.Length // the widest difference of closing between two bolts, on the way
	Operations int         // stations and check round bolts done
	Rounds     []Round
	Still      int // the first round in which no nut would move by more than the share asked; 0: none
}

// Round is one check round.
type Round struct {
	Moved   int        // nuts that the wrench turns
	Largest unit.Share // top-up of the target
}

// Run tightens a joint from snug. A nut counts as moved when its top-up is more
// than the share of the target.
func (b *Bolts) Run(o Order, target unit.Force, moves unit.Share) (Result, error) {
	r := Result{Name: o.Name}
	s := b.Snug()
	look := func() {
		least, most := s.closed(0), s.closed(0)
		for i := range s.load {
			u := s.closed(i)
			least, most = min(least, u), max(most, u)
			r.Highest = max(r.Highest, unit.Force(s.load[i]))
		}
		r.Uneven = max(r.Uneven, unit.Length(most-least))
		r.Operations++
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
			look()
		}
	}
	r.AfterPass = s.Loads()
	for range o.Rounds {
		var round Round
		for i := range b.n {
			gained, err := s.Tighten(target, i)
			if err != nil {
				return r, err
			}
			share := unit.Share(gained[0] / target)
			round.Largest = max(round.Largest, share)
			if share > moves {
				round.Moved++
			}
			look()
		}
		r.Rounds = append(r.Rounds, round)
		if round.Moved == 0 {
			r.Still = len(r.Rounds)
			break
		}
	}
	r.Loads = s.Loads()
	r.Least, r.Mean, r.Most = s.Spread()
	return r, nil
}

// Patterns are the orders that a joint may be tightened in, each once: the
// job's own first.
func Patterns(own sequence.Plan, bolts, tools int) []Order {
	shares := make([]unit.Share, len(own.Passes))
	for i, p := range own.Passes {
		shares[i] = p.Share
	}
	all := []Order{{Name: string(own.Pattern), Stations: own.Stations, Shares: shares, Rounds: own.CheckRounds}}
	for _, p := range []sequence.Pattern{sequence.Star, sequence.Quadrant, sequence.Circle} {
		stations, err := sequence.Stations(p, bolts, tools, nil)
		if err != nil || slices.ContainsFunc(all, func(o Order) bool { return o.Name == string(p) }) {
			continue
		}
		all = append(all, Order{Name: string(p), Stations: stations, Shares: shares, Rounds: own.CheckRounds})
	}
	return all
}
