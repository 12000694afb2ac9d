package report

import (
	"slices"
	"strings"

	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// barWidth is how many signs a bar has.
const barWidth = 40

// limits prints where the target and its scatter lie between the limits, each
// told as the load of one bolt, on one scale.
func limits(t table, j job.Job, p sequence.Plan) {
	var bounds []joint.Bound
	for slot, last := range lastSettings(j, p) {
		bounds = j.Joint.Bounds(last.tool, last.setting)
		t.head(tooled(p, "LIMITS", slot), "as the load of one bolt, estimated")
		if len(bounds) == 0 {
			t.row("", "none is known: give grade, gasket, limits")
			return
		}
		bars(t, j.Joint.Scatter(last.tool, last.setting), bounds, p.System)
	}
	if len(bounds) == 0 {
		return
	}
	t.head("LIMITS FROM")
	for _, b := range bounds {
		t.row(b.Name, b.Basis(p.System), b.Source)
	}
}

// bars prints the limits of one tool's setting.
func bars(t table, scatter joint.Scatter, bounds []joint.Bound, s unit.System) {
	top := scatter.HighLoad()
	for _, b := range bounds {
		top = max(top, b.Least, b.Most)
	}
	top *= 1.1
	t.row("", "", "load is", "", "0 "+strings.Repeat(" ", barWidth-7)+top.Text(s))
	for _, b := range bounds {
		t.row(b.Name, atMost(b, s), carried(b, scatter), verdict(b.Findings(scatter, s)), "|"+bar(b, scatter, top)+"|")
	}
	t.row("", "", "", "", "T target  (--) scatter  [ least  ] most  = kept  . beyond")
}

func atMost(b joint.Bound, s unit.System) string {
	if b.Least > 0 {
		return "at least " + b.Least.Text(s)
	}
	return "at most " + b.Most.Text(s)
}

// carried is the load of a bolt as a share of the limit: of every bolt, and of one that
// turns out high where the limit looks at it.
func carried(b joint.Bound, s joint.Scatter) string {
	switch {
	case b.Least > 0:
		return percent(unit.Share(min(s.Nominal, s.Target)/b.Least)) + " each"
	case b.AtHigh == joint.Error:
		return percent(unit.Share(s.HighLoad()/b.Most)) + " high"
	}
	return percent(unit.Share(max(s.Nominal, s.Target)/b.Most)) + " each"
}

// verdict is the severity of what is found, in a word.
func verdict(found []joint.Finding) string {
	if len(found) == 0 {
		return "kept"
	}
	return strings.ToUpper(string(found[0].Severity))
}

// bar draws one limit from 0 to top: what it allows, over it the target with its
// scatter, over all the limit itself.
func bar(b joint.Bound, s joint.Scatter, top unit.Force) string {
	at := func(load unit.Force) int { return max(0, min(barWidth-1, int(float64(load/top)*barWidth))) }
	line := []byte(strings.Repeat("=", barWidth))
	if b.Least > 0 {
		copy(line, strings.Repeat(".", at(b.Least)))
	}
	if b.Most > 0 {
		copy(line[at(b.Most):], strings.Repeat(".", barWidth))
	}
	low, target, high := at(s.LowLoad()), at(s.Target), at(s.HighLoad())
	for i := low; i <= high; i++ {
		line[i] = '-'
	}
	line[low], line[high], line[target] = '(', ')', 'T'
	// A limit in the target's own place stands on the side where it is kept or broken.
	mark := func(limit unit.Force, sign byte) {
		i := at(limit)
		if i == target && limit >= s.Target {
			i++
		} else if i == target {
			i--
		}
		if i >= 0 && i < barWidth {
			line[i] = sign
		}
	}
	if b.Least > 0 {
		mark(b.Least, '[')
	}
	if b.Most > 0 {
		mark(b.Most, ']')
	}
	return string(line)
}

// limitJSON is one limit for other programs; a side that it has not is null.
type limitJSON struct {
	Code    string `json:"code"`
	Name    string `json:"name"`
	Basis   string `json:"basis"`
	Source  string `json:"source"`
	Least   any    `json:"least_kN"`
	Most    any    `json:"most_kN"`
	Verdict string `json:"verdict"` // kept, note, warning, error
}

// limitsJSON are the limits, with several tools each at the tool that keeps it worst.
func limitsJSON(j job.Job, p sequence.Plan) []limitJSON {
	all := []limitJSON{}
	rank := []string{"kept", string(joint.Note), string(joint.Warning), string(joint.Error)}
	for slot, last := range lastSettings(j, p) {
		scatter := j.Joint.Scatter(last.tool, last.setting)
		for i, b := range j.Joint.Bounds(last.tool, last.setting) { // the same ones for every tool
			one := limitJSON{b.Code, b.Name, b.Basis(unit.SI), b.Source, known(float64(b.Least) / 1e3), known(float64(b.Most) / 1e3),
				strings.ToLower(verdict(b.Findings(scatter, unit.SI)))}
			switch {
			case slot == 0:
				all = append(all, one)
			case slices.Index(rank, one.Verdict) > slices.Index(rank, all[i].Verdict):
				all[i] = one
			}
		}
	}
	return all
}
