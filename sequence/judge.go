package sequence

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"evenload/joint"
	"evenload/joint/unit"
)

// judge finds for each pass what each tool has to be set to, and judges joint
// and tools by it. A tool that cannot be set for the last pass leaves the joint
// to be judged by the torque alone.
func judge(j joint.Joint, target unit.Torque, p Procedure, tools []joint.Tool, system unit.System) ([]Pass, []joint.Finding) {
	passes := make([]Pass, len(p.Passes))
	for n, share := range p.Passes {
		passes[n].Share = share
	}
	var findings []joint.Finding
	lasts := make([]joint.Setting, len(tools))
	for i, t := range tools {
		key := fmt.Sprintf("tools.%d", i)
		last := joint.Unset(target)
		ofTool := func(all ...joint.Finding) { findings = append(findings, namedFindings(all, tools, i)...) }
		var done []joint.Setting
		var shares []unit.Share
		for n, share := range p.Passes {
			torque := target * unit.Torque(share)
			s, lowered, err := j.Setting(t, torque, p.ReadBack)
			if err != nil {
				findings = append(findings, joint.Finding{Severity: joint.Error, Code: settingCode(err), Key: key + ".curve",
					Text: fmt.Sprintf("pass at %s, %s, tool %s: %v%s", share.Text(), torque.Text(system), OrNone(t.ID), err, lowest(err, t, target))})
				continue
			}
			if lowered {
				ofTool(joint.Finding{Severity: joint.Note, Code: "set-lower", Key: key + ".gauge.division",
					Text: fmt.Sprintf("pass at %s is set to %s, the division below the nearest: the nearest passes a limit", share.Text(), t.Gauged(s.Set))})
			}
			passes[n].Settings = append(passes[n].Settings, s)
			done, shares = append(done, s), append(shares, share)
			if n == len(passes)-1 {
				last = s
			}
		}
		ofTool(t.PassFindings(done, shares, key, system)...)
		lasts[i] = last
	}
	return passes, append(findings, lastFindings(j, tools, lasts, system)...)
}

// orderFindings says what the procedure itself asks for that is unusual.
func orderFindings(p Procedure, c Conditions, about About, on joint.Date) []joint.Finding {
	var all []joint.Finding
	say := func(severity joint.Severity, code, key, text string) {
		all = append(all, joint.Finding{Severity: severity, Code: code, Key: key, Text: text})
	}
	if len(p.Passes) == 1 {
		say(joint.Warning, "one-pass", "procedure.passes", "a single pass brings the whole load to one bolt after another: three rising passes are usual (common practice)")
	}
	if about.ApprovedBy == "" {
		say(joint.Warning, "unapproved", "joint.approved_by", "nobody has approved this job: every page says UNAPPROVED")
	} else if on.Before(about.ApprovedOn) {
		say(joint.Warning, "approved-late", "joint.approved_on", fmt.Sprintf("the job is approved on %s, after the day of the work: look at the date", about.ApprovedOn))
	} else if about.ApprovedOn.IsZero() {
		say(joint.Warning, "approval-day", "joint.approved_by", fmt.Sprintf("the job is approved by %s without a day: whether it is this job that was approved cannot be seen; give approved_on", about.ApprovedBy))
	}
	switch gas := strings.ToLower(c.DriveGas); {
	case gas == "" || gas == "air":
	case slices.ContainsFunc(neverGas, func(word string) bool { return strings.Contains(gas, word) }):
		say(joint.Error, "drive-gas", "conditions.drive_gas", fmt.Sprintf("%s must never drive a tool: it burns or makes things burn. Use air", c.DriveGas))
	default:
		say(joint.Warning, "drive-gas", "conditions.drive_gas", fmt.Sprintf("the tool is driven by %s and not by air: the exhaust can take the oxygen away unseen; the responsible engineer has to agree", c.DriveGas))
	}
	return all
}

// neverGas are words of gases that burn or feed a fire (common practice: only
// air or an inert gas drives a tool).
var neverGas = []string{"oxygen", "hydrogen", "acetylene", "methane", "propane", "butane", "natural gas", "fuel", "biogas", "ethylene", "ammonia"}

// bySeverity puts errors first and notes last.
func bySeverity(findings []joint.Finding) {
	rank := map[joint.Severity]int{joint.Error: 0, joint.Warning: 1, joint.Note: 2}
	slices.SortStableFunc(findings, func(a, b joint.Finding) int { return cmp.Compare(rank[a.Severity], rank[b.Severity]) })
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
