package sequence

import (
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
