package report

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"evenload/sequence"
)

// Nobody is said of a card on which nobody has signed on.
const Nobody = "nobody signed on so far"

// Person is somebody who signed on: with whom, in what role and with which papers, from
// when on. A sign-on with another second person is another entry.
type Person struct {
	sequence.SignedOn
	From time.Time
	Line int // of the card
}

// PeopleHead heads the columns of PeopleRows.
var PeopleHead = []string{"no.", "worked the tool", "from", "role", "company", "qualification", "second person", "supervisor"}

// PeopleRows are those who worked the tool, each sign-on that says something else than
// the person's one before.
func (d *AsDone) PeopleRows() (rows [][]string) {
	for i, p := range d.People {
		until := ""
		if !p.QualifiedUntil.IsZero() {
			until = " until " + p.QualifiedUntil.String()
		}
		rows = append(rows, []string{fmt.Sprint(i + 1), p.Name, p.From.Format(moment), orDash(p.Role), orDash(p.Company), orDash(strings.TrimSpace(p.Qualification + until)), orDash(p.Second), orDash(p.Supervisor)})
	}
	return rows
}

// PersonAt is the number of the entry that holds of somebody at a line of the card, 0
// for none.
func (d *AsDone) PersonAt(name string, line int) int {
	for i, p := range slices.Backward(d.People) {
		if p.Line <= line && sequence.SameName(p.Name, name) {
			return i + 1
		}
	}
	return 0
}

// signOn adds a sign-on that says something new of the person. Role and papers that are
// left out are those of the sign-on before, as in the walk; a second person and a
// supervisor are there only when they are named.
func (d *AsDone) signOn(s sequence.SignedOn, said Said) {
	s.Permit = "" // it is of the work, and stands among the facts
	if i := d.PersonAt(s.Name, said.N); i > 0 {
		before := d.People[i-1].SignedOn
		if s.Role == "" {
			s.Role = before.Role
		}
		if s.Company == "" && s.Qualification == "" && s.QualifiedUntil.IsZero() {
			s.Company, s.Qualification, s.QualifiedUntil = before.Company, before.Qualification, before.QualifiedUntil
		}
		if sequence.SameName(s.Second, before.Second) && sequence.SameName(s.Supervisor, before.Supervisor) && s.Role == before.Role &&
			s.Company == before.Company && s.Qualification == before.Qualification && s.QualifiedUntil == before.QualifiedUntil {
			return
		}
	}
	d.People = append(d.People, Person{s, said.At, said.N})
}

// roleOf is the role of somebody as it was given last.
func (d *AsDone) roleOf(name string) string {
	if i := d.PersonAt(name, len(d.Events)+1); i > 0 {
		return d.People[i-1].Role
	}
	return ""
}

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
