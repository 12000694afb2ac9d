package joint

import (
	"fmt"

	"evenload/joint/unit"
)

// Limits are what the site sets for the bolt stress on the root area (ASME
// PCC-1 Appendix O, from memory); 0 is not set.
type Limits struct {
	BoltLeast, BoltMost unit.Share  // of yield
	FlangeMost          unit.Stress // in the bolts, before the flange suffers
}

// Combined is tension and the torsion of tightening together, on the tensile
// stress area: (F/As) sqrt(1 + 3 [1.5 (d2/d0)(p/(pi d2) + 1.155 mu)]²), the term
// of VDI 2230, with the friction mu in the thread.
func Combined(t Thread, load unit.Force, mu float64) unit.Stress {
	return unit.Stress(float64(load) / float64(t.TensileArea()) * twisted(t, mu))
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

// LimitFindings judges a joint at the setting of its last pass: the bolt at
// its high load, the gasket at its low and high ones, the site's limits at the
// nominal one. What is not given is not judged, and said so for yield.
// key is the tool's key in the job.
func (j Joint) LimitFindings(t Tool, key string, s Setting, system unit.System) []Finding {
	var all []Finding
	say := func(severity Severity, code, key, format string, a ...any) {
		all = append(all, Finding{severity, code, key, fmt.Sprintf(format, a...)})
	}
	f := j.Friction
	k := f.EquivalentNutFactor(j.Thread)
	if k < leastNutFactor || k > mostNutFactor {
		say(Warning, "nut-factor", "friction", "a nut factor of %.3g is rare, %v to %v is usual: look at lubricant and figures", k, leastNutFactor, mostNutFactor)
	}
	if f.Least > 0 && f.Most > 0 && (k < f.Least || k > f.Most) {
		say(Warning, "nut-factor-range", "friction.nut_factor", "a nut factor of %.3g lies outside the range of the lubricant, %v to %v: look which is right", k, f.Least, f.Most)
	}
	if s.Foot > mostFoot {
		say(Warning, "foot-force", key+".reaction_arm", "the foot pushes with %s, more than most stops bear: have the stop looked at", s.Foot.Text(system))
	}
	if i, off, found := t.Chart.oddPoint(); found {
		say(Warning, "chart-point", fmt.Sprintf("%s.curve.%d", key, i), "point %d of the chart lies %s off the straight line of the others: look at the certificate", i+1, off.Text(system))
	}
	all = append(all, t.chartUnits(key)...)
	all = append(all, j.gaugeFindings(t, key, s)...)
	all = append(all, j.airFindings(t, s, system)...)
	all = append(all, j.sizeFindings(system)...)
	all = append(all, j.gallingFindings()...)
	if j.Yield <= 0 {
		say(Warning, "no-yield", "bolts", "the yield of the bolts is not known: whether they bear the target is not judged; give bolts.yield")
	}
	if j.Gasket.LeastInService > 0 && j.Pressures.Design <= 0 {
		say(Warning, "no-design", "pressure.design", "the gasket's least stress in service is given and no design pressure: whether it stays tight is not judged; give pressure.design")
	}
	scatter := j.Scatter(t, s)
	for _, b := range j.Bounds(t, s) {
		all = append(all, b.Findings(scatter, system)...)
	}
	return all
}
