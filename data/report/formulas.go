package report

import (
	"slices"

	"evenload/data/job"
	"evenload/joint"
	"evenload/sequence"
)

// formulas says which formulas and conventions a plan goes by.
func formulas(t table, j job.Job, p sequence.Plan) {
	t.head("HOW IT IS COMPUTED")
	if j.Joint.Thread.Inch {
		t.told("areas", "tensile (pi/4)(D - 0.9743/n)² (ASME B1.1), root (pi/4)(D - 1.299038/n)² (ASME PCC-1 Table H-1)")
	} else {
		t.told("areas", "tensile (pi/4)(d - 0.938194 p)² (ISO 898-1), root (pi/4)(d - 1.299038 p)² (ASME PCC-1 Table H-1)")
	}
	switch target := j.Joint.Target; {
	case target.Kind == joint.ByBoltStress && target.Area == joint.Root:
		t.told("target", "load = stress x root area")
	case target.Kind == joint.ByBoltStress:
		t.told("target", "load = stress x tensile area")
	case target.Kind == joint.ByYieldShare:
		t.told("target", "load = share x yield x tensile area")
	case target.Kind == joint.ByTorque:
		t.told("target", "the torque is given, load = torque/(K d)")
	}
	f := j.Joint.Friction
	if f.NutFactor > 0 {
		t.told("torque", "T = K d F, the short form: nut factor, nominal diameter, load")
	} else {
		t.told("torque", "T = F (0.15915 p + 0.57735 d2 mu_thread + 0.5 De mu_nut), the long form (ASME PCC-1 App. J, VDI 2230, ISO 16047)")
	}
	t.told("pressure", "straight line between the chart's points, nothing beyond its ends; the nearest division inside the band, the one below where the higher passes a limit")
	t.told("read back", "the larger of read_back and 0.1 bar (1.45 psi) about the exact pressure, inside chart and rating")
	if f.Scatter > 0 {
		t.told("scatter", "friction: the share of the load that the job gives, both sides; silent 30 % (VDI 2230: 26 % to 43 % for power drivers)")
	} else {
		t.told("scatter", "friction: from the lubricant's range, low 1 - K/Kmost, high K/Kleast - 1")
	}
	t.told("", "with tool, gauge (class of span and half a division, EN 837-1) and setting as the root of the sum of squares, each side apart")
	if j.Joint.Yield > 0 {
		t.told("yield", "sqrt(tension² + 3 torsion²) on the tensile area at the high load: F/As sqrt(1 + 3 [1.5 (d2/d0)(p/(pi d2) + 1.155 mu)]²), d0 = (d2 + d3)/2, torsion fully plastic (VDI 2230); mu as torque and high load imply, the same in the thread and under the nut, De the mean of hole and flats, or 1.3 d")
	}
	for _, line := range ofBounds(j, p) {
		t.told(line[0], line[1])
	}
	if _, ok := elongation(j, p); ok {
		t.told("elongation", "F L/(E As), L the grip and one nut height, E 205 GPa, austenitic 195 GPa (common practice)")
	}
	if slices.ContainsFunc(p.Tools, func(t joint.Tool) bool { return t.ReactionArm > 0 }) {
		t.told("foot force", "torque / reaction arm, at right angles to it")
	}
}

// ofBounds are the formulas of the limits that the plan has.
func ofBounds(j job.Job, p sequence.Plan) [][2]string {
	has := map[string]bool{}
	for _, last := range lastSettings(j, p) {
		for _, b := range j.Joint.Bounds(last.tool, last.setting) {
			has[b.Code] = true
		}
	}
	var all [][2]string
	add := func(there bool, word, text string) {
		if there {
			all = append(all, [2]string{word, text})
		}
	}
	add(has["bolt-most"] || has["bolt-least"] || has["flange-most"], "site, flange", "the limit as a stress on the root area, at the nominal load (ASME PCC-1 Appendix O, from memory)")
	add(has["gasket-seating"], "seating", "stress x gasket area / n, at the nominal load; the mean of n bolts scatters by (1 + 3/sqrt n)/4 of the friction part (EN 1591-1, from memory)")
	add(has["gasket-service"], "in service", "(stress x gasket area + (pi/4) P Gid²) / (share of load left x n), Gid the inner diameter (ASME PCC-1 Appendix O, from memory)")
	add(has["gasket-crush"], "crush", "stress x gasket area / n, at the nominal load, the high bolt as a warning")
	add(has["wm2"] || has["wm1-design"] || has["wm1-test"], "Wm1, Wm2", "b0 = N/2, b = b0 up to 6 mm, else 2.52 sqrt(b0) mm; G the mean diameter, else the outer less 2 b; Wm1 = (pi/4) G² P + 2 b pi G m P, Wm2 = pi b G y, by n bolts (ASME VIII-1 Appendix 2)")
	return all
}
