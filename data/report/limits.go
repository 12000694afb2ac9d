package report

import (
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
	tool, last, ok := lastSetting(j, p)
	if !ok {
		return
	}
	scatter := j.Joint.Scatter(tool, last)
	bounds := j.Joint.Bounds(tool, last)
	t.head("LIMITS", "as the load of one bolt, estimated")
	if len(bounds) == 0 {
		t.row("", "none is known: give grade, gasket, limits")
		return
	}
	top := scatter.HighLoad()
	for _, b := range bounds {
		top = max(top, b.Least, b.Most)
	}
	top *= 1.1
	t.row("", "", "load is", "", "0 "+strings.Repeat(" ", barWidth-7)+top.Text(p.System))
	for _, b := range bounds {
		t.row(b.Name, atMost(b, p.System), carried(b, scatter), verdict(b.Findings(scatter, p.System)), "|"+bar(b, scatter, top)+"|")
	}
	t.row("", "", "", "", "T target  (--) scatter  [ least  ] most  = kept  . beyond")
	t.head("LIMITS FROM")
	for _, b := range bounds {
		t.row(b.Name, b.Basis(p.System), b.Source)
	}
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

func limitsJSON(j job.Job, p sequence.Plan) []limitJSON {
	all := []limitJSON{}
	tool, last, ok := lastSetting(j, p)
	if !ok {
		return all
	}
	scatter := j.Joint.Scatter(tool, last)
	for _, b := range j.Joint.Bounds(tool, last) {
		all = append(all, limitJSON{b.Code, b.Name, b.Basis(unit.SI), b.Source, known(float64(b.Least) / 1e3), known(float64(b.Most) / 1e3),
			strings.ToLower(verdict(b.Findings(scatter, unit.SI)))})
	}
	return all
}
