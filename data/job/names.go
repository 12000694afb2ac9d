package job

import (
	"fmt"
	"math"
	"strings"

	"evenload/data/reference"
	"evenload/joint"
	"evenload/joint/unit"
)

// tableOrigin is the origin of a value that a name stood for.
func tableOrigin(mark reference.Mark) string {
	if mark == "" {
		return "table"
	}
	return "table, " + string(mark)
}

// flange looks up bolts.flange. A name that is in no table is a fault only
// where something is needed of it.
func (r *reader) flange(t *table) reference.Flange {
	name := r.job.About.Flange
	if name == "" || t.has["positions"] != nil {
		return reference.Flange{}
	}
	f, err := reference.FlangeOf(name)
	if err != nil && (t.has["count"] == nil || t.has["thread"] == nil) {
		t.fault(t.at("flange"), "bolts.flange: %v; or give count and thread", err)
	}
	return f
}

// sameAsFlange holds count, thread and circle of the job against its flange.
func (r *reader) sameAsFlange(t *table, f reference.Flange) {
	j := r.job.Joint
	if f.Bolts == 0 {
		return
	}
	if j.Bolts > 0 && j.Bolts != f.Bolts {
		t.fault(t.at("count"), "bolts.count is %d, and %s has %d: look which is right", j.Bolts, f.Name, f.Bolts)
	}
	if math.Abs(float64(j.Circle-f.Circle)) > unit.Millimetre && j.Circle > 0 && f.Circle > 0 {
		t.fault(t.at("circle"), "bolts.circle is %s, and %s has %s: look which is right", j.Circle.Text(r.job.System), f.Name, f.Circle.Text(r.job.System))
	}
	thread, err := joint.ParseThread(f.Thread)
	if err == nil && j.Thread.Diameter > 0 && (thread.Diameter != j.Thread.Diameter || thread.Pitch != j.Thread.Pitch) {
		t.fault(t.at("thread"), "bolts.thread is %s, and %s has %s: look which is right", j.Thread.Designation, f.Name, f.Thread)
	}
}

// flangeLength is a length of the joint that its flange has where the job is
// silent.
func (r *reader) flangeLength(t *table, key string, of unit.Length, f reference.Flange) unit.Length {
	own := quantity(t, key, "", unit.ParseLength)
	if own == 0 && of > 0 && t.has[key] == nil {
		t.note(key, of.Text(unit.SI), tableOrigin(f.Mark))
		return of
	}
	return own
}

// nutWidth is the width across flats of the job's nut, else that of the usual
// one of its thread.
func (r *reader) nutWidth(t *table, own unit.Length) unit.Length {
	if own > 0 || t.has["nut_width"] != nil {
		return own
	}
	nuts, err := reference.NutsOf(r.job.Joint.Thread.Size())
	if err != nil {
		return 0
	}
	t.note("bearing_outer", nuts[0].Text+" across flats ("+nuts[0].Name+")", tableOrigin(nuts[0].Mark))
	return nuts[0].Width
}

// grade takes the yield of a grade from the table where the job is silent, and
// keeps it to hold the job's own against.
func (r *reader) grade(t *table) {
	j := &r.job.Joint
	silent := t.has["yield"] == nil
	if j.Grade == "" || j.Thread.Diameter == 0 {
		r.noYield = r.noYield || j.Grade != "" // its size is not known
		return
	}
	g, err := reference.GradeOf(j.Grade, j.Thread.Diameter)
	if err == nil && g.Inch != j.Thread.Inch && g.Sized {
		err = fmt.Errorf("%s is a grade of other threads than %s: write the grade that is stamped on the bolts", g.Name, j.Thread.Designation)
	}
	if err != nil {
		if silent {
			t.fault(t.at("grade"), "bolts.grade: %v; or give bolts.yield", err)
			r.noYield = true
		}
		return
	}
	j.GradeYield = g.Yield
	if silent {
		j.Yield = g.Yield
		t.note("yield", fmt.Sprintf("%s (%s, %s)", g.Yield.Text(unit.SI), g.Name, g.Sizes), tableOrigin(g.Mark))
	}
}

// lubricant takes what the table knows of a lubricant where the job is silent:
// its usual nut factor, and its range for the scatter.
func (r *reader) lubricant(t *table) {
	f := &r.job.Joint.Friction
	l, err := reference.LubricantOf(r.job.About.Lubricant)
	if r.job.About.Lubricant == "" {
		l, err = reference.Lubricant{}, nil
	}
	long := t.has["thread"] != nil || t.has["bearing"] != nil
	if f.NutFactor == 0 && t.has["nut_factor"] == nil && !long {
		switch {
		case err != nil:
			r.whyNoFactor = "; " + err.Error()
		case l.Usual > 0:
			f.NutFactor = l.Usual
			t.note("nut_factor", fmt.Sprintf("%v (%s)", l.Usual, l.Name), tableOrigin(l.Mark))
		case l.Name != "":
			r.whyNoFactor = fmt.Sprintf("; the table has %v to %v for %s and no usual one", l.Least, l.Most, l.Name)
		}
	}
	if err == nil && l.Least > 0 && l.Most > 0 {
		f.Least, f.Most = l.Least, l.Most
	}
	if t.has["scatter"] == nil && f.Least > 0 {
		t.take("scatter")
		t.note("scatter", fmt.Sprintf("nut factor %v to %v (%s)", l.Least, l.Most, l.Name), tableOrigin(l.Mark))
		return
	}
	f.Scatter = quantity(t, "scatter", "30 %", unit.ParseShare)
}

// gasketKind takes m and y of a kind of gasket from the table where the job is
// silent, and the sealing diameters of a spiral-wound one from its flange.
func (r *reader) gasketKind(t *table) {
	g := &r.job.Joint.Gasket
	kind := r.job.About.Gasket
	if k, err := reference.GasketOf(kind); kind != "" && err == nil && t.has["m"] == nil && t.has["y"] == nil && k.M > 0 {
		g.M, g.Y = k.M, k.Y
		t.note("m", fmt.Sprintf("%v (%s)", k.M, k.Name), tableOrigin(k.Mark))
		t.note("y", fmt.Sprintf("%s (%s)", k.Y.Text(unit.SI), k.Name), tableOrigin(k.Mark))
	}
	if t.has["inner"] != nil || t.has["outer"] != nil || !strings.Contains(strings.ToLower(kind), "spiral") {
		return
	}
	if s, err := reference.SealOf(r.job.About.Flange); err == nil {
		g.Inner, g.Outer = s.Inner, s.Outer
		t.note("inner", s.Inner.Text(unit.SI)+" ("+s.Name+")", tableOrigin(s.Mark))
		t.note("outer", s.Outer.Text(unit.SI)+" ("+s.Name+")", tableOrigin(s.Mark))
	}
}
