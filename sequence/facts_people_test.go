package sequence

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// holdKept says that a hold point of the plan stands before something, not released.
func (f *facts) holdKept(p *Plan, at HoldAt, pass int) error {
	for i, h := range p.Hold {
		if h.At == at && h.Pass == pass && !f.holds.has(i) {
			return fmt.Errorf("rule 10: the hold point %q was passed", h.Name)
		}
	}
	return nil
}

// papers follows what a sign-on says of the person. That of an earlier one
// holds where it is silent. Such a sign-on is a change.
func (f *facts) papers(d SignedOn) error {
	if !d.QualifiedUntil.IsZero() {
		f.lapsed = strings.ReplaceAll(f.lapsed, d.Name, "")
		if d.QualifiedUntil == lapsedOn {
			f.lapsed += d.Name
		}
	}
	if d.Supervisor == d.Name || d.Supervisor == "" && strings.Contains(f.trainees, d.Name) {
		return fmt.Errorf("rule 11: the trainee %s works without another person as supervisor", d.Name)
	}
	if d.Supervisor != "" && !strings.Contains(f.trainees, d.Name) {
		f.trainees += d.Name
	}
	if d.Supervisor != "" || !d.QualifiedUntil.IsZero() {
		f.changes++
	}
	f.expired = strings.Contains(f.lapsed, d.Name)
	return nil
}

// witnessed says which rule the release of a hold point breaks.
func (f *facts) witnessed(p *Plan, d Released) error {
	i := slices.IndexFunc(p.Hold, func(h Hold) bool { return h.Name == d.Hold })
	if i < 0 || f.holds.has(i) {
		return fmt.Errorf("rule 10: %q is no hold point that waits", d.Hold)
	}
	h := p.Hold[i]
	here := map[HoldAt]bool{HoldAfterGate: !f.snugged, HoldBeforePass: f.snugged && f.pass == h.Pass-1 && f.gapsAfter == f.pass,
		HoldBeforeRest: f.still || f.released, HoldBeforeClose: (f.rested || p.Rest == 0) && (f.still || f.released)}[h.At]
	if !here {
		return fmt.Errorf("rule 10: the hold point %q was released before the work came there", d.Hold)
	}
	if strings.Contains(f.worked, d.Name) {
		return fmt.Errorf("rule 10: %s worked on the joint and released a hold point", d.Name)
	}
	f.holds = f.holds.with(i)
	return f.named(d.Named)
}

func (f *facts) signedOn(p *Plan, by string, d SignedOn) error {
	if by != d.Name {
		return fmt.Errorf("rules 1 and 5: %q signed on for %q", by, d.Name)
	}
	if f.stopped {
		if d.Permit == "" {
			return errors.New("rule 9: a stop page was left without a permit number")
		}
		f.stopped, f.set = false, 0
		f.doubtAll(p, func(q Question) bool { return q.When == AtGate })
	}
	switch {
	case f.operator != "" && f.operator != d.Name:
		if f.persons == 0 {
			f.persons = 1
		} else {
			f.changes++
		}
		f.set = 0
		f.doubtAll(p, func(q Question) bool { return q.When == AtHandover || q.When == AtGate && !f.snugged })
		if i := p.place("marks"); i >= 0 && p.Rules >= 4 {
			f.doubt = f.doubt.without(i)
		}
	case f.asksForMarks(p):
		f.doubtAll(p, func(q Question) bool { return q.When == AtResume })
	}
	f.operator, f.second, f.supervisor, f.away = d.Name, d.Second, d.Supervisor, false
	if err := f.papers(d); err != nil {
		return err
	}
	for _, name := range []string{d.Name, d.Second, d.Supervisor} {
		if !strings.Contains(f.worked, name) {
			f.worked += name
		}
	}
	return nil
}

// named holds a release, override or waiver against rule 9.
func (f *facts) named(n Named) error {
	if n.Name == "" || n.Role == "" || SameName(n.Name, f.operator) || f.second != "" && SameName(n.Name, f.second) || f.supervisor != "" && SameName(n.Name, f.supervisor) {
		return fmt.Errorf("rule 9: %q with role %q released the work of %q", n.Name, n.Role, f.operator)
	}
	return nil
}
