package practice

import (
	"math"
	"slices"
	"strconv"

	"evenload/joint"
	"evenload/sequence"
)

// fifth is what a settled bolt has lost.
const fifth = 0.2

// script is what goes wrong on purpose in one walk, drawn from its seed.
type script struct {
	questions   []string // whose answer is no at first
	standsStill int      // pass, 1 the first, in which the regulator was set with the tool at rest; 0 none
	otherScale  int      // pass in which the eye falls on the other scale of the gauge
	noLoad      struct{ pass, at int }
	away        struct{ pass, at int } // called away when so many bolts of the pass are done
	low         sequence.Bolt          // has settled before the first check round, and its nut sits still
}

// newScript draws it. Passes are 1 to n; nothing happens before the first bolt of a
// pass is done.
func newScript(plan *sequence.Plan, seed uint64) script {
	var s script
	pick := func(name string, n int) int { return min(n-1, int(math.Floor(share(seed, name)*float64(n)))) }
	passes, stations := len(plan.Passes), len(plan.Stations)
	var may []string
	for _, q := range plan.Questions {
		if view, ok := sights[q.ID]; ok && view.bad != "" && q.When == sequence.AtGate && q.OnNo != sequence.StopPage && !q.Measured {
			may = append(may, q.ID)
		}
	}
	for i := range min(3, len(may)) {
		at := pick("question"+strconv.Itoa(i), len(may))
		s.questions = append(s.questions, may[at])
		may = slices.Delete(may, at, at+1)
	}
	order := []int{}
	for p := range passes {
		order = append(order, p+1)
	}
	if plan.Tools[0].Reading == joint.Running {
		s.standsStill = order[pick("stands still", len(order))]
	}
	s.otherScale = order[pick("other scale", len(order))]
	if s.otherScale == s.standsStill && passes > 1 {
		s.otherScale = s.otherScale%passes + 1
	}
	s.noLoad.pass = order[pick("no load pass", len(order))]
	s.noLoad.at = pick("no load bolt", stations)
	s.away.pass = order[pick("away pass", len(order))]
	s.away.at = 1 + pick("away bolt", stations-1)
	if s.away == s.noLoad { // one thing at a time
		s.noLoad.at = (s.noLoad.at + 1) % stations
	}
	s.low = sequence.Bolt(1 + pick("low", plan.Bolts))
	return s
}

func boltName(b sequence.Bolt) string { return " " + strconv.Itoa(int(b)) }
