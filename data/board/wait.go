package board

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"evenload/joint"
	"evenload/sequence"
)

// Wait says that something waits for somebody, and why. What is more urgent has
// the lower rank.
type Wait struct {
	For  string
	Why  string
	Rank int
}

// Whom something can wait for.
const (
	forForeman  = "foreman"
	forArea     = "area authority"
	forEngineer = "engineer"
	forNamed    = "named person"
	forWitness  = "witness"
	forCrew     = "crew"
	forTime     = "time"
)

// The ranks, the most urgent first.
const (
	rankDamage = iota
	rankStop
	rankEngineer
	rankNamed
	rankWitness
	rankHandover
	rankRestOver
	rankOverdue
	rankFault
	rankCrew
	rankSoon
	rankNote
	rankRest
	rankBegin
	rankWork // somebody is at it
	rankDone
)

// holds are what the walk itself waits for, whoever looks and whenever.
func holds(w sequence.Walk, p sequence.Progress) []Wait {
	var all []Wait
	switch next := p.Next.(type) {
	case sequence.Stop:
		all = append(all, Wait{forArea, "stopped: " + next.Reason + "; a new sign-on needs a permit number", rankStop})
	case sequence.Release:
		one := Wait{forNamed, w.ReleaseWords(next)[0], rankNamed}
		switch next.Of {
		case sequence.OfHold:
			one.For, one.Rank = forWitness, rankWitness
		case sequence.OfPressure, sequence.OfRounds, sequence.OfProblem, sequence.OfStretch:
			one.For, one.Rank = forEngineer, rankEngineer
		}
		all = append(all, one)
	case sequence.Ask:
		if next.SaidNo {
			one := Wait{forForeman, "answered no: " + next.Question.Text, rankNamed}
			if next.Question.OnNo == sequence.Override {
				one.For = forNamed
			}
			all = append(all, one)
		}
	case sequence.GapCheck:
		if next.Over != nil {
			all = append(all, Wait{forNamed, fmt.Sprintf("gaps after %s: the spread is %s, the most is %s", next.After,
				next.Over.Spread.Text(w.Plan().System), next.Limit.Text(w.Plan().System)), rankNamed})
		}
	}
	if p.Handed != "" {
		all = append(all, Wait{forCrew, "handover under way: who takes over signs on; on the flange: " + p.Handed, rankHandover})
	}
	return all
}

// waits are all that a card or job waits for at a time, the most urgent first. Times
// are told in the zone of now.
func (s Summary) waits(now time.Time) []Wait {
	all := slices.Clone(s.Holds)
	add := func(rank int, who, format string, a ...any) {
		all = append(all, Wait{who, fmt.Sprintf(format, a...), rank})
	}
	switch {
	case s.Damage != "" && s.Line > 0:
		add(rankDamage, forForeman, "damaged at line %d: %s; leave the file as it is", s.Line, s.Damage)
	case s.Damage != "":
		add(rankDamage, forForeman, "not readable: %s", s.Damage)
	}
	if s.Torn {
		add(rankNote, forCrew, "the last line is not whole: it is being written now, or it is torn and walk cuts it off")
	}
	if s.Back > 0 {
		add(rankNote, forForeman, "the clock had gone back at line %d", s.Back)
	}
	if s.Kind == Job && s.Errors > 0 {
		add(rankFault, forForeman, "errors in the job: %d; evenload check lists them", s.Errors)
	}
	if (s.Kind == Job || s.Kind == Card) && s.Damage == "" && s.Stage != sequence.StageClosed {
		if !s.Approved {
			add(rankFault, forEngineer, "approval missing")
		}
		all = append(all, s.dues(joint.DateOf(now))...)
	}
	switch {
	case s.Kind == Job && s.Damage == "":
		add(rankBegin, forCrew, "not begun")
	case s.Kind != Card || s.Damage != "" || s.Stage == sequence.StageClosed:
	case !s.RestEnds.IsZero() && now.Before(s.RestEnds):
		add(rankRest, forTime, "the gasket rests until %s", clock(s.RestEnds, now))
	case !s.RestEnds.IsZero():
		add(rankRestOver, forCrew, "rest over since %s: check rounds", clock(s.RestEnds, now))
	case len(s.Holds) > 0:
	case !s.Working:
		add(rankCrew, forCrew, "nobody is signed on")
	case s.Silence > 0 && now.Sub(s.LastAt) > s.Silence:
		add(rankCrew, forCrew, "nothing written since %s", clock(s.LastAt, now))
	}
	slices.SortStableFunc(all, func(a, b Wait) int { return cmp.Compare(a.Rank, b.Rank) })
	return all
}

// dues are the certificates of the tools in use that are over or nearly so.
func (s Summary) dues(on joint.Date) []Wait {
	var all []Wait
	for _, d := range s.Tools {
		tool := joint.Tool{ID: d.Tool, Due: d.Due, Gauge: joint.Gauge{ID: d.Gauge, Due: d.GaugeDue}}
		for _, f := range tool.DueFindings(on, "") {
			rank := rankSoon
			if f.Severity == joint.Error {
				rank = rankOverdue
			}
			all = append(all, Wait{forForeman, f.Text, rank})
		}
	}
	return all
}

// clock is a time in the zone of whoever looks: cards of several zones stand side
// by side.
func clock(t, now time.Time) string {
	return t.In(now.Location()).Format("2006-01-02 15:04")
}

// rank is what a row is sorted by: how urgent it is.
func (r Row) rank() int {
	switch {
	case len(r.Waits) > 0:
		return r.Waits[0].Rank
	case r.Stage == sequence.StageClosed:
		return rankDone
	}
	return rankWork
}
