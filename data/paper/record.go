package paper

import (
	"fmt"
	"io"
	"strings"

	"evenload/data/report"
	"evenload/sequence"
)

// Record prints what a card says was done, A4: a summary, plan against as done,
// every answer, deviation and release, each bolt in each pass, and lines for
// signatures.
func Record(out io.Writer, d report.AsDone) error {
	h := heading{left: "RECORD  " + d.Plan.About.Tag, lines: []string{"record " + d.ID + "   seal " + d.Seal}}
	if d.Plan.About.ApprovedBy == "" {
		h.alarm = "UNAPPROVED   "
	}
	if d.Walk.Leak() == sequence.Leaked {
		h.alarm += "LEAKED AT ITS TEST   "
	}
	for _, who := range d.Trainees() {
		h.alarm += "TRAINEE " + who + "   "
	}
	switch d.State {
	case report.Draft:
		h.across, h.right = "DRAFT", "DRAFT"
	case report.Damaged:
		h.across, h.right = "DAMAGED", "DAMAGED"
		h.lines[0] = "record " + d.ID + "   seal of the last good line " + d.Seal
	}
	last := d.Events[len(d.Events)-1].At.UTC()
	return write(out, A4, last, "Record "+d.ID, h, func(p *page) {
		r := record{p, d}
		r.summary()
		r.passes()
		r.pictures()
		r.gaps()
		r.studs()
		r.answers()
		r.deviations()
		r.bolts()
		r.log()
		r.signatures()
	})
}

// record is the document in the making.
type record struct {
	*page
	report.AsDone
}

const clock = "2006-01-02 15:04:05"

func (r record) summary() {
	if r.Why != "" {
		r.face("B", body)
		r.say(strings.ToUpper(string(r.State)) + ": " + r.Why)
	}
	facts := append(r.Facts(), sequence.Told{Label: "state", Text: string(r.State)},
		sequence.Told{Label: "from, to", Text: r.Events[0].At.Format(clock) + " to " + r.Events[len(r.Events)-1].At.Format(clock) + ", local time UTC" + r.Events[0].At.Format("-07:00")})
	if last, ok := r.Events[len(r.Events)-1].Data.(sequence.CardClosed); ok {
		facts = append(facts, sequence.Told{Label: "witness", Text: last.Witness + ", " + last.Role})
	}
	r.facts(facts)
	r.section("PEOPLE")
	var rows [][]string
	for i, who := range r.People {
		rows = append(rows, []string{fmt.Sprint(i + 1), who.Name, who.Role, who.Company, strings.TrimSpace(who.Qualification + " " + until(who)), who.Second, who.Supervisor})
	}
	r.table([]column{{"no.", 9}, {"worked the tool", 0}, {"role", 24}, {"company", 28}, {"qualification", 32}, {"second person", 26}, {"supervisor", 26}}, rows)
	r.section("WHAT WAS LEFT, RELEASED, ACCEPTED OR WAIVED")
	all := r.Walk.Exceptions()
	switch {
	case len(all) > 0:
	case r.State == report.Closed:
		r.say("nothing")
	default:
		r.say(r.None("nothing so far"))
	}
	for _, e := range all {
		r.say("- " + e)
	}
}

func until(who report.Person) string {
	if who.QualifiedUntil.IsZero() {
		return ""
	}
	return "until " + who.QualifiedUntil.String()
}

// passes holds the plan against what was done.
func (r record) passes() {
	r.section("PLAN AGAINST AS DONE")
	var cols []column
	for i, width := range []float64{19, 16, 17, 14, 17, 24, 0, 0, 31} {
		cols = append(cols, column{report.PassHead[i], width})
	}
	r.table(cols, r.PassRows())
	rows := r.RoundRows()
	if len(rows) == 0 {
		r.say("check rounds: " + r.None("none made"))
		return
	}
	cols = nil
	for i, width := range []float64{20, 0, 30, 30, 18, 16, 15, 21} {
		cols = append(cols, column{report.RoundHead[i], width})
	}
	r.table(cols, rows)
	r.say(sequence.StillWord)
}

func (r record) gaps() {
	r.section("GAPS")
	var rows [][]string
	for _, g := range r.Gaps {
		var parts []string
		for _, one := range g.Readings {
			parts = append(parts, fmt.Sprintf("%d: %s", one.Bolt, one.Gap.Text(r.Plan.System)))
		}
		judged := "inside"
		if g.OverLimit || g.Grown {
			judged = "BEYOND"
		}
		if g.Accepted != nil {
			judged += ", accepted by " + report.DecidedBy(*g.Accepted)
		}
		rows = append(rows, []string{"after " + g.After, strings.Join(parts, "   "), g.Spread.Text(r.Plan.System), g.Limit.Text(r.Plan.System), judged})
	}
	if len(rows) == 0 {
		r.say(r.None("none measured"))
		return
	}
	r.table([]column{{"when", 30}, {"beside bolt", 0}, {"spread", 18}, {"at most", 18}, {"judged", 42}}, rows)
}

// studs are those whose stretch was measured, as it stands on the card.
func (r record) studs() {
	all := r.Walk.Studs()
	if len(all) == 0 {
		return
	}
	r.section("STUDS BY STRETCH: " + r.Plan.Stretch.BandWords(r.Plan.System))
	var rows [][]string
	for _, s := range all {
		rows = append(rows, s.Columns(r.Plan))
	}
	r.table([]column{{"bolt", 18}, {"stretch", 30}, {"load", 30}, {"give or take", 30}, {"band " + r.Plan.Stretch.Loads(r.Plan.System), 0}}, rows)
}

func (r record) answers() {
	r.section("ANSWERS")
	var rows [][]string
	for _, e := range r.Events {
		if e.Kind == (sequence.Answered{}).Kind() {
			rows = append(rows, r.logged(e))
		}
	}
	r.events(rows)
}

// deviations are all events that the walk does not ask for by itself. Those of
// a later version are among them.
func (r record) deviations() {
	r.section("DEVIATIONS, RELEASES, CHANGES AND NOTES")
	var rows [][]string
	for _, e := range r.Events {
		if !e.Routine && (e.Kind != (sequence.Answered{}).Kind() || e.Stops) {
			rows = append(rows, r.logged(e))
		}
	}
	r.events(rows)
}

// log has all other events but the marks of bolts, which have their table.
func (r record) log() {
	r.section("ALL OTHER EVENTS")
	var rows [][]string
	for _, e := range r.Events {
		if e.Routine && !e.Marks && e.Kind != (sequence.Answered{}).Kind() {
			rows = append(rows, r.logged(e))
		}
	}
	r.events(rows)
}

func (r record) events(rows [][]string) {
	if len(rows) == 0 {
		r.say("none")
		return
	}
	r.table([]column{{"line", 10}, {"time", 35}, {"by", 30}, {"what", 0}}, rows)
}

func (r record) logged(e report.Said) []string {
	at, by := e.At.Format(clock), e.By
	if e.Back {
		at += " (clock went back)"
	}
	if e.Role != "" {
		by += ", " + e.Role
	}
	return []string{fmt.Sprint(e.N), at, by, e.Text}
}

func (r record) signatures() {
	r.room(52)
	r.section("SIGNATURES")
	r.say(sequence.CloseHint)
	r.signs([]string{"operator", "second person", "witness", "responsible engineer"})
}

// signs are lines for wet signatures.
func (p *page) signs(who []string) {
	for _, w := range who {
		p.room(11)
		p.y += 8
		p.blank(edge, p.y, 92, w+", name")
		p.blank(edge+96, p.y, 52, "signature")
		p.blank(edge+151, p.y, p.w-2*edge-151, "date")
		p.y += 3
	}
}
