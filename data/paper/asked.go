package paper

import (
	"strings"

	"evenload/sequence"
)

// onPaper are words of questions for a sheet, by their ids, where those of the plan
// speak of a screen, a key or a program. Empty: the words of the plan do.
var onPaper = map[string]struct{ text, ifNo string }{
	"18":       {"Is every electronic device that comes along allowed here?", "Take it out, or get the permit."},
	"1":        {"Tag reads? Write its last three characters.", ""},
	"work":     {"", "STOP. Say what the work is: the box STOP tells whom to ask."},
	"3":        {"", stopNow(sequence.UnderPressure)},
	"4":        {"", stopNow(sequence.HotJoint)},
	"approval": {"This sheet is not approved. Has the responsible engineer said to work by it?", "Stop. Have the engineer look at the plan of this job."},
	"12":       {"", "Fetch the right tool, or a sheet made with the chart of this one."},
	"20":       {"", "Tether everything. Close the area below."},
	"h2":       {"Do the marks on the flange match this sheet?", marksNo},
	"marks":    {"Do the last marks on the flange match the last ticks on this sheet?", marksNo},
}

// marksNo is what to do on paper when marks and ticks differ.
const marksNo = "Strike out ticks, the last one first, with initials, until the sheet matches, and go on from there. What lies behind the pass under way: the responsible engineer decides."

// stopNow is what stops the work, with what to do and whom to ask.
func stopNow(what sequence.What) string {
	kind, _ := sequence.StopKindOf(what)
	return "STOP. " + kind.Now + " Ask: " + kind.Ask
}

// written is a question in words of paper.
func written(q sequence.Question) sequence.Question {
	words := onPaper[q.ID]
	if words.text != "" {
		q.Text = words.text
	}
	if words.ifNo != "" {
		q.IfNo = words.ifNo
	}
	return q
}

// teamSet is what to do with the pressures of several tools, on paper.
const teamSet = "Turn all up first, look at A again, then write each reading: shared air sags."

// stopBox says for everything that stops the work what to do now and whom to ask: a
// sheet has no page to turn to.
func (s sheet) stopBox() {
	const in, wide = 2.0, 50.0
	width := s.w - 2*edge - 2*in
	var rows [][2][]string
	tall := lineH + 4.6
	add := func(name, what string) {
		s.face("B", 8)
		names := s.wrap(name, wide-2)
		s.face("", 8)
		whats := s.wrap(what, width-wide)
		rows = append(rows, [2][]string{names, whats})
		tall += cellLine*float64(max(len(names), len(whats))) + 1
	}
	for _, kind := range sequence.StopKinds {
		add(kind.Name, "Now: "+kind.Now+" Ask: "+kind.Ask)
	}
	add("an injury", injury())
	s.room(tall + 6)
	s.y += 3
	top := s.y - 4
	s.face("B", 12)
	s.put(edge+in, s.y+1.2, "STOP")
	s.face("B", body)
	s.put(edge+in+wide, s.y+1.2, "the work stops for everybody; it goes on only with a permit given anew")
	s.y += lineH + 2.6
	for _, r := range rows {
		for side, style := range []string{"B", ""} {
			s.face(style, 8)
			for i, l := range r[side] {
				s.put(edge+in+wide*float64(side), s.y+cellLine*float64(i), l)
			}
		}
		s.y += cellLine*float64(max(len(r[0]), len(r[1]))) + 1
	}
	s.y -= 2
	s.pdf.SetLineWidth(0.6)
	s.pdf.Rect(edge, top, s.w-2*edge, s.y-top, "D")
	s.face("", body)
	s.y += 5
}

// injury is what to do then.
func injury() string {
	var parts []string
	for _, told := range (sequence.Stop{What: sequence.Injury}).Words() {
		if told.Label != "Why" {
			parts = append(parts, told.Label+": "+told.Text)
		}
	}
	return strings.Join(parts, " ")
}
