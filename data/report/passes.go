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
	line := func(share unit.Share, tool joint.Tool, set joint.Setting) {
		foot := "-"
		if set.Foot > 0 {
			foot = set.Foot.Text(p.System)
		}
		t.row(share.Text(), tool.ID, set.Torque.Text(p.System), tool.Fine(set.Pressure), tool.Band(set),
			tool.Gauged(set.Set)+" "+string(tool.Reading), set.Delivered.Text(p.System), gaugeError(j, tool, set), foot)
	}
	for _, pass := range p.Passes {
		for i, set := range pass.Settings {
			line(pass.Share, p.Tools[i], set)
		}
	}
	if len(p.Passes) > 0 || p.Aim.Torque <= 0 {
		return
	}
	for _, share := range j.Procedure.Passes {
		for _, tool := range p.Tools {
			torque := p.Aim.Torque * unit.Torque(share)
			if set, _, err := j.Joint.Setting(tool, torque, j.Procedure.ReadBack); err == nil {
				line(share, tool, set)
			} else {
				t.row(share.Text(), tool.ID, torque.Text(p.System), "cannot be set")
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

// lastSetting is that of the first tool in the last pass. A plan with errors has
// no passes: then it is what the tool would be set to, or the torque alone, so
// that the page can show which limit is broken; false where there is no torque.
func lastSetting(j job.Job, p sequence.Plan) (joint.Tool, joint.Setting, bool) {
	if n := len(p.Passes); n > 0 && len(p.Passes[n-1].Settings) > 0 {
		return p.Tools[0], p.Passes[n-1].Settings[0], true
	}
	if len(p.Tools) == 0 || p.Aim.Torque <= 0 {
		return joint.Tool{}, joint.Setting{}, false
	}
	s, _, err := j.Joint.Setting(p.Tools[0], p.Aim.Torque, j.Procedure.ReadBack)
	if err != nil {
		s = joint.Unset(p.Aim.Torque)
	}
	return p.Tools[0], s, true
}

// scatterOf is the scatter at the setting of the last pass, false where there
// is none.
func scatterOf(j job.Job, p sequence.Plan) (joint.Scatter, bool) {
	t, s, ok := lastSetting(j, p)
	if !ok {
		return joint.Scatter{}, false
	}
	return j.Joint.Scatter(t, s), true
}
