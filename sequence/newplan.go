package sequence

import (
	"errors"
	"fmt"

	"evenload/joint"
	"evenload/joint/unit"
)

// NewPlan computes everything of a joint: order, torque and pressure of each
// pass, and what has to be said about it on the day. With an error among the
// findings the plan holds what could be computed, and no passes.
func NewPlan(j joint.Joint, about About, c Conditions, p Procedure, system unit.System, on joint.Date) (Plan, []joint.Finding) {
	plan := Plan{
		About: about, Conditions: c, System: system, Bolts: j.Bolts, Thread: j.Thread.Designation,
		Pattern: p.Pattern, GapFirst: p.GapFirst, GapSpread: p.GapSpread, CheckRounds: p.CheckRounds,
		Rest: Span(p.Rest), RestartAfter: Span(p.RestartAfter), GapPlaces: gapPlaces(j.Bolts, p.GapPlaces),
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
	aim, err := j.Aim()
	if err != nil {
		fail("target", "target", "%v", err)
	}
	plan.Aim = aim
	if len(j.Tools) < p.ToolsAtOnce {
		fail("tools", "procedure.tools_at_once", "%d tools at once are wanted, the job has %d", p.ToolsAtOnce, len(j.Tools))
	} else {
		plan.Tools = j.Tools[:p.ToolsAtOnce]
	}
	for i, t := range plan.Tools {
		findings = append(findings, t.DueFindings(on, fmt.Sprintf("tools.%d", i))...)
	}
	if about.ApprovedBy == "" {
		findings = append(findings, joint.Finding{Severity: joint.Warning, Code: "unapproved", Key: "joint.approved_by",
			Text: "nobody has approved this job: every page says UNAPPROVED"})
	}
	if len(p.Hold) > 0 {
		fail("hold", "procedure.hold", "the job has hold points, and this version cannot hold the walk at them: take them out and keep them on the site's own paper")
	}
	if p.ToolsAtOnce > 1 && len(j.Positions) == 0 {
		findings = append(findings, joint.Finding{Severity: joint.Warning, Code: "several-tools", Key: "procedure.tools_at_once",
			Text: fmt.Sprintf("%d tools at once are planned, but this version walks one tool only", p.ToolsAtOnce)})
	}
	if len(plan.Tools) > 0 {
		plan.Questions = questions(about, c, plan.Tools[0].ID, plan.Tools[0].Gauge.ID)
	}
	if len(j.Positions) > 0 {
		numberedAsDrawn(plan.Questions, about)
	}
	if aim.Torque <= 0 {
		return plan, findings
	}
	plan.Snug = Snugging{Share: p.Snug, Torque: aim.Torque * unit.Torque(p.Snug)}
	passes, more := settings(j, aim.Torque, p, plan.Tools, system)
	findings = append(findings, more...)
	if last := passes[len(passes)-1]; len(last.Settings) > 0 {
		findings = append(findings, j.LimitFindings(plan.Tools[0], "tools.0", last.Settings[0], system)...)
	}
	if !joint.Failed(findings) {
		plan.Passes = passes
	}
	return plan, findings
}

// settings finds for each pass what each tool has to be set to.
func settings(j joint.Joint, target unit.Torque, p Procedure, tools []joint.Tool, system unit.System) ([]Pass, []joint.Finding) {
	var passes []Pass
	var findings []joint.Finding
	for _, share := range p.Passes {
		pass := Pass{Share: share}
		torque := target * unit.Torque(share)
		for i, t := range tools {
			s, err := j.Setting(t, torque, p.ReadBack)
			if err != nil {
				findings = append(findings, joint.Finding{Severity: joint.Error, Code: settingCode(err), Key: fmt.Sprintf("tools.%d.curve", i),
					Text: fmt.Sprintf("pass at %s, %s, tool %s: %v%s", share.Text(), torque.Text(system), OrNone(t.ID), err, lowest(err, t, target))})
				continue
			}
			if len(passes) == 0 { // passes rise: said once, of the lowest
				findings = append(findings, t.StallFindings(s, fmt.Sprintf("tools.%d", i), share)...)
			}
			pass.Settings = append(pass.Settings, s)
		}
		passes = append(passes, pass)
	}
	return passes, findings
}

// lowest says which share of the target a tool can begin with.
func lowest(err error, t joint.Tool, target unit.Torque) string {
	if !errors.Is(err, joint.ErrBelowChart) || len(t.Chart) == 0 {
		return ""
	}
	share := float64(t.Chart.First().Torque / target)
	if share > 1 {
		return "; this tool is too large for the target"
	}
	// Rounded up to a whole per cent, so that the share named does work.
	return fmt.Sprintf("; the lowest share this tool can do is %d %%", int(share*100)+1)
}

// settingCodes names the errors of a setting for findings.
var settingCodes = []struct {
	err  error
	code string
}{
	{joint.ErrBelowChart, "below-chart"},
	{joint.ErrAboveChart, "above-chart"},
	{joint.ErrOverRated, "over-rated"},
	{joint.ErrGaugeTooCoarse, "gauge-coarse"},
	{joint.ErrOffDial, "off-dial"},
}

func settingCode(err error) string {
	for _, c := range settingCodes {
		if errors.Is(err, c.err) {
			return c.code
		}
	}
	return "setting"
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
