package draft

import (
	"fmt"
	"strings"

	"evenload/joint"
)

// Line is a line about what becomes of the answers; Severity is empty where it
// is nothing to look at.
type Line struct {
	Severity joint.Severity
	Text     string
}

// Results are what is computed of the answers so far, in short lines.
func (l Look) Results() []string {
	aim := l.Plan.Aim
	if !(aim.Torque > 0) {
		return []string{"torque and pressures come with flange, lubricant and target"}
	}
	s := l.Job.System
	line := fmt.Sprintf("torque %s, bolt load about %s (an estimate)", aim.Torque.Text(s), aim.Load.Text(s))
	if aim.YieldShare > 0 {
		line += fmt.Sprintf(", %.0f %% of yield", float64(aim.YieldShare)*100)
	}
	all := []string{fmt.Sprintf("%d x %s, nut factor %.3g", l.Job.Joint.Bolts, l.Job.Joint.Thread.Designation, aim.NutFactor), line}
	for slot, t := range l.Plan.Tools {
		if len(l.Plan.Passes) == 0 {
			break
		}
		var parts []string
		for _, p := range l.Plan.Passes {
			parts = append(parts, t.Gauged(p.Settings[slot].Set)+" at "+p.Share.Text())
		}
		all = append(all, fmt.Sprintf("set %s to %s", t.ID, strings.Join(parts, ", ")))
	}
	switch {
	case l.NoTool:
		all = append(all, "no pressures: no tool yet")
	case len(l.Plan.Passes) == 0:
		all = append(all, "no pressures: what is below comes first")
	}
	return all
}

// Remarks are what is wrong or to be looked at, the worst first.
func (l Look) Remarks() []Line {
	var all []Line
	for _, w := range l.Wrong {
		all = append(all, Line{joint.Error, w.Question.Label + ": " + w.Why})
	}
	for _, f := range l.Faults {
		all = append(all, Line{joint.Error, f})
	}
	all = append(all, l.errors()...)
	for _, a := range l.Asides {
		all = append(all, Line{a.Severity, a.Text})
	}
	for _, f := range l.Findings {
		if f.Severity != joint.Error {
			all = append(all, found(f))
		}
	}
	if len(l.Missing) > 0 {
		var labels []string
		for _, q := range l.Missing {
			labels = append(labels, strings.ToLower(q.Label))
		}
		all = append(all, Line{"", "still needed: " + strings.Join(labels, ", ")})
	}
	return all
}

// errors are the findings that are errors.
func (l Look) errors() []Line {
	var all []Line
	for _, f := range l.Findings {
		if f.Severity == joint.Error {
			all = append(all, found(f))
		}
	}
	return all
}

func found(f joint.Finding) Line { return Line{f.Severity, fmt.Sprintf("%s (%s)", f.Text, f.Code)} }

// Summary says in a few words how a job that is to be written stands.
func (l Look) Summary() string {
	count := map[joint.Severity]int{}
	for _, f := range l.Findings {
		count[f.Severity]++
	}
	var parts []string
	for _, s := range []joint.Severity{joint.Error, joint.Warning, joint.Note} {
		switch n := count[s]; {
		case n == 1:
			parts = append(parts, "1 "+string(s))
		case n > 1:
			parts = append(parts, fmt.Sprintf("%d %ss", n, s))
		}
	}
	if l.NoTool {
		parts = append(parts, "no tool yet")
	}
	if len(parts) == 0 {
		return "nothing found"
	}
	return strings.Join(parts, ", ")
}
