package job

import (
	"strings"

	"evenload/data/reference"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// alignment reads the limits to which the flanges have to line up before the
// gasket goes in. The table alone, empty too, asks for the readings.
func (r *reader) alignment(t *table) {
	if t.given {
		a := sequence.UsualAlignment
		usual := func(key string, v *unit.Length) {
			*v = quantity(t, key, v.Text(unit.SI), unit.ParseLength)
		}
		usual("offset", &a.Offset)
		usual("parallel", &a.Parallel)
		usual("holes", &a.Holes)
		a.Gap = quantity(t, "gap", "", unit.ParseLength)
		r.job.Procedure.Alignment = &a
	}
	t.end()
}

// finish reads what is asked for when all bolts are tight: the stretch of studs
// and the result of the leak test.
func (r *reader) finish(t *table, p *sequence.Procedure) {
	if t.take("leak_test") != nil {
		p.LeakTest = t.truth("leak_test")
	}
	wanted := t.take("elongation") != nil && t.truth("elongation")
	if !wanted {
		t.take("stretch_reading")
		return
	}
	// A micrometer reads a hundredth: common practice.
	p.StretchReading = quantity(t, "stretch_reading", "0.01 mm", unit.ParseLength)
	give, known := r.job.StudGive()
	if !known && r.job.Joint.Thread.Diameter > 0 {
		t.fault(t.at("elongation"), "procedure.elongation needs bolts.grip, and a thread whose nut is in the table: load is reckoned from both")
	}
	p.StudGive = give
}

// StudGive is by how much a stud stretches under a load, from the middle of one
// nut to that of the other, if it is threaded all along; false where grip or nut
// height are not known.
func (j Job) StudGive() (unit.Compliance, bool) {
	nuts, err := reference.NutsOf(j.Joint.Thread.Size())
	if err != nil || nuts[0].Height <= 0 || j.Grip <= 0 {
		return 0, false
	}
	return unit.Compliance(joint.Elongation(j.Joint.Thread, 1, j.Grip, nuts[0].Height, joint.Modulus(j.About.Grade))), true
}

// notThisWork are the kinds of work that have another procedure: a job of one is
// refused, so that no order is ever shown for it.
var notThisWork = map[string]sequence.What{"loosen": sequence.Loosening, "hot": sequence.HotJoint, "live": sequence.LiveWork, "leak": sequence.Leaking,
	"tension": sequence.Tensioning, "clamp": sequence.NotCovered}

// work reads what kind of work the job is.
func (r *reader) work(t *table) {
	text := t.text("work", "")
	if text == "" {
		return
	}
	what, other := notThisWork[strings.ToLower(strings.TrimSpace(text))]
	switch kind, _ := sequence.StopKindOf(what); {
	case other:
		t.fault(t.at("work"), "joint.work is %q: no order is given for it. %s Now: %s Ask: %s", clean(text), kind.Why, kind.Now, kind.Ask)
	case !strings.EqualFold(strings.TrimSpace(text), "tighten"):
		t.fault(t.at("work"), "joint.work is %q, it can be \"tighten\"; \"loosen\", \"hot\", \"live\", \"leak\", \"tension\" and \"clamp\" say why not", clean(text))
	}
}
