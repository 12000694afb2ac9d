package draft

import (
	"fmt"
	"slices"
	"strings"

	"evenload/data/job"
	"evenload/joint"
	"evenload/sequence"
)

// Aside is what an answer does to the text that is there, beside its own value: a
// warning where a value is gone or in doubt, a note where one stays.
type Aside struct {
	Of       Name
	Severity joint.Severity
	Text     string
}

// Of are the asides of an answer.
func (l Look) Of(n Name) []Aside {
	var all []Aside
	for _, a := range l.Asides {
		if a.Of == n {
			all = append(all, a)
		}
	}
	return all
}

// Unapproved says that the approval is taken out, as another answer was changed.
func (l Look) Unapproved() bool { return len(l.Of(ApprovedBy)) > 0 }

const (
	stressKey = "target." + string(joint.ByBoltStress)
	areaKey   = "target.area"
)

// beside are the keys of a text that go with the value of an answer: another answer
// that is silent of them takes them out.
var beside = map[Name][]string{
	Flange:    {"bolts.count", "bolts.thread"},
	Grade:     {"bolts.yield"},
	Lubricant: {"friction.nut_factor"},
	Gasket:    {"gasket.inner", "gasket.outer"},
	Target:    {areaKey},
}

// together are the keys of a file that belong to an answer and that it does not
// change: whoever changes the answer has to look at them.
var together = map[Name][]string{
	Flange:    {"bolts.circle", "bolts.hole", "bolts.grip", "bolts.nut_width", "bolts.positions", "gasket.inner", "gasket.outer", "flange.most_stress"},
	Grade:     {"bolts.tensile", "limits.bolt_most"},
	Lubricant: {"friction.scatter", "friction.thread", "friction.bearing"},
	Gasket:    {"gasket.least_stress", "gasket.least_stress_in_service", "gasket.load_left", "gasket.most_stress", "gasket.m", "gasket.y", "gasket.stiffness"},
}

// asides are those of the answers that were changed: each key that is taken out, with
// what has its place, and what is kept and belongs to another answer now.
func (d *Draft) asides(l Look, changes []job.Change) []Aside {
	var all []Aside
	for _, name := range l.Changed {
		for _, key := range beside[name] {
			own := name != Flange || d.given.Has("bolts.flange") // else it is the flange itself
			taken := slices.ContainsFunc(changes, func(c job.Change) bool { return c.Key == key && c.Value == nil })
			if own && taken && d.given.Has(key) {
				why := ""
				if name == Gasket && slices.Contains(l.Changed, Flange) {
					why = ", the flange is another"
				}
				all = append(all, Aside{name, joint.Warning, fmt.Sprintf("%s of %s is gone%s%s", d.valued(key), d.whose(), why, l.instead(key))})
			}
		}
		var kept []string
		for _, key := range together[name] {
			if d.given.Has(key) && !slices.ContainsFunc(changes, func(c job.Change) bool { return c.Key == key }) {
				kept = append(kept, d.valued(key))
			}
		}
		if len(kept) > 0 {
			all = append(all, Aside{name, joint.Warning, fmt.Sprintf("%s was changed; look whether these still hold: %s", labelOf(name), strings.Join(kept, ", "))})
		}
	}
	return all
}

// instead says what a job has in place of a key that was taken out.
func (l Look) instead(key string) string {
	if key == areaKey {
		return ": it goes with a stress only"
	}
	at := slices.IndexFunc(l.Job.Inputs, func(in sequence.Input) bool { return in.Key == key })
	switch {
	case at < 0 && len(l.Wrong)+len(l.Faults)+len(l.Missing) > 0:
		return "" // it cannot be told yet
	case at < 0:
		return ": nothing has its place"
	}
	in := l.Job.Inputs[at]
	value, _, _ := strings.Cut(in.Value, " (") // of what it is
	from, _, _ := strings.Cut(in.Origin, ",")  // its doubt stands in the plan
	return fmt.Sprintf(": the %s's %s is used", from, value)
}

func labelOf(name Name) string {
	all := Columns()
	return all[slices.IndexFunc(all, func(q Question) bool { return q.Name == name })].Label
}
