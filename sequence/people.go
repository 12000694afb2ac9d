package sequence

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"evenload/joint"
)

// crew takes down who signed on, with what is known of the person. What was
// said at an earlier sign-on on this card still holds where a later one is
// silent: to leave it out is no way round it.
func (w *Walk) crew(d SignedOn, at time.Time) error {
	i := slices.IndexFunc(w.people, func(p string) bool { return SameName(p, d.Name) })
	if i >= 0 {
		before := w.papers[i]
		if d.Company == "" && d.Qualification == "" && d.QualifiedUntil.IsZero() {
			d.Company, d.Qualification, d.QualifiedUntil = before.Company, before.Qualification, before.QualifiedUntil
		}
		if before.Supervisor != "" && strings.TrimSpace(d.Supervisor) == "" {
			return fmt.Errorf("%s is a trainee on this card: who supervises today", d.Name)
		}
	}
	if isTrainee(d.Role) && strings.TrimSpace(d.Supervisor) == "" {
		return fmt.Errorf("%s is a %s: name the supervisor", d.Name, strings.TrimSpace(d.Role))
	}
	if SameName(d.Supervisor, d.Name) {
		return fmt.Errorf("%s cannot be the own supervisor: name another person", d.Name)
	}
	if i < 0 {
		w.people, w.papers = and(w.people, d.Name), and(w.papers, d)
	} else {
		w.papers = with(w.papers, i, d)
	}
	w.supervisor = strings.TrimSpace(d.Supervisor)
	// The day is that of UTC, as the card keeps it: in the night after the last
	// day the zone may decide, and a named person with it.
	w.expired = !d.QualifiedUntil.IsZero() && d.QualifiedUntil.Before(joint.DateOf(at.UTC()))
	return nil
}

// isTrainee says that a role is that of somebody who learns the work.
func isTrainee(role string) bool {
	role = strings.ToLower(role)
	return strings.Contains(role, "trainee") || strings.Contains(role, "apprentice")
}

// Supervisor is who supervises the operator, a trainee; empty when nobody
// works or the operator is none.
func (w Walk) Supervisor() string {
	if !w.signedOn {
		return ""
	}
	return w.supervisor
}

// qualification is what is held when that of the operator has expired.
func (w Walk) qualification() Release {
	text := "The qualification of " + w.operator
	for i, p := range w.people {
		if !SameName(p, w.operator) {
			continue
		}
		if id := w.papers[i].Qualification; id != "" {
			text += ", " + id + ","
		}
		text += " was valid until " + w.papers[i].QualifiedUntil.String() + "."
	}
	return Release{Of: OfQualification, Place: w.place(), Reason: text}
}

// appendPapers adds to a key what is known of each operator and decides what
// comes next.
func (w Walk) appendPapers(key []byte) []byte {
	for _, d := range w.papers {
		key = append(append(key, 0), d.QualifiedUntil.String()...)
		if d.Supervisor != "" {
			key = append(key, 1)
		}
	}
	return key
}

func (w *Walk) signOn(by string, d SignedOn, at time.Time) error {
	name := strings.TrimSpace(d.Name)
	d.Name = name
	switch {
	case w.closed:
		return errors.New("the card is closed")
	case name == "":
		return errors.New("a name is needed")
	case !SameName(by, name):
		return fmt.Errorf("%s cannot sign on for %s", by, name)
	case SameName(d.Second, name):
		return errors.New("the second person is somebody else, or nobody")
	case w.stopped != "" && strings.TrimSpace(d.Permit) == "":
		return errors.New("the work is stopped: sign on with the number of the permit that allows it again")
	}
	if err := w.crew(d, at); err != nil {
		return err
	}
	if w.stopped != "" {
		w.except("work opened again by %s with permit %s", name, strings.TrimSpace(d.Permit))
		w.stopped, w.stopWhat = "", ""
		w.doubt(func(Question) bool { return true })
	}
	switch {
	case w.operator != "" && !SameName(w.operator, name):
		w.askAll(AtHandover)
		if w.plan.Rules >= 4 {
			w.drop(AtResume) // one of the handover's asks it
		}
		if w.plan.Rules >= 3 && (w.phase == phaseGate || w.phase == phaseMaterials || w.phase == phaseSnug) {
			w.askAll(AtGate) // nothing is done yet: who works has asked it all
		}
		w.set = nil
	case w.phase != phaseStretch && len(w.At(w.last).order) > 0:
		w.askAll(AtResume)
	}
	w.operator, w.second, w.signedOn = name, strings.TrimSpace(d.Second), true
	w.helped(w.second)
	if w.plan.Rules >= 3 {
		w.helped(w.supervisor)
	}
	w.handed = ""
	w.paceFrom = time.Time{}
	return nil
}

// helped keeps who worked beside an operator.
func (w *Walk) helped(name string) {
	if name != "" && !slices.ContainsFunc(w.seconds, func(p string) bool { return SameName(p, name) }) {
		w.seconds = and(w.seconds, name)
	}
}

// notOperator refuses whoever works now: the operator, by the rules since 1 the second
// person and by those since 3 a trainee's supervisor. Somebody who worked on this card before may decide; see worked for witnesses.
func (w *Walk) notOperator(n Named) error {
	switch {
	case strings.TrimSpace(n.Name) == "" || strings.TrimSpace(n.Role) == "" || strings.TrimSpace(n.Reason) == "":
		return errors.New("name, role and reason are needed")
	case SameName(n.Name, w.operator):
		return errors.New("somebody other than the operator has to decide this")
	case w.plan.Rules >= 3 && SameName(n.Name, w.supervisor):
		return errors.New("the supervisor answers for the trainee's work: somebody else has to decide this")
	case w.plan.Rules >= 1 && SameName(n.Name, w.second):
		return errors.New("the second person works with the operator: somebody else has to decide this")
	}
	return nil
}

// MayDecide says why somebody can decide nothing while the operator works, nil where the
// person may: asked before role and reason are.
func (w Walk) MayDecide(name string) error {
	return w.notOperator(Named{Name: name, Role: "asked later", Reason: "asked later"})
}

// worked says whether somebody was operator, second person or supervisor on this card.
func (w *Walk) worked(name string) bool {
	is := func(p string) bool { return SameName(p, name) }
	return slices.ContainsFunc(w.people, is) || w.plan.Rules >= 1 && slices.ContainsFunc(w.seconds, is)
}

// SameName says that two names are of one person, whatever their case and spaces.
func SameName(a, b string) bool {
	return a == b || strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}
