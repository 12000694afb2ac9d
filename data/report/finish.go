package report

import (
	"strings"

	"evenload/sequence"
)

// alignment says what was measured, and whether it keeps its limits.
func alignment(p *sequence.Plan, a sequence.Alignment) string {
	text := "alignment beyond its limits: "
	if a.Within(*p.Alignment) {
		text = "alignment within its limits: "
	}
	return text + strings.Join(a.Words(*p.Alignment, p.System), "; ")
}

// gaps is the table of what was measured between the flanges; what each place had
// stands with the events.
func gaps(t table, d AsDone) {
	t.head("GAPS", "spread", "at most", "judged")
	for _, g := range d.Gaps {
		t.row("after "+g.After, g.Spread.Text(d.Plan.System), g.Limit.Text(d.Plan.System), g.Judged())
	}
	if len(d.Gaps) == 0 {
		t.row(d.None("none measured"))
	}
}

// Judged says whether the gaps kept their limit, and who accepted them.
func (g GapTurn) Judged() string {
	var why []string
	if g.OverLimit {
		why = append(why, "over the limit")
	}
	if g.Grown {
		why = append(why, "wider than before")
	}
	text := "inside"
	if len(why) > 0 {
		text = "BEYOND: " + strings.Join(why, ", ")
	}
	if g.Accepted != nil {
		text += ", accepted by " + DecidedBy(*g.Accepted)
	}
	return text
}

// studs is the table of what was measured, as it stands on the card.
func studs(t table, p *sequence.Plan, all []sequence.StretchMeasured) {
	if len(all) == 0 || p.Stretch == nil {
		return
	}
	t.head("STUDS BY STRETCH", "stretch", "load", "give or take", "band "+p.Stretch.Loads(p.System))
	for _, s := range all {
		t.row(s.Columns(p)...)
	}
}
