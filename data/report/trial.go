package report

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"evenload/data/job"
	"evenload/data/visible"
	"evenload/joint"
	"evenload/sequence"
)

// Trial prints what readings on the site's own bolts say of their friction, and
// a [friction] block for a job where they say enough.
func Trial(out io.Writer, tr job.Trial) error {
	t := newTable(out)
	t.row("TRIAL", filepath.Base(tr.Path), "SHA-256 "+tr.SHA256[:min(16, len(tr.SHA256))])
	for _, in := range tr.Inputs {
		t.row(in.Key, in.Value, in.Origin)
	}
	if err := t.w.Flush(); err != nil {
		return err
	}
	t = newTable(out)
	trialReadings(t, tr)
	if err := t.w.Flush(); err != nil {
		return err
	}
	t = newTable(out)
	trialSpread(t, tr)
	trialRules(t, tr)
	t.head("WARNINGS")
	warnings := trialWarnings(tr)
	if len(warnings) == 0 {
		t.row("none")
	}
	for _, w := range warnings {
		t.wrapped(w)
	}
	if err := t.w.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(out)
	fmt.Fprintln(out, "FOR A JOB  copy these lines in place of its [friction]")
	fmt.Fprintln(out)
	if _, err := io.WriteString(out, frictionBlock(tr)); err != nil {
		return err
	}
	t = newTable(out)
	t.head("CAUTIONS")
	for _, c := range []string{sequence.NotLoadWord,
		"The site's procedure and the responsible engineer decide which nut factor is used.",
		"These readings hold for these bolts, nuts and washers with this lubricant only: another batch, surface or lubricant needs a trial of its own.",
		sequence.SiteFirst} {
		t.wrapped(c)
	}
	return t.w.Flush()
}

func trialReadings(t table, tr job.Trial) {
	t.head("READING", "torque", "measured", "bolt load", "nut factor T/(d F)")
	for i, r := range tr.Readings {
		mark := ""
		if tr.Result.IsOutlier(i) {
			mark = "OUTLIER"
		}
		t.row(fmt.Sprint(i+1), r.TypedTorque, r.Typed, "about "+r.Load.Text(tr.System), factor(tr.Result.NutFactors[i]), mark)
	}
}

// factor prints a nut factor as a job has it.
func factor(k float64) string { return fmt.Sprintf("%.3f", k) }

func trialSpread(t table, tr job.Trial) {
	all, without := tr.Result.All, tr.Result.Without
	row := func(name string, text func(joint.Spread) string, how string) {
		if len(tr.Result.Outliers) > 0 {
			t.row(name, text(all), text(without), how)
			return
		}
		t.row(name, text(all), how)
	}
	if len(tr.Result.Outliers) > 0 {
		t.head("SPREAD of the nut factor", fmt.Sprintf("all %d readings", all.Readings), "without "+outliers(tr.Result))
	} else {
		t.head("SPREAD of the nut factor", fmt.Sprintf("all %d readings", all.Readings))
	}
	row("mean", func(s joint.Spread) string { return factor(s.Mean) }, "")
	row("standard deviation", func(s joint.Spread) string { return fmt.Sprintf("%.4f (%.1f %%)", s.Deviation, 100*s.Deviation/s.Mean) }, "by n - 1")
	row("mean of all such bolts", func(s joint.Spread) string { return factor(s.MeanLow) + " to " + factor(s.MeanHigh) }, "95 % confidence (Student)")
	row("least and most reading", func(s joint.Spread) string { return factor(s.Least) + " to " + factor(s.Most) }, "min, max")
	row("covers 95 % of such bolts", func(s joint.Spread) string { return factor(max(0, s.Low)) + " to " + factor(s.High) }, "95 % confidence")
	row("  that is the mean", func(s joint.Spread) string { return fmt.Sprintf("± %.2f deviations", s.Factor) }, "tolerance factor k")
	row("bolt load at one torque", scatterText, "from the range that covers")
	row("scatter for a job", shareText, "the larger side")
}

func scatterText(s joint.Spread) string {
	low, high, ok := s.LoadScatter()
	if !ok {
		return "not known"
	}
	return fmt.Sprintf("-%.0f %% to +%.0f %%", float64(low)*100, float64(high)*100)
}

func shareText(s joint.Spread) string {
	share, ok := s.Scatter()
	if !ok {
		return "none"
	}
	return share.Text()
}

// outliers lists them: "reading 5", "readings 5, 2".
func outliers(r joint.Trial) string {
	var all []string
	for _, o := range r.Outliers {
		all = append(all, fmt.Sprint(o.Reading+1))
	}
	if len(all) == 1 {
		return "reading " + all[0]
	}
	return "readings " + strings.Join(all, ", ")
}

// trialRules says by which rules the spread was found.
func trialRules(t table, tr job.Trial) {
	t.head("HOW IT IS COMPUTED")
	t.told("nut factor", "K = T/(d F), d the nominal diameter "+tr.Thread.Diameter.Text(tr.System))
	for _, r := range tr.Readings {
		if r.Stretch {
			t.told("bolt load", "F = stretch E As/L of a stud threaded all along, below yield; L the grip and one nut height, As the tensile area "+tr.Thread.TensileArea().Text(tr.System))
			break
		}
	}
	t.told("covers", "mean ± k s, k = z sqrt((n - 1)(1 + 1/n)/chi²) (Howe 1969, NIST/SEMATECH e-Handbook 7.2.6.3, from memory), if K follows a normal distribution")
	t.told("bolt load", "at one torque it goes with 1/K: low 1 - K/Kmost, high K/Kleast - 1, with the ends of the range that covers, or a reading beyond it; errors of the trial's own torque and load are in it")
	t.told("outliers", "Grubbs' test, both sides, at 5 %, again without the one found (NIST/SEMATECH e-Handbook 1.3.5.17.1, from memory)")
	switch {
	case tr.Result.All.Readings < joint.GrubbsReadings:
		t.told("", fmt.Sprintf("not tested: with fewer than %d readings the test names sound ones too", joint.GrubbsReadings))
	case len(tr.Result.Outliers) == 0:
		t.told("", "none found")
	}
	for _, o := range tr.Result.Outliers {
		t.told("", fmt.Sprintf("reading %d lies %.2f deviations from the mean, at most %.2f is expected", o.Reading+1, o.G, o.Critical))
	}
}

func trialWarnings(tr job.Trial) []string {
	all := tr.Result.Warnings()
	if over := tr.OverYield(); len(over) > 0 {
		all = append(all, fmt.Sprintf("bolt load above yield, %s on the tensile area, in readings %s: these bolts are spent, and a stretch is no load there", tr.Yield.Text(tr.System), strings.Trim(fmt.Sprint(over), "[]")))
	}
	if over := tr.OverTensile(); len(over) > 0 {
		all = append(all, fmt.Sprintf("bolt load above the least tensile strength of the grade, %s on the tensile area, in readings %s: look at the unit of the load, the thread and the grade before you use anything of this", tr.Tensile.Text(tr.System), strings.Trim(fmt.Sprint(over), "[]")))
	}
	return all
}

// frictionBlock is the [friction] of a job as a trial has it, with comments on
// where it comes from, and its warnings. All readings count, outliers too. Where the trial gives
// no scatter the block is a comment that says so: a nut factor alone would take
// the usual scatter, which the trial does not bear out.
func frictionBlock(tr job.Trial) string {
	s := tr.Result.All
	var b strings.Builder
	comment := func(text string) {
		for _, line := range lines(strings.TrimSpace(text), pageWidth-2) {
			fmt.Fprintln(&b, "# "+line)
		}
	}
	share, ok := s.Scatter()
	if !ok || s.NutFactor() <= 0 || s.NutFactor() > 1 {
		comment("no [friction] from this trial: its readings do not say how far bolt loads scatter")
		return b.String()
	}
	fmt.Fprintln(&b, "[friction]")
	comment(fmt.Sprintf("from a trial of %d bolts %s, %s, SHA-256 %s %s", s.Readings, tr.Thread.Designation, filepath.Base(tr.Path), tr.SHA256[:min(16, len(tr.SHA256))], tr.MadeOn))
	comment(fmt.Sprintf("mean of K = T/(d F), which lies with 95 %% confidence from %s to %s; readings %s to %s", factor(s.MeanLow), factor(s.MeanHigh), factor(s.Least), factor(s.Most)))
	comment(fmt.Sprintf("scatter of the bolt load: the larger side of %s, from K ± %.2f deviations (95 %% of such bolts, 95 %% confidence)", scatterText(s), s.Factor))
	if len(tr.Result.Outliers) > 0 {
		comment(fmt.Sprintf("counted all the same: %s, apart from the others (Grubbs, 5 %%); without, K is %s and the scatter %s", outliers(tr.Result), factor(tr.Result.Without.Mean), shareText(tr.Result.Without)))
	}
	for _, w := range trialWarnings(tr) {
		comment("warning: " + w)
	}
	comment("for these bolts, nuts and washers with this lubricant only; the responsible engineer decides")
	fmt.Fprintln(&b, "lubricant  = "+quoted(tr.Lubricant))
	fmt.Fprintln(&b, "nut_factor = "+factor(s.NutFactor()))
	fmt.Fprintf(&b, "scatter    = %q\n", share.Text())
	return b.String()
}

// quoted is a text as TOML has it on one line.
func quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(visible.Text(s)) + `"`
}
