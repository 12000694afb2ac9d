package job

import (
	"slices"
	"strconv"
	"strings"

	"evenload/sequence"
)

// hold reads the hold points: those that the job's own passes and rest have.
func (r *reader) hold(t *table, p *sequence.Procedure) {
	points := sequence.HoldPoints(p.Passes, p.Rest > 0)
	same := func(a, b string) bool {
		return strings.Join(strings.Fields(a), "") == strings.Join(strings.Fields(b), "")
	}
	for i, v := range t.list("hold", 50) {
		at := join(t.at("hold"), strconv.Itoa(i))
		text, ok := v.(string)
		if !ok {
			t.fault(at, "procedure.hold: entry %d is %s, text in quotes is wanted", i+1, typeName(v))
			continue
		}
		if !t.checkText(at, "procedure.hold", text) {
			continue
		}
		n := slices.IndexFunc(points, func(h sequence.Hold) bool { return same(h.Name, text) })
		switch {
		case n < 0:
			var names []string
			for _, h := range points {
				names = append(names, `"`+h.Name+`"`)
			}
			t.fault(at, "procedure.hold: entry %d is \"%s\", it can be %s", i+1, clean(text), strings.Join(names, ", "))
			continue
		case slices.Contains(p.Hold, points[n]):
			t.fault(at, "procedure.hold: entry %d names \"%s\" again", i+1, points[n].Name)
			continue
		}
		p.Hold = append(p.Hold, points[n])
		t.note("hold", points[n].Name, t.origin)
	}
}

// record reads what is asked for beside the bolts.
func (r *reader) record(t *table) {
	if t.take("batches") != nil {
		r.job.Procedure.Batches = t.truth("batches")
	}
	t.end()
}
