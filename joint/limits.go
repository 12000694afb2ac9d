package joint

import (
	"fmt"
	"math"

	"evenload/joint/unit"
)

// Limits are what the site sets for the bolt stress on the root area (ASME
// PCC-1 Appendix O, from memory); 0 is not set.
type Limits struct {
	BoltLeast, BoltMost unit.Share  // of yield
	FlangeMost          unit.Stress // in the bolts, before the flange suffers
}

// Combined is tension and the torsion of tightening together, on the tensile
// stress area, with the friction mu in the thread.
func Combined(t Thread, load unit.Force, mu float64) unit.Stress {
	return unit.Stress(float64(load) / float64(t.TensileArea()) * twisted(t, mu))
}

// twisted is by how much the torsion of tightening raises the stress of tension
// (VDI 2230): sqrt(1 + 3 [1.5 (d2/d0)(p/(pi d2) + 1.155 mu)]²).
func twisted(t Thread, mu float64) float64 {
	d2, p := float64(t.PitchDiameter()), float64(t.Pitch)
	d0 := (d2 + float64(t.MinorDiameter())) / 2
	torsion := 1.5 * (d2 / d0) * (p/(math.Pi*d2) + 1.155*mu)
	return math.Sqrt(1 + 3*torsion*torsion)
}

// meanBearing is the effective bearing diameter of a nut, as a part of the
// thread's, where the job does not give its face (common practice).
const meanBearing = 1.3

// impliedFriction is the friction in the thread that a torque and the load it
// gave stand for.
func (j Joint) impliedFriction(torque unit.Torque, load unit.Force) float64 {
	if j.Friction.NutFactor == 0 && j.Friction.Thread > 0 && load == j.Friction.Load(j.Thread, torque) {
		return j.Friction.Thread
	}
	f := Friction{NutFactor: float64(torque) / (float64(j.Thread.Diameter) * float64(load)), BearingInner: j.Friction.BearingInner, BearingOuter: j.Friction.BearingOuter}
	if f.BearingInner <= 0 || f.BearingOuter <= 0 {
		f.BearingInner, f.BearingOuter = meanBearing*j.Thread.Diameter, meanBearing*j.Thread.Diameter
	}
	return max(0, f.Coefficient(j.Thread))
}

// The nut factors that occur on bolts (common practice).
const leastNutFactor, mostNutFactor = 0.08, 0.4

// mostFoot is a reaction force that is remarkable on any flange (common practice).
const mostFoot = unit.Force(20e3)

// Unset is a setting that only says the torque: a joint is judged by it when
// its tool cannot be set, without what gauge and setting add to the scatter.
func Unset(torque unit.Torque) Setting { return Setting{Torque: torque, Delivered: torque} }

// JointFindings judges what does not depend on how a tool can be set: target,
// friction, bolts, flange and gasket, at the setting of the last pass or an
// Unset one. The bolt is judged at its high load, the gasket at low and high
// ones, the site's limits at the nominal one. What is not given is not judged,
// and said so.
func (j Joint) JointFindings(t Tool, s Setting, system unit.System) []Finding {
	var all []Finding
	say := func(severity Severity, code, key, format string, a ...any) {
		all = append(all, Finding{severity, code, key, fmt.Sprintf(format, a...)})
	}
	all = append(all, j.sizeFindings(system)...)
	f := j.Friction
	k := f.EquivalentNutFactor(j.Thread)
	if k < leastNutFactor || k > mostNutFactor {
		say(Warning, "nut-factor", "friction", "a nut factor of %.3g is rare, %v to %v is usual: look at lubricant and figures", k, leastNutFactor, mostNutFactor)
	}
	if f.Least > 0 && f.Most > 0 && (k < f.Least || k > f.Most) {
		say(Warning, "nut-factor-range", "friction.nut_factor", "a nut factor of %.3g lies outside the range of the lubricant, %v to %v: look which is right", k, f.Least, f.Most)
	}
	if f.Scatter > 0 && f.Scatter < leastScatter {
		say(Warning, "scatter-small", "friction.scatter", "a scatter of %s is less than torque is known to have, %s with the friction tried on the joint itself (VDI 2230): look where it comes from",
			f.Scatter.Text(), leastScatter.Text())
	}
	all = append(all, j.gallingFindings()...)
	switch {
	case j.Yield <= 0:
		say(Warning, "no-yield", "bolts", "the yield of the bolts is not known: whether they bear the target is not judged; give bolts.yield")
	case j.GradeYield > 0 && j.Yield > j.GradeYield*1.02:
		say(Warning, "yield-over-grade", "bolts.yield", "bolts.yield is %s and the table has %s for %s: look which is right", j.Yield.Text(system), j.GradeYield.Text(system), j.Grade)
	}
	all = append(all, j.notJudged(system)...)
	scatter := j.Scatter(t, s)
	for _, b := range j.Bounds(t, s) {
		all = append(all, b.Findings(scatter, system)...)
	}
	return all
}

// leastScatter is the least share that VDI 2230 has for torque, the friction
// tried on the joint.
const leastScatter = unit.Share(0.17)

// notJudged says what of gasket and pressures cannot be judged, or cannot be.
func (j Joint) notJudged(system unit.System) []Finding {
	var all []Finding
	say := func(code, key, format string, a ...any) {
		all = append(all, Finding{Warning, code, key, fmt.Sprintf(format, a...)})
	}
	g, p := j.Gasket, j.Pressures
	if g.LeastInService > 0 && p.Design <= 0 {
		say("no-design", "pressure.design", "the gasket's least stress in service is given and no design pressure: whether it stays tight is not judged; give pressure.design")
	}
	pressed := p.Design > 0 || p.Test > 0
	switch asked := g.LeastStress > 0 || g.MostStress > 0 || g.LeastInService > 0; {
	case g.Area() <= 0 && (asked || g.Y > 0 || pressed && g.M > 0):
		say("no-gasket-size", "gasket", "the sealing diameters of the gasket are not known: its limits are not judged; give gasket.inner and gasket.outer")
	case g.Area() > 0 && pressed && g.M <= 0:
		say("no-gasket-factors", "gasket.type", "m and y of the gasket are not known: whether the pressure is held (Wm1, Wm2) is not judged; give gasket.m and gasket.y, or a type of the table")
	}
	if p.Design > 0 && j.Rating > 0 && p.Design > j.Rating*(1+hair) {
		say("flange-rating", "pressure.design", "the design pressure %s is above the flange's PN, %s: look at both", p.Design.Text(system), j.Rating.Text(system))
	}
	if p.Test > 0 && p.Test < p.Design {
		say("test-below-design", "pressure.test", "the test pressure %s is below the design pressure %s: look at both", p.Test.Text(system), p.Design.Text(system))
	}
	if j.Circle > 0 && g.Outer > j.Circle-j.Thread.Diameter {
		say("gasket-outer", "gasket.outer", "the gasket seals up to %s, the bolts stand at %s: is its sealing part meant, and not the whole sheet?", g.Outer.Text(system), j.Circle.Text(system))
	}
	return all
}

// ToolFindings judges a tool with its gauge and air at the setting of the last
// pass. key is the tool's key in the job.
func (j Joint) ToolFindings(t Tool, key string, s Setting, system unit.System) []Finding {
	all := t.ChartFindings(key, system)
	if s.Foot > mostFoot {
		all = append(all, Finding{Warning, "foot-force", key + ".reaction_arm", fmt.Sprintf("the foot pushes with %s, more than most stops bear: have the stop looked at", s.Foot.Text(system))})
	}
	if s.Set > 0 {
		all = append(all, j.gaugeFindings(t, key, s)...)
	}
	return append(all, j.airFindings(t, s, system)...)
}

// ChartFindings are those of the chart itself; key is the tool's in the job.
func (t Tool) ChartFindings(key string, system unit.System) []Finding {
	all := t.chartUnits(key)
	if i, off, found := t.Chart.OddPoint(); found {
		all = append(all, Finding{Warning, "chart-point", fmt.Sprintf("%s.curve.%d", key, i),
			fmt.Sprintf("point %d of the chart lies %s off the straight line of the others: look at the certificate", i+1, off.Text(system))})
	}
	switch {
	case t.Accuracy <= 0:
		all = append(all, Finding{Warning, "no-accuracy", key + ".accuracy", "the accuracy of the tool is not given: its part of the scatter is not counted; read it off the certificate"})
	case t.Accuracy > mostAccuracy:
		all = append(all, Finding{Warning, "accuracy", key + ".accuracy", fmt.Sprintf("an accuracy of %s is poor for a calibrated tool, 3 %% to 5 %% is usual (common practice): look at the certificate", t.Accuracy.Text())})
	}
	if t.Gauge.Class <= 0 {
		all = append(all, Finding{Warning, "no-class", key + ".gauge.class", "the class of the gauge is not given: its part of the scatter is not counted; read it off the dial"})
	}
	return all
}

// mostAccuracy is from where on a tool's accuracy is asked about.
const mostAccuracy = unit.Share(0.1)
