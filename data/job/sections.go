package job

import (
	"strconv"
	"strings"

	"evenload/data/card"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// reader takes a job file section by section, in the order in which a foreman
// writes them.
type reader struct {
	job *Job
	dir string

	noRing      bool   // the bolts have positions
	whyNoFactor string // what the table says of the lubricant, for a message
	noYield     bool   // a fault says already why the yield is not known
}

func (r *reader) all(top *table) {
	if top.has["format"] == nil {
		top.fault("", `format is missing, such as format = 1`)
	}
	top.whole("format", 0, 1, 1)
	r.joint(top.sub("joint"))
	bolts := top.sub("bolts")
	r.bolts(bolts)
	r.numbering(top.sub("numbering"))
	r.friction(top.sub("friction"), bolts)
	r.gasket(top.sub("gasket"))
	r.target(top.sub("target"))
	r.others(top)
	r.tools(top)
	r.alignment(top.sub("alignment"))
	r.procedure(top.sub("procedure"))
	r.conditions(top.sub("conditions"))
	r.record(top.sub("record"))
	top.end()
}

func (r *reader) joint(t *table) {
	a := &r.job.About
	t.need("tag", `"DH-112-F03"`)
	a.Tag = t.text("tag", "")
	if a.Tag != "" { // else it was said
		if err := card.CheckTag(a.Tag); err != nil {
			t.fault(t.at("tag"), "joint.tag is %q: %v", clean(a.Tag), err)
		}
	}
	a.Where = t.text("where", "")
	a.Drawing = t.text("drawing", "")
	a.WorkOrder = t.text("work_order", "")
	a.Permit = t.text("permit", "")
	a.Procedure = t.text("procedure", "")
	a.Revision = t.text("revision", "")
	a.ApprovedBy = t.text("approved_by", "")
	a.ApprovedOn = t.date("approved_on")
	a.Service = t.text("service", "")
	r.job.Conditions.NeverConnected = t.truth("never_connected")
	r.work(t)
	t.end()
}

func (r *reader) bolts(t *table) {
	j := &r.job.Joint
	r.job.About.Flange = t.text("flange", "")
	flange := r.flange(t)
	if r.job.About.Flange == "" {
		t.need("count", "12")
		t.need("thread", `"7/8-9 UNC"`)
	}
	j.Bolts = t.whole("count", 0, sequence.FewestBolts, sequence.MostBolts)
	if j.Bolts == 0 && t.has["count"] == nil && flange.Bolts > 0 {
		j.Bolts = flange.Bolts
		t.note("count", strconv.Itoa(flange.Bolts), tableOrigin(flange.Mark))
	}
	name := t.text("thread", "")
	own := name != ""
	if !own && flange.Bolts > 0 {
		name = flange.Thread
	}
	if name != "" {
		thread, err := joint.ParseThread(name)
		if err != nil {
			t.fault(t.at("thread"), "bolts.thread: %v", err)
			r.noYield = true
		}
		j.Thread = thread
	}
	if !own && flange.Bolts > 0 {
		t.note("thread", j.Thread.Designation, tableOrigin(flange.Mark))
	}
	r.job.System = unit.SI
	if j.Thread.Inch {
		r.job.System = unit.US
	}
	j.Circle = r.flangeLength(t, "circle", flange.Circle, flange)
	j.Rating = flange.Rating
	r.sameAsFlange(t, flange)
	r.job.About.Grade = t.text("grade", "")
	j.Grade = r.job.About.Grade
	j.Yield = quantity(t, "yield", "", unit.ParseStress)
	r.grade(t)
	if tensile := quantity(t, "tensile", "", unit.ParseStress); tensile > 0 && tensile < j.Yield {
		t.fault(t.at("tensile"), "bolts.tensile is below bolts.yield, look at both")
	}
	r.job.Grip = quantity(t, "grip", "", unit.ParseLength)
	width := quantity(t, "nut_width", "", unit.ParseLength)
	j.Friction.BearingInner = quantity(t, "bearing_inner", "", unit.ParseLength)
	j.Friction.BearingOuter = quantity(t, "bearing_outer", "", unit.ParseLength)
	r.job.NutWidth = width
	hole := r.flangeLength(t, "hole", flange.Hole, flange)
	r.job.Hole = hole
	if j.Friction.BearingInner == 0 {
		j.Friction.BearingInner = hole // the nut bears from the hole's edge on
	}
	if j.Friction.BearingOuter == 0 && (width > 0 || j.Friction.BearingInner > 0) {
		j.Friction.BearingOuter = r.nutWidth(t, width) // and up to its flats: common practice
	}
	if i, o := j.Friction.BearingInner, j.Friction.BearingOuter; i > 0 && o > 0 && i >= o {
		t.fault(t.first("bearing_inner", "hole"), "the nut's bearing face is %s inside and %s outside: look at bearing_inner or hole, and bearing_outer or nut_width",
			i.Text(r.job.System), o.Text(r.job.System))
	}
	r.positions(t)
	t.end()
}

func (r *reader) numbering(t *table) {
	a := &r.job.About
	a.Datum = t.text("datum", "top centre")
	a.ViewedFrom = t.text("viewed_from", "tool side")
	if r.noRing {
		r.onlyRing(t, "bolt_1", "positions say where bolt 1 is")
		t.end()
		return
	}
	a.Bolt1OnDatum = choice(t, "bolt_1", "first clockwise of datum", "first clockwise of datum", "on datum") == "on datum"
	t.end()
}

func (r *reader) friction(t, bolts *table) {
	f := &r.job.Joint.Friction
	r.job.About.Lubricant = t.text("lubricant", "")
	r.job.Joint.Lubricant = r.job.About.Lubricant
	f.NutFactor = t.plain("nut_factor", 1)
	f.Thread = t.plain("thread", 1)
	f.Bearing = t.plain("bearing", 1)
	r.lubricant(t)
	if f.Scatter >= 1 {
		t.fault(t.at("scatter"), "friction.scatter is 100 %% or more, 25 %% to 30 %% is usual")
	}
	long := t.has["thread"] != nil || t.has["bearing"] != nil
	switch {
	case t.has["nut_factor"] != nil && long:
		t.fault(t.at("nut_factor"), "friction has nut_factor and the frictions thread and bearing, give one or the other")
	case f.NutFactor == 0 && t.has["nut_factor"] == nil && !long:
		t.fault(t.path, "friction.nut_factor is missing, such as nut_factor = 0.15 for the lubricant that is used%s", r.whyNoFactor)
	case long && (t.has["thread"] == nil || t.has["bearing"] == nil):
		t.fault(t.path, "friction has one of thread and bearing, both are needed")
	case long && (f.BearingInner <= 0 || f.BearingOuter <= 0):
		bolts.fault(bolts.path, "friction.thread and friction.bearing need the nut's bearing face: bolts.bearing_inner and bearing_outer, or hole and nut_width")
	}
	t.end()
}

func (r *reader) gasket(t *table) {
	r.job.About.Gasket = t.text("type", "")
	g := &r.job.Joint.Gasket
	g.Inner = quantity(t, "inner", "", unit.ParseLength)
	g.Outer = quantity(t, "outer", "", unit.ParseLength)
	if g.Inner > 0 && g.Outer > 0 && g.Inner >= g.Outer {
		t.fault(t.at("inner"), "gasket.inner is not below gasket.outer")
	}
	g.LeastStress = quantity(t, "least_stress", "", unit.ParseStress)
	g.MostStress = quantity(t, "most_stress", "", unit.ParseStress)
	if g.MostStress > 0 && g.LeastStress >= g.MostStress {
		t.fault(t.at("least_stress"), "gasket.least_stress is not below gasket.most_stress")
	}
	g.LeastInService = quantity(t, "least_stress_in_service", "", unit.ParseStress)
	g.LoadLeft = quantity(t, "load_left", "", unit.ParseShare)
	if g.LoadLeft > 1 {
		t.fault(t.at("load_left"), "gasket.load_left is above 100 %%, 70 %% is usual")
	}
	if g.LeastInService > 0 && t.has["load_left"] == nil {
		t.note("load_left", "70 %", "default")
	}
	g.M = t.plain("m", 20)
	g.Y = quantity(t, "y", "", unit.ParseStress)
	r.gasketKind(t)
	r.job.Flange.Gasket = quantity(t, "stiffness", "", unit.ParseStiffness)
	t.end()
}

func (r *reader) target(t *table) {
	target := &r.job.Joint.Target
	var kinds []string
	for _, kind := range []joint.TargetKind{joint.ByBoltStress, joint.ByYieldShare, joint.ByBoltLoad, joint.ByTorque} {
		if t.has[string(kind)] != nil {
			kinds = append(kinds, string(kind))
			target.Kind = kind
		}
	}
	target.Stress = quantity(t, "bolt_stress", "", unit.ParseStress)
	target.Share = quantity(t, "yield_share", "", unit.ParseShare)
	target.Load = quantity(t, "bolt_load", "", unit.ParseForce)
	target.Torque = quantity(t, "torque", "", unit.ParseTorque)
	if target.Share > 1 {
		t.fault(t.at("yield_share"), "target.yield_share is above 100 %%")
	}
	switch {
	case len(kinds) == 0:
		t.fault(t.path, "the target is missing: one of bolt_stress, yield_share, bolt_load, torque")
	case len(kinds) > 1:
		t.fault(t.at(kinds[1]), "the target is given %d times, as %s: keep one", len(kinds), strings.Join(kinds, " and "))
	case target.Kind == joint.ByYieldShare && r.job.Joint.Yield == 0 && !r.noYield:
		t.fault(t.at("yield_share"), "target.yield_share needs the yield of the bolts: give bolts.grade or bolts.yield")
	}
	switch {
	case target.Kind == joint.ByBoltStress:
		target.Area = choice(t, "area", joint.Tensile, joint.Tensile, joint.Root)
	case t.take("area") != nil:
		t.fault(t.at("area"), "target.area goes with bolt_stress only, take it out")
	}
	t.end()
}

// others are the small tables: pressures, air, flange, limits.
func (r *reader) others(top *table) {
	p := top.sub("pressure")
	r.job.Joint.Pressures = joint.Pressures{Design: quantity(p, "design", "", unit.ParsePressure), Test: quantity(p, "test", "", unit.ParsePressure)}
	p.end()
	a := top.sub("air")
	r.job.Joint.Air = joint.Air{Supply: quantity(a, "supply", "", unit.ParsePressure), HoseBore: quantity(a, "hose_bore", "", unit.ParseLength),
		HoseLength: quantity(a, "hose_length", "", unit.ParseLength)}
	a.end()
	f := top.sub("flange")
	r.flangeSizes(f)
	limits := &r.job.Joint.Limits
	limits.FlangeMost = quantity(f, "most_stress", "", unit.ParseStress)
	f.end()
	l := top.sub("limits")
	limits.BoltLeast = quantity(l, "bolt_least", "", unit.ParseShare)
	limits.BoltMost = quantity(l, "bolt_most", "", unit.ParseShare)
	if limits.BoltMost > 0 && limits.BoltLeast >= limits.BoltMost {
		l.fault(l.at("bolt_least"), "limits.bolt_least is not below limits.bolt_most")
	}
	l.end()
}

func (r *reader) conditions(t *table) {
	c := &r.job.Conditions
	c.AtHeight = t.truth("at_height")
	c.HazardousArea = t.truth("hazardous_area")
	c.DriveGas = t.text("drive_gas", "air")
	t.end()
}
