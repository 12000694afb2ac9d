package paper

import (
	"fmt"
	"io"
	"slices"
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
	for _, w := range d.Walk.NoStudWords() {
		short, _, _ := strings.Cut(w, ":")
		h.alarm += short + "   "
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
	if forks := d.ForkWords(); forks != "" {
		h.alarm += "FORK: " + forks + "   "
		h.across, h.right = strings.TrimSpace(h.across+" FORK"), strings.TrimSpace(h.right+" FORK")
	}
	last := d.Events[len(d.Events)-1].At.UTC()
	return document{A4, last, "Record " + d.ID, h, func(p *page) {
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
	}}.write(out)
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
	for _, f := range r.Forks {
		r.face("B", body)
		r.say("FORK: " + f.Words())
	}
	r.facts(r.AllFacts())
	r.people()
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

func (r record) people() {
	r.section("PEOPLE")
	if len(r.People) == 0 {
		r.say(r.None(report.Nobody))
		return
	}
	var cols []column
	for i, width := range []float64{9, 0, 20, 22, 24, 28, 24, 24} {
		cols = append(cols, column{head: report.PeopleHead[i], width: width})
	}
	r.table(cols, r.PeopleRows())
}

// passes holds the plan against what was done.
func (r record) passes() {
	r.section("PLAN AGAINST AS DONE")
	var cols []column
	for i, width := range []float64{15, 14, 15, 13, 15, 15, 0, 0, 25} {
		head := report.PassHead[i]
		cols = append(cols, column{head: head, width: width, each: slices.Contains(report.Readings, head)})
	}
	r.table(cols, r.PassRows())
	rows := r.RoundRows()
	if len(rows) == 0 {
		r.say("check rounds: " + r.None("none made"))
		return
	}
	cols = nil
	for i, width := range []float64{18, 0, 34, 34, 14, 14, 15, 20} {
		head := report.RoundHead[i]
		cols = append(cols, column{head: head, width: width, each: slices.Contains(report.Readings, head)})
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
		rows = append(rows, []string{"after " + g.After, strings.Join(parts, "   "), g.Spread.Text(r.Plan.System), g.Limit.Text(r.Plan.System), g.Judged()})
	}
	if len(rows) == 0 {
		r.say(r.None("none measured"))
		return
	}
	r.table([]column{{head: "when", width: 30}, {head: "beside bolt", width: 0}, {head: "spread", width: 18}, {head: "at most", width: 18}, {head: "judged", width: 42}}, rows)
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
	r.table([]column{{head: "bolt", width: 18}, {head: "stretch", width: 30}, {head: "load", width: 30}, {head: "give or take", width: 30}, {head: "band " + r.Plan.Stretch.Loads(r.Plan.System), width: 0}}, rows)
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
	r.table([]column{{head: "line", width: 10}, {head: "time", width: 35}, {head: "by", width: 30}, {head: "what", width: 0}}, rows)
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
	if r.State == report.Damaged {
		r.say("No lines to sign on: the card is damaged, and this is only what stands before the damage. Nobody can sign for the rest.")
		return
	}
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
