// Package draft writes job files: from twelve answers, from the rows of a
// register, and into a job file that is there already.
package draft

import (
	"evenload/data/reference"
)

// Name is one of the answers, and the name of its column in a register.
type Name string

// The answers.
const (
	Tag        Name = "tag"
	Where      Name = "where"
	Flange     Name = "flange"
	Grade      Name = "grade"
	Lubricant  Name = "lubricant"
	Gasket     Name = "gasket"
	Target     Name = "target"
	Tool       Name = "tool"
	Revision   Name = "revision"
	ApprovedBy Name = "approved_by"
	Passes     Name = "passes"
	Rest       Name = "rest"
)

// Columns that a register has beside the answers: what belongs to one joint, and
// what a template does not give.
const (
	Drawing   Name = "drawing"
	WorkOrder Name = "work_order"
	Permit    Name = "permit"
	Procedure Name = "procedure"
	Service   Name = "service"
)

// Answers are texts as people write them; silent ones are empty.
type Answers map[Name]string

// Question asks for one answer.
type Question struct {
	Name   Name
	Label  string
	Hint   string // how an answer looks
	Kind   string // the table that it is looked up in, empty for none
	Needed bool
	Silent string // what comes of an empty answer, where that is worth a word
}

// Questions are asked in this order.
func Questions() []Question {
	return []Question{
		{Tag, "Tag", "DH-112-F03: letters a to z, digits, . _ -", "", true, ""},
		{Where, "Where", "pump house 2, strainer outlet", "", false, ""},
		{Flange, "Flange", "8 in 300#, DN 200 PN 16, or 12 x M20", "flange", true, ""},
		{Grade, "Grade", "B7, 8.8; another: its name and yield, 640 MPa", "grade", true, ""},
		{Lubricant, "Lubricant", "nickel anti-seize; another: its name and nut factor, 0.15", "lubricant", true, ""},
		{Gasket, "Gasket", "spiral wound, stainless; 115 to 158 mm behind it: where it seals", "gasket", false, "not judged"},
		{Target, "Target", "345 MPa, 345 MPa root, 50 % of yield, 120 kN or 300 N·m", "", true, ""},
		{Tool, "Tool", "W-07 or tools/w-07.toml", "", false, "a block to fill in"},
		{Revision, "Revision", "1", "", false, ""},
		{ApprovedBy, "Approved by", "responsible engineer, DH works, 2026-11-02", "", false, "UNAPPROVED"},
		{Passes, "Passes", "30 60 100", "", false, "30 %, 60 %, 100 %"},
		{Rest, "Rest", "4 h, or 0 for none", "", false, "4 h"},
	}
}

// Columns are what the first row of a register may name: the answers, and more
// that the form does not ask.
func Columns() []Question {
	all := Questions()
	for _, n := range []Name{Drawing, WorkOrder, Permit, Procedure, Service} {
		all = append(all, Question{Name: n, Label: string(n)})
	}
	return all
}

// Says is the hint as a sentence, with what comes of an empty answer.
func (q Question) Says() string {
	text := "such as " + q.Hint
	if q.Silent != "" {
		text += "; empty: " + q.Silent
	}
	return text
}

// Search gives names that may be meant by what is typed so far, most of them.
func (q Question) Search(typed string, most int) []string {
	if q.Kind == "" {
		return nil
	}
	found := reference.KindOf(q.Kind).Search(typed, most)
	if q.Name == Flange {
		return nearFlanges(typed, found, most)
	}
	return found
}

// Only is the one name that can be meant by what is typed so far, empty where
// there are several or none.
func (q Question) Only(typed string) string {
	if q.Kind == "" {
		return ""
	}
	return reference.KindOf(q.Kind).Only(typed)
}
