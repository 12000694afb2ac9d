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
	t.row("", "", "", "0 "+strings.Repeat(" ", barWidth-1)+top.Text(p.System))
	for _, b := range bounds {
		t.row(b.Name, atMost(b, p.System), verdict(b.Findings(scatter, p.System)), "|"+bar(b, scatter, top)+"|")
	}
	t.row("", "", "", "T target   (--) its scatter   [ least   ] most   = kept   . beyond")
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

// verdict is the severity of what is found, in a word.
func verdict(found []joint.Finding) string {
	if len(found) == 0 {
		return "kept"
	}
	return strings.ToUpper(string(found[0].Severity))
}

// bar draws one limit from 0 to top: what it allows, and over it the target
// with its scatter.
func bar(b joint.Bound, s joint.Scatter, top unit.Force) string {
	at := func(load unit.Force) int { return max(0, min(barWidth-1, int(float64(load/top)*barWidth))) }
	line := []byte(strings.Repeat("=", barWidth))
	if b.Least > 0 {
		copy(line, strings.Repeat(".", at(b.Least)))
		line[at(b.Least)] = '['
	}
	if b.Most > 0 {
		copy(line[at(b.Most):], strings.Repeat(".", barWidth))
		line[at(b.Most)] = ']'
	}
	low, target, high := at(s.LowLoad()), at(s.Nominal), at(s.HighLoad())
	for i := low; i <= high; i++ {
		if line[i] != '[' && line[i] != ']' { // the limit stays to be seen
			line[i] = '-'
		}
	}
	line[low], line[high], line[target] = '(', ')', 'T'
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
