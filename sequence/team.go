package sequence

import (
	"fmt"
	"slices"
	"strings"

	"evenload/joint"
	"evenload/joint/unit"
)

// teamFindings judge the tools that work together, and bolts that they cannot
// share evenly.
func teamFindings(p Plan, wanted int) []joint.Finding {
	var all []joint.Finding
	say := func(severity joint.Severity, code, key, format string, a ...any) {
		all = append(all, joint.Finding{Severity: severity, Code: code, Key: key, Text: fmt.Sprintf(format, a...)})
	}
	if wanted > 1 && len(p.Stations) > 0 && len(p.Positions) == 0 {
		switch used, rest := len(p.Stations[0]), remainder(p.Stations); {
		case used < wanted:
			say(joint.Note, "tools-remainder", "procedure.tools_at_once", "%d bolts are too few for %d tools at once: the number used is %d", p.Bolts, wanted, used)
		case rest != "":
			say(joint.Note, "tools-remainder", "procedure.tools_at_once", "%d bolts cannot be shared by %d tools: the last ones, %s, are done with fewer", p.Bolts, wanted, rest)
		}
	}
	for i, t := range p.Tools {
		same := func(other joint.Tool) bool { return t.ID != "" && other.ID == t.ID }
		if j := slices.IndexFunc(p.Tools[:i], same); j >= 0 {
			say(joint.Error, "tools-same", fmt.Sprintf("tools.%d.id", i), "tools %s and %s are both %s: one tool cannot be at two bolts", Letter(j), Letter(i), t.ID)
		}
		sameGauge := func(other joint.Tool) bool { return t.Gauge.ID != "" && other.Gauge.ID == t.Gauge.ID }
		if j := slices.IndexFunc(p.Tools[:i], sameGauge); j >= 0 {
			say(joint.Error, "tools-same", fmt.Sprintf("tools.%d.gauge.id", i), "tools %s and %s have both gauge %s: each tool needs its own", Letter(j), Letter(i), t.Gauge.ID)
		}
	}
	return all
}

// remainder names the stations with fewer bolts than the first, empty for none.
func remainder(stations []Station) string {
	var rest []string
	for _, s := range stations {
		if len(s) < len(stations[0]) {
			rest = append(rest, s.Text())
		}
	}
	return strings.Join(rest, " ")
}

// namedFindings name the tool that they are about, where there are several.
func namedFindings(findings []joint.Finding, tools []joint.Tool, slot int) []joint.Finding {
	if len(tools) == 1 {
		return findings
	}
	named := slices.Clone(findings)
	for i := range named {
		named[i].Text = strings.TrimSpace("tool "+Letter(slot)+" "+tools[slot].ID) + ": " + named[i].Text
	}
	return named
}

// lastFindings judges tools and joint at the last setting of every tool. What is the
// same for all is said once; what is not names the tool.
func lastFindings(j joint.Joint, tools []joint.Tool, lasts []joint.Setting, system unit.System) []joint.Finding {
	byTool := make([][]joint.Finding, len(tools))
	for i, t := range tools {
		byTool[i] = append(j.ToolFindings(t, fmt.Sprintf("tools.%d", i), lasts[i], system), j.JointFindings(t, lasts[i], system)...)
	}
	ofAll := func(f joint.Finding) bool {
		return !slices.ContainsFunc(byTool, func(one []joint.Finding) bool { return !slices.Contains(one, f) })
	}
	var all []joint.Finding
	for i, one := range byTool {
		for _, f := range one {
			switch {
			case !ofAll(f):
				all = append(all, namedFindings([]joint.Finding{f}, tools, i)...)
			case i == 0:
				all = append(all, f)
			}
		}
	}
	return all
}
