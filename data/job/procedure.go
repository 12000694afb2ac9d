package job

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"evenload/joint/unit"
	"evenload/sequence"
)

const mostRest = 7 * 24 * time.Hour

// ParseRest reads how long a gasket rests, as the job file has it.
func ParseRest(text string) (time.Duration, error) {
	d, err := parseSpan(text)
	if err == nil && d > mostRest {
		return 0, fmt.Errorf("%q is too long, a rest can be up to %.0f h", clean(text), mostRest.Hours())
	}
	return d, err
}

func (r *reader) procedure(t *table) {
	p := &r.job.Procedure
	bolts := r.job.Joint.Bolts
	p.Pattern = r.pattern(t)
	r.order(t, p, bolts)
	r.passes(t, p)
	p.ToolsAtOnce = t.whole("tools_at_once", 1, 1, 4)
	switch n := len(r.job.Joint.Tools); {
	case p.ToolsAtOnce == 3:
		t.fault(t.at("tools_at_once"), "procedure.tools_at_once is 3, it can be 1, 2 or 4")
	case n > 0 && n < p.ToolsAtOnce:
		t.fault(t.at("tools_at_once"), "procedure.tools_at_once is %d, the job has %d tools", p.ToolsAtOnce, n)
	}
	p.GapPlaces = r.gapPlaces(t)
	p.GapFirst = 0.8 * unit.Millimetre // common practice, as for alignment
	t.note("gap_spread before the first pass", "0.8 mm", "default")
	p.GapSpread = quantity(t, "gap_spread", "0.5 mm", unit.ParseLength)
	p.CheckRounds = t.whole("check_rounds", 4, 1, 20)
	p.Rest = t.span("rest", "4 h")
	p.RestartAfter = t.span("restart_after", "30 min")
	if t.has["restart_after"] != nil && (p.RestartAfter < time.Minute || p.RestartAfter > 12*time.Hour) {
		t.fault(t.at("restart_after"), "procedure.restart_after can be 1 min to 12 h")
	}
	if p.Rest > mostRest {
		t.fault(t.at("rest"), "procedure.rest can be up to %.0f h", mostRest.Hours())
	}
	p.ReadBack = quantity(t, "read_back", "2 %", unit.ParseShare)
	if p.ReadBack > 0.1 {
		t.fault(t.at("read_back"), "procedure.read_back is above 10 %%, 2 %% is usual")
	}
	p.Snug = 0.2 // the most that is usual by hand: common practice
	t.note("snug by hand, at most", "20 %", "default")
	r.hold(t, p)
	r.finish(t, p)
	t.end()
}

func (r *reader) order(t *table, p *sequence.Procedure, bolts int) {
	given := t.list("order", mostEntries)
	switch {
	case p.Pattern == sequence.Given && t.has["order"] == nil:
		t.fault(t.at("pattern"), "procedure.pattern is \"given\", so order = [...] is needed")
		return
	case p.Pattern != sequence.Given && t.has["order"] != nil:
		t.fault(t.at("order"), "procedure.order is given and the pattern is %q, write pattern = \"given\" or take the order out", string(p.Pattern))
		return
	case given == nil:
		return
	}
	whole := true
	for i, v := range given {
		n, ok := v.(int64)
		switch {
		case !ok:
			t.fault(join(t.at("order"), strconv.Itoa(i)), "procedure.order: entry %d is %s, a bolt number is wanted", i+1, typeName(v))
		case n < 1 || bolts > 0 && n > int64(bolts):
			t.fault(join(t.at("order"), strconv.Itoa(i)), "procedure.order: entry %d is bolt %d, the joint has bolts 1 to %d", i+1, n, bolts)
			ok = false
		}
		whole = whole && ok
		p.Given = append(p.Given, sequence.Bolt(n))
	}
	if !whole || bolts == 0 {
		return
	}
	if _, err := sequence.Order(sequence.Given, bolts, p.Given); err != nil {
		t.fault(t.at("order"), "procedure.order: %v", err)
		return
	}
	t.note("order", sequence.BoltList(p.Given), t.origin)
}

func (r *reader) passes(t *table, p *sequence.Procedure) {
	list := t.list("passes", 20)
	if t.has["passes"] == nil {
		p.Passes = []unit.Share{0.3, 0.6, 1}
		t.note("passes", "30 %, 60 %, 100 %", "default")
		return
	}
	var texts []string
	for i, v := range list {
		at := join(t.at("passes"), strconv.Itoa(i))
		text, ok := v.(string)
		if !ok {
			t.fault(at, "procedure.passes: pass %d is %s, a share in quotes is wanted: \"30 %%\"", i+1, typeName(v))
			continue
		}
		share, err := unit.ParseShare(text)
		switch n := len(p.Passes); {
		case err != nil:
			t.fault(at, "procedure.passes: pass %d: %v", i+1, err)
			continue
		case share <= 0 || share > 1:
			t.fault(at, "procedure.passes: pass %d is %s, a pass is above 0 %% and at most 100 %%", i+1, share.Text())
			continue
		case n > 0 && share <= p.Passes[n-1]:
			t.fault(at, "procedure.passes: pass %d is %s after %s, passes rise", i+1, share.Text(), p.Passes[n-1].Text())
		}
		p.Passes = append(p.Passes, share)
		texts = append(texts, text)
	}
	if n := len(p.Passes); len(texts) == len(list) && (n == 0 || p.Passes[n-1] != 1) {
		t.fault(t.at("passes"), "procedure.passes does not end at 100 %%")
	}
	t.note("passes", strings.Join(texts, ", "), t.origin)
}
