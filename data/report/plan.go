package report

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"evenload/data/job"
	"evenload/data/reference"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// Plan prints a plan for people.
func Plan(out io.Writer, j job.Job, p sequence.Plan, findings []joint.Finding) error {
	t := newTable(out)
	s := p.System
	t.row(p.About.Tag + "  " + p.About.Where)
	if p.About.ApprovedBy == "" {
		t.row("UNAPPROVED")
	} else {
		t.row("approved by " + p.About.ApprovedBy + " " + p.About.ApprovedOn.String())
	}
	t.row("for the responsible engineer: what this job asks, where it comes from, how it stands to its limits")
	t.head("JOB", filepath.Base(j.Path), "SHA-256 "+j.SHA256[:min(16, len(j.SHA256))])
	for _, sum := range j.Sums()[1:] {
		t.row("", sum)
	}
	for _, v := range [][2]string{{"drawing", p.About.Drawing}, {"procedure", p.About.Procedure}, {"revision", p.About.Revision}, {"service", p.About.Service},
		{"flange", p.About.Flange}, {"gasket", p.About.Gasket}, {"grade", p.About.Grade}, {"lubricant", p.About.Lubricant}} {
		if v[1] != "" {
			t.row(v[0], v[1])
		}
	}
	if j.Joint.Gasket == (joint.Gasket{}) && p.About.Gasket == "" {
		t.row("gasket", "not given: seating, crush and service are not judged")
	}
	t.head("TARGET", "(estimates: torque is not load)")
	t.row("bolts", fmt.Sprintf("%d x %s", p.Bolts, p.Thread), "tensile area "+j.Joint.Thread.TensileArea().Text(s), "root area "+j.Joint.Thread.RootArea().Text(s))
	if width, text := socket(j); width > 0 {
		t.row("socket", text)
	}
	t.row("bolt load", "about "+p.Aim.Load.Text(s))
	t.row("bolt stress", p.Aim.TensileStress.Text(s)+" on the tensile area", p.Aim.RootStress.Text(s)+" on the root area")
	if p.Aim.YieldShare > 0 {
		t.row("share of yield", p.Aim.YieldShare.Text()+" on the tensile area")
	}
	t.row("torque", p.Aim.Torque.Text(s), fmt.Sprintf("nut factor %.3g", p.Aim.NutFactor))
	if stretch, ok := elongation(j, p); ok {
		t.row("elongation", "about "+stretch+" of each stud, between the middles of its nuts, if threaded all along")
	}
	t.row("snug", "by hand, at most "+p.Snug.Torque.Text(s))
	for i, scatter := range scatters(j, p) {
		t.head(tooled(p, "SCATTER", i), "of one bolt's load at the last setting, estimated", "low", "high")
		for _, part := range scatter.Parts {
			t.row("", part.Name, "-"+percent(part.Low), "+"+percent(part.High))
		}
		t.row("", "together (root of squares)", "-"+percent(scatter.Low), "+"+percent(scatter.High))
		t.row("", "bolt load", "about "+scatter.LowLoad().Text(s), "about "+scatter.HighLoad().Text(s))
	}
	limits(t, j, p)
	passTable(t, j, p)
	t.head("ORDER", fmt.Sprintf("%s, bolts numbered %s, seen from the %s", p.Pattern, numbered(p), p.About.ViewedFrom))
	t.row("", order(p.Stations))
	if len(p.Positions) > 0 {
		t.row("positions", positions(p))
	}
	if p.Several() {
		t.row("tools", takes(p))
	}
	t.row("gaps", fmt.Sprintf("beside bolts %s", sequence.BoltList(p.GapPlaces)), fmt.Sprintf("spread at most %s after snug, %s after a pass", p.GapFirst.Text(s), p.GapSpread.Text(s)))
	t.row("check rounds", fmt.Sprintf("at most %d, %s at full torque, until no nut moves%s; rest %s", p.CheckRounds, p.RoundWord(), roundTool(p), SpanText(p.Rest)))
	if a := p.Alignment; a != nil {
		var all []string
		for _, r := range (sequence.Alignment{}).Readings(*a) {
			all = append(all, fmt.Sprintf("%s at most %s", r.Name, r.Limit.Text(s)))
		}
		t.row("alignment", "measured before the gasket goes in: "+strings.Join(all, ", "))
	}
	if st := p.Stretch; st != nil {
		t.row("stretch", "of every stud measured before the last gaps: "+st.BandWords(s),
			st.KnownWords(s))
	}
	if p.LeakTest {
		t.row("leak test", "its result is written down before the card is closed")
	}
	for _, h := range p.Hold {
		t.row("hold point", h.Name, "a witness who never worked the tool releases it")
	}
	formulas(t, j, p)
	t.head("INPUTS", "value", "from")
	for _, in := range j.Inputs {
		t.row(in.Key, in.Value, in.Origin)
	}
	t.head("FINDINGS")
	if len(findings) == 0 {
		t.row("none")
	}
	for _, f := range findings {
		t.wrapped(Located(j, f).String())
	}
	t.head("CAUTIONS")
	for _, c := range []string{sequence.SiteFirst, sequence.OnlyFor, sequence.NotLoadWord,
		"The responsible engineer approves torque, lubricant, order and limits."} {
		t.row(c)
	}
	t.head("ENGINEER'S ANSWER")
	t.row("agreed / to change:", "______________________________")
	t.row("name and date:", "______________________________")
	return t.w.Flush()
}

// SocketFacts say which socket fits the nuts, by the job or by the table; none
// where no table has it.
func SocketFacts(j job.Job) []sequence.Told {
	if width, text := socket(j); width > 0 {
		return []sequence.Told{{Label: "socket", Text: text}}
	}
	return nil
}

// socket is the width of the nuts across flats, 0 where no table has it, with
// what it is for.
func socket(j job.Job) (unit.Length, string) {
	if j.NutWidth > 0 {
		return j.NutWidth, j.NutWidth.Text(j.System) + ", as the job gives it"
	}
	nuts, err := reference.NutsOf(j.Joint.Thread.Size())
	if err != nil {
		return 0, ""
	}
	var all []string
	for _, n := range nuts {
		text := n.Text + " for " + n.Name
		if j.Joint.Thread.Inch {
			text = fmt.Sprintf("%s (%.1f mm) for %s", n.Text, float64(n.Width)/unit.Millimetre, n.Name)
		}
		if n.Mark != "" {
			text += " (" + string(n.Mark) + ")"
		}
		all = append(all, text)
	}
	text := strings.Join(all, ", or ")
	if len(all) > 1 {
		text += ": measure"
	}
	return nuts[0].Width, text
}

// elongation is how much each stud stretches at the target, to two figures;
// false where grip or nut are not known.
func elongation(j job.Job, p sequence.Plan) (string, bool) {
	give, known := j.StudGive()
	if !known || p.Aim.Load <= 0 {
		return "", false
	}
	stretch := float64(p.Aim.Load) * float64(give)
	if p.System == unit.US {
		return fmt.Sprintf("%.2g in", stretch/unit.Inch), true
	}
	return fmt.Sprintf("%.2g mm", stretch/float64(unit.Millimetre)), true
}

// percent prints a share without decimals: no scatter is known better.
func percent(s unit.Share) string { return fmt.Sprintf("%.0f %%", float64(s)*100) }

func order(stations []sequence.Station) string {
	var parts []string
	for _, s := range stations {
		parts = append(parts, strings.ReplaceAll(sequence.BoltList(s), ", ", "+"))
	}
	return strings.Join(parts, " ")
}

// SpanText prints a length of time without the parts that are nothing: "4 h",
// "1 h 30 min".
func SpanText(s sequence.Span) string {
	left := time.Duration(s)
	var parts []string
	for _, u := range []struct {
		one  time.Duration
		name string
	}{{time.Hour, "h"}, {time.Minute, "min"}, {time.Second, "s"}} {
		if n := left / u.one; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, u.name))
			left -= n * u.one
		}
	}
	if len(parts) == 0 {
		return "none"
	}
	return strings.Join(parts, " ")
}
