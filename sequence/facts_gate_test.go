package sequence

import (
	"errors"
	"fmt"
	"slices"
)

// doubtAll opens the questions that are so.
func (f *facts) doubtAll(p *Plan, which func(Question) bool) {
	for i, q := range p.Questions {
		if which(q) {
			f.doubt = f.doubt.with(i)
		}
	}
}

// longBreak is what a break, or a clock that went back, puts in doubt.
func (f *facts) longBreak(p *Plan) {
	f.set = 0
	f.doubtAll(p, func(q Question) bool { return q.AfterBreak })
}

// gate says which rule a sight of the joint breaks: the order may be shown, and
// nuts turned by hand, when this gives nothing.
func (f *facts) gate(p *Plan) error {
	if f.away {
		return errors.New("rules 1 and 5: work and nobody has signed on")
	}
	if f.stopped {
		return errors.New("rule 9: work behind a stop page")
	}
	if f.expired {
		return errors.New("rule 11: work with a qualification that has expired, and nobody let it count")
	}
	for i, q := range p.Questions {
		if q.When != AtEnd && f.doubt.has(i) {
			return fmt.Errorf("rules 1 and 5: work with question %s open", q.ID)
		}
	}
	return nil
}

// answered says which rule an answer breaks.
func (f *facts) answered(p *Plan, d Answered) error {
	i := p.place(d.Question)
	if q := p.Questions[i]; d.Answer != NotApplicable && (q.Measured != (d.Measured != nil) || q.Measured && (d.Answer == Yes) != d.Measured.Within(*p.Alignment)) {
		return errors.New("rule 13: the alignment was passed over, or judged otherwise than it was read")
	}
	switch {
	case d.Answer == No:
		f.doubt = f.doubt.with(i)
		if d.Question == "3" || d.Question == "4" || d.Question == workQuestion {
			f.set, f.stopped = 0, true
		}
		return nil
	case d.Answer == NotApplicable && !p.Questions[i].MayNot && !(f.snugged && p.Questions[i].Heading == headReady):
		return fmt.Errorf("rule 9: question %s was passed over", d.Question)
	case d.Answer == Yes && p.Questions[i].Typed != "" && d.Typed != p.Questions[i].Typed:
		return errors.New("rule 9: the identity of another joint was taken for this one's")
	}
	if asks := p.Questions[i].Asks; d.Answer == Yes && (len(d.Told) != len(asks) || slices.Contains(d.Told, "")) {
		return errors.New("rule 14: a yes was taken that does not tell what was asked")
	}
	for j, a := range p.Questions[i].Asks {
		if d.Answer == Yes && a.Other && d.Told[j] == f.operator {
			return errors.New("rule 9: the operator was taken for the one who decides")
		}
	}
	f.doubt = f.doubt.without(i)
	f.ended = f.ended || p.Questions[i].When == AtEnd
	return nil
}

// place is where a question stands in the plan.
func (p *Plan) place(question string) int {
	for i, q := range p.Questions {
		if q.ID == question {
			return i
		}
	}
	return -1
}
