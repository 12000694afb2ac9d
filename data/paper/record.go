package paper

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"evenload/data/report"
	"evenload/joint"
	"evenload/joint/unit"
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
	facts := append(report.Facts(r.Opened), report.EndFacts(r.Walk)...)
	facts = append(facts, sequence.Told{Label: "state", Text: string(r.State)},
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
		r.say("nothing so far")
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

// passes holds the plan against what was done: each attempt at a pass with each
// tool that was used in it, and each check round.
func (r record) passes() {
	r.section("PLAN AGAINST AS DONE")
	passes, rounds := r.Columns()
	var rows [][]string
	for _, c := range passes {
		for slot, s := range r.Plan.Passes[c.Pass-1].Settings {
			for i, u := range r.uses(c, slot, use{r.Plan.Tools[slot], s}) {
				text := fmt.Sprintf("%d of %d", r.count(c, slot, u.tool.ID), r.planned(slot))
				if c.Rejected != "" && i == 0 {
					text += ". DOES NOT COUNT: " + c.Rejected
				}
				start, end := r.readings(func(e report.PressureRead) bool {
					return e.Redo == 0 && e.Slot == slot && e.Tool.ID == u.tool.ID && c.Read(e)
				})
				rows = append(rows, []string{r.Text(c), strings.TrimSpace(letter(r.Plan, slot) + " " + sequence.OrNone(u.tool.ID)), u.setting.Torque.Text(r.Plan.System), u.tool.Gauged(u.setting.Set),
					u.tool.Band(u.setting), start, end, text})
			}
		}
	}
	r.table([]column{{"pass", 19}, {"tool", 16}, {"torque", 18}, {"set to", 15}, {"band", 26}, {"read at start", 0}, {"read at end", 0}, {"bolts done", 38}}, rows)
	if len(rounds) == 0 {
		if r.State == report.Damaged {
			r.say("check rounds: none before the damage")
			return
		}
		r.say("check rounds: none made")
		return
	}
	rows = nil
	for _, c := range rounds {
		n := r.Count(c)
		start, end := r.readings(func(e report.PressureRead) bool { return e.Redo == 0 && c.Read(e) })
		why := r.SetWhy(c.RoundSet)
		if c.Rejected != "" {
			why += ". DOES NOT COUNT: " + c.Rejected
		}
		rows = append(rows, []string{r.Text(c), why, start, end, fmt.Sprint(n.Moved), fmt.Sprint(n.Still), fmt.Sprint(n.Released), fmt.Sprint(n.Open)})
	}
	r.table([]column{{"check round", 20}, {"what for", 0}, {"read at start", 30}, {"read at end", 30}, {"nuts moved", 18}, {"nuts still", 16}, {"released", 15}, {"not looked at", 21}}, rows)
	r.say(sequence.StillWord)
}

// use is a tool with what it was set to.
type use struct {
	tool    joint.Tool
	setting joint.Setting
}

// uses are the tools that were used in a slot in an attempt, in order; the plan's
// where none was.
func (r record) uses(c report.Column, slot int, plan use) []use {
	var all []use
	add := func(u use) {
		if !slices.ContainsFunc(all, func(o use) bool { return o.tool.ID == u.tool.ID }) {
			all = append(all, u)
		}
	}
	for _, e := range r.Reads {
		if e.Redo == 0 && e.Slot == slot && c.Read(e) {
			add(use{e.Tool, e.Setting})
		}
	}
	for b := 1; b <= r.Plan.Bolts; b++ {
		if t, ok := r.Last(sequence.Bolt(b), c); ok && t.Slot == slot && t.Result == report.ResultDone {
			add(use{t.Tool, t.Setting})
		}
	}
	if len(all) == 0 {
		return []use{plan}
	}
	return all
}

// readings lists what the gauge read at start and at end, the end judged.
func (r record) readings(which func(report.PressureRead) bool) (start, end string) {
	var starts, ends []string
	for _, e := range r.Reads {
		switch {
		case !which(e):
		case e.AtEnd:
			ends = append(ends, strings.TrimSpace(reading(e)+" "+e.Judged()))
		default:
			starts = append(starts, reading(e))
		}
	}
	return strings.Join(orOne(starts, "-"), "; "), strings.Join(orOne(ends, "-"), "; ")
}

// planned is how many bolts a slot has.
func (r record) planned(slot int) (n int) {
	for _, s := range r.Plan.Stations {
		if slot < len(s) {
			n++
		}
	}
	return n
}

// count is how many bolts a tool of a slot has done.
func (r record) count(c report.Column, slot int, tool string) (done int) {
	for b := 1; b <= r.Plan.Bolts; b++ {
		if t, ok := r.Last(sequence.Bolt(b), c); ok && t.Result == report.ResultDone && t.Slot == slot && t.Tool.ID == tool {
			done++
		}
	}
	return done
}

func reading(e report.PressureRead) string {
	var parts []string
	show := func(v unit.Pressure, word string) {
		if v > 0 {
			parts = append(parts, e.Tool.Typed(v)+" "+word)
		}
	}
	show(e.Running, "running")
	show(e.Static, "at rest")
	return strings.Join(parts, ", ")
}

func letter(plan *sequence.Plan, slot int) string {
	if !plan.Several() {
		return ""
	}
	return sequence.Letter(slot)
}

func orOne(all []string, silent string) []string {
	if len(all) == 0 {
		return []string{silent}
	}
	return all
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
		r.say("none measured")
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
		if !e.Routine && e.Kind != (sequence.Answered{}).Kind() {
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
