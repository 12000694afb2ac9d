package report

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"evenload/joint"
	"evenload/sequence"
)

// JointFacts say which joint a plan is for, and what it asks.
func JointFacts(p *sequence.Plan) []sequence.Told {
	var all []sequence.Told
	said := func(label, value string) {
		if value != "" {
			all = append(all, sequence.Told{Label: label, Text: value})
		}
	}
	said("where", p.About.Where)
	said("flange", p.About.Flange)
	said("service", p.About.Service)
	said("drawing", p.About.Drawing)
	said("work order", p.About.WorkOrder)
	said("permit", p.About.Permit)
	said("procedure", p.About.Procedure)
	said("revision", p.About.Revision)
	said("approved by", strings.TrimSpace(p.About.ApprovedBy+" "+p.About.ApprovedOn.String()))
	said("bolts", fmt.Sprintf("%d x %s %s", p.Bolts, p.Thread, p.About.Grade))
	said("target torque", p.Aim.Torque.Text(p.System))
	said("order", string(p.Pattern)+": "+order(p.Stations))
	if len(p.Positions) > 0 {
		said("positions", positions(*p))
	}
	return all
}

// Facts are those of the joint, of the job file and of the tools, as a card
// was opened with them.
func Facts(opened sequence.CardOpened) []sequence.Told {
	p := &opened.Plan
	all := append(JointFacts(p), PartFacts(p, opened.Inputs)...)
	if text := socketOf(opened.Inputs); text != "" {
		all = append(all, sequence.Told{Label: "socket", Text: text})
	}
	if f := opened.Follows; f != nil {
		all = append(all, sequence.Told{Label: "follows", Text: f.Words()})
	}
	all = append(all, sequence.Told{Label: "job file", Text: opened.JobFile + " SHA-256 " + opened.JobSHA256})
	return append(all, ToolFacts(p)...)
}

// Facts are those of the opening and what the walk came to since. A permit with
// which stopped work was opened again stands beside that of the job.
func (d *AsDone) Facts() []sequence.Told {
	all := append(Facts(d.Opened), d.endFacts()...)
	var again []string
	for _, e := range d.Events {
		if s, ok := e.Data.(sequence.SignedOn); ok && s.Permit != "" {
			again = append(again, "reopened with "+s.Permit)
		}
	}
	if len(again) == 0 {
		return all
	}
	text := strings.Join(again, "; ")
	if i := slices.IndexFunc(all, func(f sequence.Told) bool { return f.Label == "permit" }); i >= 0 {
		all[i].Text += "; " + text
		return all
	}
	return append(all, sequence.Told{Label: "permit", Text: "none in the job; " + text})
}

// AllFacts are those with how far the card goes, from when to when, and who witnessed
// its end.
func (d *AsDone) AllFacts() []sequence.Told {
	first, last := d.Events[0].At, d.Events[len(d.Events)-1]
	all := append(d.Facts(), sequence.Told{Label: "state", Text: string(d.State)},
		sequence.Told{Label: "from, to", Text: first.Format(moment) + " to " + last.At.Format(moment) + ", local time UTC" + first.Format("-07:00")})
	if closed, ok := last.Data.(sequence.CardClosed); ok {
		all = append(all, sequence.Told{Label: "witness", Text: closed.Witness + ", " + closed.Role})
	}
	return all
}

// endFacts are what the walk of a card came to that its opening cannot tell: the
// rest, the leak test, and the tools that are in place of those of the plan.
func (d *AsDone) endFacts() []sequence.Told {
	all := d.restFacts()
	w := d.Walk
	switch leak := w.Leak(); {
	case leak != "":
		all = append(all, sequence.Told{Label: "leak test", Text: string(leak)})
	case d.Plan.LeakTest:
		all = append(all, sequence.Told{Label: "leak test", Text: d.None("no result yet")})
	}
	planned := w.Plan().Tools
	for i, tool := range w.Tools() {
		if sameTool(tool, planned[i]) {
			continue
		}
		label := "tool at the end"
		if len(planned) > 1 {
			label += " " + sequence.Letter(i)
		}
		all = append(all, sequence.Told{Label: label, Text: toolText(tool) + ", in place of " + besides(planned[i], tool)})
	}
	return all
}

// toolText is a tool with its papers and its gauge.
func toolText(t joint.Tool) string {
	return fmt.Sprintf("%s certificate %s %s, gauge %s %s", sequence.OrNone(t.ID), cmp.Or(t.Certificate, "not given"), dueWord(t.Due), sequence.OrNone(t.Gauge.ID), dueWord(t.Gauge.Due))
}

func dueWord(d joint.Date) string {
	if d.IsZero() {
		return "due date not given"
	}
	return "due " + d.String()
}

// sameTool says that a tool is the same with gauge, papers and chart: one that came
// back with another gauge has its id and other pressures.
func sameTool(a, b joint.Tool) bool { return reflect.DeepEqual(a, b) }

// besides names a tool so that it is not taken for another one of the same id.
func besides(t, other joint.Tool) string {
	switch name := sequence.OrNone(t.ID); {
	case t.ID != other.ID || sameTool(t, other):
		return name
	case t.Gauge.ID != other.Gauge.ID:
		return name + " with gauge " + sequence.OrNone(t.Gauge.ID)
	default:
		return name + " with certificate " + cmp.Or(t.Certificate, "not given")
	}
}

// ToolFacts name the tools of a plan with their papers.
func ToolFacts(p *sequence.Plan) []sequence.Told {
	var all []sequence.Told
	for i, tool := range p.Tools {
		label := "tool"
		if p.Several() {
			label += " " + sequence.Letter(i)
		}
		all = append(all, sequence.Told{Label: label, Text: toolText(tool)})
	}
	if p.Several() {
		all = append(all, sequence.Told{Label: "check rounds", Text: "clockwise with tool " + sequence.Letter(0) + " alone"})
	}
	return all
}
