package report

import (
	"slices"
	"strings"

	"evenload/data/card"
	"evenload/sequence"
)

// signedOn says who signed on, and what the person brought.
func signedOn(d sequence.SignedOn) string {
	text := "signed on"
	say := func(word, value string) {
		if value != "" {
			text += ", " + word + value
		}
	}
	say("", d.Role)
	say("of ", d.Company)
	say("qualification ", d.Qualification)
	say("qualified until ", d.QualifiedUntil.String())
	say("second person ", d.Second)
	say("TRAINEE, supervised by ", d.Supervisor)
	say("permit ", d.Permit)
	return text
}

// trainees are those who worked on a card, each with who supervised.
func trainees(c card.Card) []string {
	var all []string
	for _, e := range c.Entries {
		if d, ok := e.Event.Data.(sequence.SignedOn); ok && d.Supervisor != "" {
			if who := traineeWord(d); !slices.Contains(all, who) {
				all = append(all, who)
			}
		}
	}
	return all
}

// materials says which batches went into the joint.
func materials(p *sequence.Plan, d sequence.MaterialsNoted) string {
	var parts []string
	for _, told := range d.Words(p.System) {
		parts = append(parts, told.Label+" "+told.Text)
	}
	return "materials: " + strings.Join(parts, ", ")
}

func traineeWord(d sequence.SignedOn) string { return d.Name + ", supervised by " + d.Supervisor }
