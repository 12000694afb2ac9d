package practice

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// PartMark is one part of the mark: how many were asked and how many were right.
type PartMark struct {
	Part  Part `json:"part"`
	Asked int  `json:"asked"`
	Right int  `json:"right"`
	Mark  int  `json:"mark_percent"` // whole per cent, rounded down
}

// Mark is what a practice is worth, part by part and in all: the mean of the parts
// that were asked for, in whole per cent, rounded down.
type Mark struct {
	Total int        `json:"total_percent"`
	Parts []PartMark `json:"parts"`
}

// Mark marks what was done so far. The loads count after every pass, and at the end
// when the walk is finished.
func (r *Run) Mark(finished bool) Mark {
	var m Mark
	sum := 0.0
	for _, part := range Parts {
		p := PartMark{Part: part}
		if part == EvenLoad && !r.Level.Bench() {
			p.Asked, p.Right = r.even.Asked, r.even.Right
			if finished && r.joint != nil {
				p.Asked, p.Right = p.Asked+r.plan.Bolts, p.Right+r.joint.even()
			}
		}
		for _, a := range r.answers {
			if a.Part == part {
				p.Asked++
				if a.OK {
					p.Right++
				}
			}
		}
		if p.Asked == 0 {
			continue
		}
		p.Mark = 100 * p.Right / p.Asked
		sum += 100 * float64(p.Right) / float64(p.Asked)
		m.Parts = append(m.Parts, p)
	}
	if len(m.Parts) > 0 {
		m.Total = int(sum/float64(len(m.Parts)) + 1e-9)
	}
	return m
}

// EvenWords says what is counted for an even load.
const EvenWords = "Even load counts bolts, after every pass and at the end: right is one within 5 % of the target of what a walk without mistakes gives."

// Words say what was asked, answered and right, and why.
func (a Answer) Words() string {
	return fmt.Sprintf("%s Answered: %s. Right was: %s. %s", sentence(a.Asked), a.Given, a.Right, strings.TrimPrefix(a.Why, "Wrong. "))
}

// Missed are the answers that were wrong, in order.
func (r *Run) Missed() []Answer {
	var all []Answer
	for _, a := range r.answers {
		if !a.OK {
			all = append(all, a)
		}
	}
	return all
}

// Log is a practice on paper: for a supervisor to sign.
type Log struct {
	Format     int       `json:"format"`
	Kind       string    `json:"kind"` // always practice
	Word       string    `json:"word"`
	Program    string    `json:"program"`
	Trainee    string    `json:"trainee"`
	Supervisor string    `json:"supervisor,omitempty"`
	Level      int       `json:"level"` // 0: a job of the site
	Name       string    `json:"name"`
	Joint      string    `json:"joint"`
	Bolts      int       `json:"bolts"`
	Seed       uint64    `json:"seed"`
	Scatter    bool      `json:"scatter"`
	Began      time.Time `json:"began"`
	Ended      time.Time `json:"ended"`
	Finished   bool      `json:"finished"`
	Card       string    `json:"card,omitempty"`
	Seal       string    `json:"seal,omitempty"`
	Mark       Mark      `json:"mark"`
	Loads      []int     `json:"loads_percent,omitempty"` // of the target, at the end, in the model, bolt 1 first
	Missed     []Answer  `json:"missed"`
	Answers    []Answer  `json:"answers"`
}

// Log fills in what the practice itself knows.
func (r *Run) Log(finished bool) Log {
	l := Log{Format: 1, Kind: "practice", Word: Word, Level: r.Level.Number, Name: r.Level.Text(), Joint: r.plan.About.Tag, Bolts: r.plan.Bolts,
		Seed: r.Seed, Scatter: r.Scatter, Finished: finished, Mark: r.Mark(finished), Missed: r.Missed(), Answers: r.Answers()}
	if r.joint != nil && !r.Level.Bench() {
		for _, x := range r.Loads() {
			l.Loads = append(l.Loads, int(math.Round(100*float64(x))))
		}
	}
	if l.Missed == nil {
		l.Missed = []Answer{}
	}
	if l.Answers == nil {
		l.Answers = []Answer{}
	}
	return l
}
