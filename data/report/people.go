package report

import (
	"strings"

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

// materials says which batches went into the joint.
func materials(p *sequence.Plan, d sequence.MaterialsNoted) string {
	var parts []string
	for _, told := range d.Words(p.System) {
		parts = append(parts, told.Label+" "+told.Text)
	}
	return "materials: " + strings.Join(parts, ", ")
}

func traineeWord(d sequence.SignedOn) string { return d.Name + ", supervised by " + d.Supervisor }
