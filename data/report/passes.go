package report

import (
	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// passTable prints what each tool is set to in each pass. A plan with errors has
// no passes; what can be computed is shown all the same, as not for work: the
// engineer who is asked needs it.
func passTable(t table, j job.Job, p sequence.Plan) {
	note := ""
	if len(p.Passes) == 0 {
		note = "NOT FOR WORK: the findings come first"
	}
	t.head("PASSES", "tool", "torque", "pressure", "read back", "set to", "gives", "gauge error", "foot force", note)
	line := func(share unit.Share, slot int, set joint.Setting) {
		tool, foot := p.Tools[slot], "-"
		if set.Foot > 0 {
			foot = set.Foot.Text(p.System)
		}
		t.row(share.Text(), toolName(p, slot), set.Torque.Text(p.System), tool.Fine(set.Pressure), tool.Band(set),
			tool.Gauged(set.Set)+" "+string(tool.Reading), set.Delivered.Text(p.System), gaugeError(j, tool, set), foot)
	}
	for _, pass := range p.Passes {
		for i, set := range pass.Settings {
			line(pass.Share, i, set)
		}
	}
	if len(p.Passes) > 0 || p.Aim.Torque <= 0 {
		return
	}
	for _, share := range j.Procedure.Passes {
		for slot, tool := range p.Tools {
			torque := p.Aim.Torque * unit.Torque(share)
			if set, _, err := j.Joint.Setting(tool, torque, j.Procedure.ReadBack); err == nil {
				line(share, slot, set)
			} else {
				t.row(share.Text(), toolName(p, slot), torque.Text(p.System), "cannot be set")
			}
		}
	}
}

// gaugeError is the part of a pass's torque that the gauge may be wrong by.
func gaugeError(j job.Job, t joint.Tool, s joint.Setting) string {
	for _, p := range j.Joint.Scatter(t, s).Parts {
		if p.Name == "gauge" {
			return "±" + percent(p.High)
		}
	}
	return "-"
}
