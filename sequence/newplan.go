package sequence

import (
	"fmt"

	"evenload/joint"
	"evenload/joint/unit"
)

// NewPlan computes everything of a joint: order, torque and pressure of each
// pass, and what has to be said about it on the day. With an error among the
// findings the plan holds what could be computed, and no passes.
func NewPlan(j joint.Joint, about About, c Conditions, p Procedure, system unit.System, on joint.Date) (Plan, []joint.Finding) {
	plan := Plan{
		Rules: RulesNow,
		About: about, Conditions: c, System: system, Bolts: j.Bolts, Thread: j.Thread.Designation,
		Pattern: p.Pattern, GapFirst: p.GapFirst, GapSpread: p.GapSpread, CheckRounds: p.CheckRounds,
		Rest: Span(p.Rest), RestartAfter: Span(p.RestartAfter), GapPlaces: gapPlaces(j.Bolts, p.GapPlaces), Hold: p.Hold, Batches: p.Batches,
		Alignment: p.Alignment, LeakTest: p.LeakTest,
	}
	var findings []joint.Finding
	fail := func(code, key, format string, a ...any) {
		findings = append(findings, joint.Finding{Severity: joint.Error, Code: code, Key: key, Text: fmt.Sprintf(format, a...)})
	}
	if len(j.Positions) > 0 {
		plan.Positions, plan.GapPlaces = j.Positions, layoutGaps(j.Positions, p.GapPlaces)
		plan.Stations, findings = layoutStations(j.Positions, p)
	} else if stations, err := Stations(p.Pattern, j.Bolts, p.ToolsAtOnce, p.Given); err != nil {
		fail("order", "procedure.order", "%v", err)
	} else {
		plan.Stations = stations
	}
	used := p.ToolsAtOnce
	if len(plan.Stations) > 0 {
		used = len(plan.Stations[0]) // fewer where there are few bolts
	}
	aim, err := j.Aim()
	if err != nil {
		fail("target", "target", "%v", err)
	}
	plan.Aim = aim
	if len(j.Tools) < p.ToolsAtOnce {
		fail("tools", "procedure.tools_at_once", "%d tools at once are wanted, the job has %d", p.ToolsAtOnce, len(j.Tools))
	} else {
		plan.Tools, plan.ReadBack = j.Tools[:used], p.ReadBack
		if spare := j.Tools[used:]; len(spare) > 0 {
			plan.Spare = spare
		}
	}
	for i, t := range plan.Tools {
		findings = append(findings, t.DueFindings(on, fmt.Sprintf("tools.%d", i))...)
	}
	findings = append(findings, orderFindings(p, c, about, on)...)
	findings = append(findings, teamFindings(plan, p.ToolsAtOnce)...)
	if len(plan.Tools) > 0 {
		plan.Questions = questions(about, c, plan.Tools, p.Alignment != nil, system)
	}
	if len(j.Positions) > 0 {
		numberedAsDrawn(plan.Questions, about)
	}
	if p.StudGive > 0 && len(plan.Questions) > 0 {
		plan.askLengths()
	}
	if aim.Torque <= 0 {
		bySeverity(findings)
		return plan, findings
	}
	plan.Snug = Snugging{Share: p.Snug, Torque: aim.Torque * unit.Torque(p.Snug)}
	passes, more := judge(j, aim.Torque, p, plan.Tools, system)
	findings = append(findings, more...)
	bySeverity(findings)
	if n := len(passes); n > 0 && len(passes[n-1].Settings) > 0 {
		strength := j.Strength(plan.Tools[0], passes[n-1].Settings[0])
		plan.Strength = &strength
		if p.StudGive > 0 {
			plan.Stretch = newStretching(j, p, aim.Load, plan.Tools, passes[n-1].Settings)
		}
	}
	if !joint.Failed(findings) {
		plan.Passes = passes
	}
	return plan, findings
}

// gapPlaces spreads the places evenly over the bolts, the first at bolt 1.
func gapPlaces(bolts, places int) []Bolt {
	places = min(places, bolts)
	var at []Bolt
	for i := range places {
		at = append(at, Bolt(1+i*bolts/places))
	}
	return at
}
