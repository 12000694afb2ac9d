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
