package paper

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"evenload/data/job"
	"evenload/data/report"
	"evenload/joint"
	"evenload/sequence"
)

// Sheet prints the step sheet of a plan, to work by and to tick where the
// screen may not go. on is the day for which findings are said. A plan without
// passes has none: mend its errors first.
func Sheet(out io.Writer, j job.Job, plan sequence.Plan, findings []joint.Finding, on joint.Date, size Size) error {
	if len(plan.Passes) == 0 || joint.Failed(findings) {
		return fmt.Errorf("%s: no step sheet: mend the errors that check lists", j.Path)
	}
	revision := "revision " + orDash(plan.About.Revision) + "   procedure " + orDash(plan.About.Procedure) + "   " + strings.Join(j.Sums(), "   ")
	h := heading{left: "STEP SHEET  " + plan.About.Tag, lines: []string{plan.About.Where, revision}}
	if plan.About.ApprovedBy == "" {
		h.alarm = "UNAPPROVED: not for work before the responsible engineer has approved it"
	} else {
		h.lines = append(h.lines, "approved by "+plan.About.ApprovedBy+" "+plan.About.ApprovedOn.String())
	}
	at := time.Date(on.Year, time.Month(on.Month), on.Day, 0, 0, 0, 0, time.UTC)
	return document{size, at, "Step sheet " + plan.About.Tag, h, func(p *page) {
		s := sheet{p, &plan}
		s.before(j, findings, on)
		s.gate()
		s.snug()
		for i := range plan.Passes {
			s.together(func() { s.pass(i) })
		}
		s.together(func() { s.rounds("CHECK ROUNDS") })
		if plan.Rest > 0 {
			s.rest()
		}
		s.after()
	}}.write(out)
}

func orDash(text string) string {
	if text == "" {
		return "-"
	}
	return text
}

// sheet is the document in the making.
type sheet struct {
	*page
	plan *sequence.Plan
}

func (s sheet) before(j job.Job, findings []joint.Finding, on joint.Date) {
	s.face("B", body)
	for _, c := range []string{sequence.SiteFirst, sequence.OnlyFor, sequence.NotLoadWord} {
		s.say(c)
	}
	s.say("Pressure, heat, a leak, an injury: STOP. " + sequence.StopHint)
	s.face("", body)
	s.section("JOINT AND TOOLS")
	s.facts(slices.Concat(report.JointFacts(s.plan), report.PartFacts(s.plan, j.Inputs), report.SocketFacts(j), report.ToolFacts(s.plan)))
	s.section("FINDINGS on " + on.String())
	if len(findings) == 0 {
		s.say("none")
	}
	for _, f := range findings {
		s.say("- " + report.Located(j, f).String())
	}
	s.section("PEOPLE")
	for _, w := range []string{"operator", "second person", "permit seen, number"} {
		s.room(8)
		s.y += 4
		s.blank(edge, s.y, 110, w)
		s.blank(edge+114, s.y, s.w-2*edge-114, "date, time")
		s.y += 3
	}
}

func (s sheet) gate() {
	s.stopBox()
	s.together(func() {
		s.room(45) // where they are more than a page: the heading with the first of them
		s.section("PRE-START QUESTIONS: no nut is touched before all are answered")
		s.asked(sequence.AtGate)
		s.hold(sequence.HoldAfterGate, 0)
	})
	s.together(func() {
		s.section("PEOPLE TAKE OVER, OR THE WORK WAS LEFT")
		s.asked(sequence.AtHandover)
		s.asked(sequence.AtResume)
		s.asked(sequence.AtParts)
	})
}

// asked prints the questions of a stage with boxes.
func (s sheet) asked(when string) {
	head := ""
	for _, q := range s.plan.Questions {
		if q.When != when {
			continue
		}
		q = written(q)
		width := s.w - 2*edge - 62
		s.face("B", body) // as it is printed
		lines := s.wrap(q.Text, width)
		s.face("", 8)
		no := s.wrap("if no: "+q.IfNo, width)
		s.room(lineH*float64(len(lines)+len(no)+len(q.Asks)) + 7)
		if q.Heading != head && when != sequence.AtEnd { // there the section says it
			head = q.Heading
			s.face("B", 8)
			s.put(edge, s.y, head)
			s.face("", body)
			s.y += lineH
		}
		x, top := s.w-edge-60, s.y
		for _, asked := range q.Asks {
			no = append(no, asked.Label+" ____________________")
		}
		if q.Measured {
			no = append(no, s.limits()...)
			s.room(lineH * float64(len(no)))
		}
		for _, word := range []string{"yes", "no", "does not apply"} {
			if word == "does not apply" && !q.MayNot {
				continue
			}
			s.box(x, top)
			s.face("", 7)
			s.put(x+4.2, top, word)
			x += 7 + s.width(word)
		}
		s.blank(s.w-edge-18, top, 18, "by")
		if q.Typed != "" {
			s.blank(edge+width-26, top, 24, "read:")
		}
		s.face("B", body)
		for _, l := range lines {
			s.put(edge, s.y, l)
			s.y += lineH
		}
		s.face("", 8)
		for _, l := range no {
			s.put(edge, s.y, l)
			s.y += lineH
		}
		s.face("", body)
		s.y += 1.6
	}
}

// limits are places for the readings of the alignment.
func (s sheet) limits() []string {
	var all []string
	for _, r := range (sequence.Alignment{}).Readings(*s.plan.Alignment) {
		all = append(all, fmt.Sprintf("%s ________ at most %s", r.Name, r.Limit.Text(s.plan.System)))
	}
	return all
}

// studs is a table for the stretch of every stud, where the job asks for it.
func (s sheet) studs() {
	if s.plan.Stretch == nil {
		return
	}
	s.room(26)
	s.section("STRETCH OF STUDS: " + s.plan.Stretch.BandWords(s.plan.System))
	s.say(sequence.StretchWord + " " + sequence.StretchHint)
	s.y += 3.5
	x := edge
	for b := range s.plan.Bolts {
		if x+36 > s.w-edge {
			x = edge
			s.y += 8
			s.room(6)
		}
		s.blank(x, s.y, 33, fmt.Sprintf("bolt %d", b+1))
		x += 36
	}
	s.y += 6
}

// leakTest has boxes for its result, where the job asks for it.
func (s sheet) leakTest() {
	if !s.plan.LeakTest {
		return
	}
	s.room(26)
	s.section("LEAK TEST")
	s.say(sequence.LeakHint + " " + sequence.LeakWord)
	s.y += 2
	x := edge
	for _, word := range []sequence.LeakResult{sequence.Tight, sequence.Leaked, sequence.Untested} {
		s.box(x, s.y)
		s.put(x+4.2, s.y, string(word))
		x += 10 + s.width(string(word))
	}
	s.blank(x, s.y, 50, "beside bolts")
	s.blank(x+54, s.y, s.w-edge-x-54, "test sheet, by")
	s.y += 5
}

// hold is a hold point of the job, at a place where it has one.
func (s sheet) hold(at sequence.HoldAt, pass int) {
	for _, h := range s.plan.Hold {
		if h.At != at || h.Pass != pass {
			continue
		}
		s.room(14)
		s.y += 5
		s.face("B", body)
		s.put(edge, s.y, "HOLD POINT "+h.Name+": a witness who never worked the tool releases it")
		s.face("", body)
		s.y += 7
		s.blank(edge, s.y, 92, "name, role")
		s.blank(edge+96, s.y, 52, "signature")
		s.blank(edge+151, s.y, s.w-2*edge-151, "time")
		s.y += 5
	}
}

func (s sheet) snug() {
	s.together(func() {
		s.section("JOINT, seen from the " + s.plan.About.ViewedFrom)
		s.joint(s.plan, (s.w-104)/2, s.y-2, 104, nil)
		s.y += 108
	})
	s.together(func() {
		s.section("SNUG BY HAND, at most " + s.plan.Snug.Torque.Text(s.plan.System))
		s.say(sequence.SnugHint + " " + sequence.SnugWatch)
		s.y += 2
		s.grid(singly(s.plan.SnugOrder()), "in this order, from left to right, by hand: tick, then initials")
		s.gaps("snug", s.plan.GapFirst.Text(s.plan.System), s.plan.GapPlaces)
	})
}

// gaps is a table to write readings into; without places the widest and the
// narrowest are asked for.
func (s sheet) gaps(after, limit string, places []sequence.Bolt) {
	if len(s.plan.GapPlaces) == 0 {
		return
	}
	type blank struct {
		label string
		wide  float64
	}
	var rows [][]blank
	left := 0.0
	cell := func(label string, w float64) {
		if len(rows) == 0 || w > left {
			rows, left = append(rows, nil), s.w-2*edge
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], blank{label, w})
		left -= w
	}
	for _, b := range places {
		cell(fmt.Sprintf("beside %d", b), 36)
	}
	if len(places) == 0 {
		cell("widest, beside bolt", 62)
		cell("narrowest, beside bolt", 62)
	}
	cell("spread", 32)
	cell("by", 24)
	s.room(lineH + s.tall(sequence.GapHint) + 8*float64(len(rows))) // readings stay with their heading
	s.y += 2
	s.face("B", body)
	s.put(edge, s.y, "GAPS after "+after+": spread at most "+limit)
	s.face("", body)
	s.y += lineH
	s.say(sequence.GapHint)
	s.y -= 4.5
	for _, row := range rows {
		s.y += 8
		x := edge
		for _, c := range row {
			s.blank(x, s.y, c.wide-3, c.label)
			x += c.wide
		}
	}
	s.y += 6
}

func (s sheet) rest() {
	s.together(func() {
		s.hold(sequence.HoldBeforeRest, 0)
		s.section("REST " + report.SpanText(s.plan.Rest))
		s.say(sequence.RestHint)
		s.y += 4
		s.blank(edge, s.y, 70, "from")
		s.blank(edge+75, s.y, 70, "to")
		s.y += 5
	})
	s.together(func() { s.rounds("CHECK ROUNDS AFTER THE REST") })
}

func (s sheet) after() {
	s.studs()
	s.gaps("the check rounds", s.plan.GapSpread.Text(s.plan.System), s.plan.GapPlaces)
	s.together(func() {
		s.section("BEFORE CLOSING")
		s.asked(sequence.AtEnd)
		s.hold(sequence.HoldBeforeClose, 0)
	})
	s.leakTest()
	s.together(func() { // signatures alone on a page say nothing
		s.section("PROBLEMS, RELEASES AND NOTES (bolt, pass, what, who decided, time)")
		for range 6 {
			s.y += 4
			s.pdf.SetLineWidth(0.2)
			s.pdf.Line(edge, s.y, s.w-edge, s.y)
			s.y += 4
		}
		s.section("SIGNATURES")
		s.say(strings.TrimSpace(sequence.CloseHint))
		s.signs([]string{"operator", "second person", "witness", "responsible engineer"})
	})
}
