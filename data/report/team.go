package report

import (
	"fmt"
	"strings"

	"evenload/data/job"
	"evenload/joint"
	"evenload/sequence"
)

// toolName is a tool by its id, with its letter where the job has several.
func toolName(p sequence.Plan, slot int) string {
	if !p.Several() {
		return p.Tools[slot].ID
	}
	return sequence.Letter(slot) + " " + sequence.OrNone(p.Tools[slot].ID)
}

// tooled is a heading with the tool that it is about, where the job has several.
func tooled(p sequence.Plan, head string, slot int) string {
	if !p.Several() {
		return head
	}
	return head + " " + toolName(p, slot)
}

// named is a tool behind what was done with it, where the job has several: the
// one in use then.
func named(w sequence.Walk, slot int) string {
	if _, ok := w.ToolIn(slot); !ok || !w.Plan().Several() {
		return ""
	}
	return " with tool " + w.ToolName(slot)
}

// ofTool is a tool behind what is a part of it, where the job has several.
func ofTool(w sequence.Walk, slot int) string {
	return strings.Replace(named(w, slot), " with ", " of ", 1)
}

// withTools lists bolts, where the job has several tools each with its own.
func withTools(w sequence.Walk, bolts []sequence.Bolt) string {
	if !w.Plan().Several() {
		return sequence.BoltList(bolts)
	}
	var parts []string
	for _, b := range bolts {
		parts = append(parts, fmt.Sprint(b)+named(w, w.Plan().SlotOf(b)))
	}
	return strings.Join(parts, ", bolt ")
}

// takes says which tool takes which bolt of a station.
func takes(p sequence.Plan) string {
	var parts []string
	for slot, nth := range []string{"first", "second", "third", "fourth"}[:len(p.Tools)] {
		parts = append(parts, toolName(p, slot)+" the "+nth)
	}
	return "of each station " + strings.Join(parts, ", ") + "; all on one word"
}

// roundTool says which tool makes the check rounds, where the job has several.
func roundTool(p sequence.Plan) string {
	if !p.Several() {
		return ""
	}
	return ", with tool " + toolName(p, 0) + " alone"
}

// set is a tool with its setting of the last pass.
type set struct {
	tool    joint.Tool
	setting joint.Setting
}

// lastSettings are those of each tool in the last pass. A plan with errors has
// no passes: then they are what the tools would be set to, or the torque alone,
// so that the page can show which limit is broken; none where there is no torque.
func lastSettings(j job.Job, p sequence.Plan) []set {
	var all []set
	for slot, tool := range p.Tools {
		if n := len(p.Passes); n > 0 && slot < len(p.Passes[n-1].Settings) {
			all = append(all, set{tool, p.Passes[n-1].Settings[slot]})
			continue
		}
		if p.Aim.Torque <= 0 {
			return nil
		}
		s, _, err := j.Joint.Setting(tool, p.Aim.Torque, j.Procedure.ReadBack)
		if err != nil {
			s = joint.Unset(p.Aim.Torque)
		}
		all = append(all, set{tool, s})
	}
	return all
}

// scatters are those of each tool at its last setting.
func scatters(j job.Job, p sequence.Plan) []joint.Scatter {
	var all []joint.Scatter
	for _, last := range lastSettings(j, p) {
		all = append(all, j.Joint.Scatter(last.tool, last.setting))
	}
	return all
}

// outermost are the scatters with the lowest and with the highest load.
func outermost(all []joint.Scatter) (low, high joint.Scatter) {
	for i, s := range all {
		if i == 0 || s.LowLoad() < low.LowLoad() {
			low = s
		}
		if i == 0 || s.HighLoad() > high.HighLoad() {
			high = s
		}
	}
	return low, high
}
