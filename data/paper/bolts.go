package paper

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"evenload/data/report"
	"evenload/joint/unit"
	"evenload/sequence"
)

// mostColumns is how many passes and rounds stand side by side.
const mostColumns = 9

// bolts prints each bolt with the time of each pass and what each check round
// found. Where more passes and rounds were made than a page is wide, the table
// goes on below.
func (r record) bolts() {
	r.room(30) // heading and words with the first rows
	r.section("EACH BOLT")
	r.say("The time at which it was done, with the number under PEOPLE where there are several" + r.toolsWord() + ". x: a problem, see the deviations. n: brought up alone, with new parts.")
	passes, rounds := r.Columns()
	turns := append(passes, rounds...)
	days := r.days(turns)
	if len(days) > 0 {
		r.say("The date stands where the day changes, in the order of the work.")
	}
	for from := 0; from < len(turns); from += mostColumns {
		some := turns[from:min(len(turns), from+mostColumns)]
		cols := []column{{head: "bolt", width: 12}}
		for _, t := range some {
			cols = append(cols, column{head: r.Text(t), width: 18.5})
		}
		cols = append(cols, column{head: "", width: 0})
		var rows [][]string
		for b := 1; b <= r.Plan.Bolts; b++ {
			row := []string{fmt.Sprint(b)}
			for _, t := range some {
				row = append(row, r.cell(sequence.Bolt(b), t, days))
			}
			rows = append(rows, append(row, ""))
		}
		r.table(cols, rows)
	}
	r.otherTools(turns)
}

// otherTools names the tool of each bolt where a tool was changed.
func (r record) otherTools(turns []report.Column) {
	type use struct {
		slot int
		tool string
	}
	used := map[int]string{} // by slot, the tool of the plan
	for slot, t := range r.Plan.Tools {
		used[slot] = t.ID
	}
	var lines []string
	for _, c := range turns {
		var order []use
		bolts := map[use][]sequence.Bolt{}
		for b := sequence.Bolt(1); int(b) <= r.Plan.Bolts; b++ {
			t, ok := r.Last(b, c)
			if !ok || t.At.IsZero() || t.Tool.ID == used[t.Slot] || t.Setting.Set <= 0 { // not set: it never came to the bolt
				continue
			}
			u := use{t.Slot, sequence.OrNone(t.Tool.ID)}
			if bolts[u] == nil {
				order = append(order, u)
			}
			bolts[u] = append(bolts[u], b)
		}
		for _, u := range order {
			lines = append(lines, fmt.Sprintf("%s: bolt %s by %s", r.Text(c), sequence.BoltList(bolts[u]), u.tool))
		}
	}
	if len(lines) == 0 {
		return
	}
	r.say("Tools that came in place of those of the plan; all other bolts by the tool of the plan:")
	for _, line := range lines {
		r.say("- " + line)
	}
}

func (r record) toolsWord() string {
	if !r.Plan.Several() {
		return ""
	}
	return ", and the letter of its tool"
}

// days are the lines of the card with the first bolt done on each day; none where
// all were done on one.
func (r record) days(turns []report.Column) map[int]string {
	var all []report.BoltTurn
	for _, c := range turns {
		for b := sequence.Bolt(1); int(b) <= r.Plan.Bolts; b++ {
			if t, ok := r.Last(b, c); ok && t.Result == report.ResultDone {
				all = append(all, t)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b report.BoltTurn) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Bolt, b.Bolt))
	})
	days := map[int]string{}
	last := ""
	for _, t := range all {
		if day := t.At.Format(time.DateOnly); day != last {
			days[t.Line], last = day, day
		}
	}
	if len(days) < 2 {
		return nil
	}
	return days
}

func (r record) cell(b sequence.Bolt, c report.Column, days map[int]string) string {
	t, ok := r.Last(b, c)
	if !ok {
		return "-"
	}
	by := ""
	if n := r.PersonAt(t.By, t.Line); n > 0 && len(r.People) > 1 {
		by = fmt.Sprintf(" %d", n)
	}
	x := ""
	if r.HadProblem(b, c) {
		x = "x "
	}
	switch t.Result {
	case report.ResultDone:
		if t.Redo > 0 {
			x += "n "
		}
		day := days[t.Line]
		return x + t.Letter + pad(t.Letter) + day + pad(day) + t.At.Format("15:04:05") + by
	case report.ResultStill, report.ResultMoved:
		return x + t.Result + by
	case report.ResultOpen, report.ResultUnknown:
		return x + t.Result
	case report.ResultReleased:
		return "x released" + by
	case report.ResultNewParts:
		return x + "new parts" + by
	}
	return "x" + by
}

func pad(before string) string {
	if before == "" {
		return ""
	}
	return " "
}

// pictures are the joint with what became of each bolt, and the pressures read.
func (r record) pictures() {
	const size, tall = 86.0, 92.0
	r.room(tall + 21)
	r.section("JOINT AND PRESSURES")
	signs := make([]sign, r.Plan.Bolts+1)
	passes, _ := r.Columns()
	last := passes[len(passes)-1]
	legend := []legendEntry{{sign{}, "not done in the last pass"}, {sign{shape: filled}, "done in it"}, {sign{shape: crossed}, "problem or released"}}
	if r.State == report.Damaged {
		legend[0] = legendEntry{sign{shape: unknown}, "not known"}
	}
	renewed := false
	for b := sequence.Bolt(1); int(b) <= r.Plan.Bolts; b++ {
		switch t, ok := r.Last(b, last); {
		case slices.Contains(r.Walk.Out(), b): // whatever was done at it before
			signs[b].shape = crossed
		case !ok || t.Result == report.ResultOpen:
		case t.Result == report.ResultUnknown:
			signs[b].shape = unknown
		case t.Result == report.ResultDone:
			signs[b].shape = filled
		default:
			signs[b].shape = crossed
		}
		signs[b].renewed = r.HasNewParts(b)
		renewed = renewed || signs[b].renewed
	}
	if renewed {
		legend = append(legend, legendEntry{sign{renewed: true}, " ring: new parts"})
	}
	top := r.y
	r.joint(r.Plan, edge, top-1, size, signs)
	r.pressures(edge+size+8, top, r.w-2*edge-size-8, tall-16)
	r.face("", 8)
	r.y = top + tall - 2
	r.put(edge+size+26, r.y, "grey block: band    dot: at start    circle: at end")
	x := edge
	for _, l := range legend {
		if x+4.4+r.width(l.word) > edge+size+22 {
			x, r.y = edge, r.y+5
		}
		if l.sign.renewed {
			x += ring
		}
		r.bolt(x+1.6, r.y-1, 1.5, l.sign)
		r.put(x+4.4, r.y, l.word)
		x += 8 + r.width(l.word)
	}
	r.y += 6
	r.face("", body)
}

// legendEntry is a sign of a legend.
type legendEntry struct {
	sign sign
	word string
}

// pressures plots every reading over its band, as the card has them.
func (r record) pressures(x, y, w, h float64) {
	if len(r.Reads) == 0 {
		r.put(x, y+10, "no pressure was read")
		return
	}
	u := r.Reads[0].Tool.Gauge.Unit
	top := 0.0
	for _, e := range r.Reads {
		top = max(top, e.Counts().In(u), e.Setting.Most.In(u))
	}
	step, end := report.Axis(top, 6)
	x, w, h = x+10, w-10, h-6
	at := func(v unit.Pressure) float64 { return y + h - h*v.In(u)/end }
	r.face("", 7)
	r.pdf.SetLineWidth(0.1)
	for v := 0.0; v <= end*1.0001; v += step {
		level := y + h - h*v/end
		r.pdf.SetDrawColor(200, 200, 200)
		r.pdf.Line(x, level, x+w, level)
		text := fmt.Sprintf("%.4g", v)
		r.pdf.Text(x-1.5-r.width(text), level+1, text)
	}
	r.pdf.SetDrawColor(0, 0, 0)
	r.put(x-8, y-3, string(u)+", by order of reading")
	slot := w / float64(len(r.Reads))
	name := ""
	for i, e := range r.Reads {
		px := x + slot*(float64(i)+0.5)
		wide := min(slot*0.8, 4)
		r.pdf.SetFillColor(215, 215, 215)
		r.pdf.Rect(px-wide/2, at(e.Setting.Most), wide, max(0.4, at(e.Setting.Least)-at(e.Setting.Most)), "F")
		r.pdf.SetFillColor(0, 0, 0)
		style := "F"
		if e.AtEnd {
			r.pdf.SetFillColor(255, 255, 255)
			style = "FD"
		}
		r.pdf.Circle(px, at(e.Counts()), min(1, slot*0.4), style)
		label := e.Share.Text()
		if e.Round > 0 {
			label = "check"
		} else if e.Redo > 0 {
			label = fmt.Sprintf("bolt %d", e.Redo)
		}
		if label != name {
			r.pdf.TransformBegin()
			r.pdf.TransformRotate(90, px, y+h)
			r.pdf.Text(px-9.5, y+h+1, label)
			r.pdf.TransformEnd()
		}
		name = label
	}
	r.pdf.SetLineWidth(0.3)
	r.pdf.Line(x, y+h, x+w, y+h)
	r.pdf.Line(x, y, x, y+h)
}
