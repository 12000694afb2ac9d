package report

import (
	"strings"
	"testing"

	"evenload/sequence"
)

// TestPlanOfFinish: a plan says what is measured, against which limits.
func TestPlanOfFinish(t *testing.T) {
	text := planText(t, changed(t, "[procedure]\n", "[alignment]\nholes = \"2 mm\"\n[procedure]\nelongation = true\nleak_test = true\n"), day)
	for _, want := range []string{"Centre offset at most 0.059 in, Gap difference at most 0.031 in, Hole offset at most 0.079 in\n",
		"0.0068 in expected; in the band from 0.0051 in to 0.0086 in", "lengths read to 0.0004 in, a load known to about 10 %\n", "its result is written down before the card is closed\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("the plan does not say %q:\n%s", want, text)
		}
	}
}

// TestStudsOfCard: the record has the readings that count, the sentences all of them.
func TestStudsOfCard(t *testing.T) {
	o := opened(t)
	o.Plan.Stretch = &sequence.Stretching{Give: 4e-9, Expected: 0.08e-3, Reading: 0.01e-3, Low: 15e3, High: 25e3}
	c := begin(t, o)
	c.until(func(s sequence.Step) bool { _, ok := s.(sequence.Stretch); return ok })
	w := c.s.Walk
	c.do(w.StretchOf(1, 0.08e-3).Of(0.18241, 0.18249), w.StretchOf(2, 0.03e-3), w.StretchOf(3, 0.08e-3), w.StretchOf(4, 0.12e-3), sequence.StudsAgain{}, w.StretchOf(2, 0.07e-3))
	half := recordOf(t, c.s.Path())
	c.do(sequence.Undone{Bolt: 2}, w.StretchOf(2, 0.07e-3), w.StretchOf(4, 0.12e-3), sequence.StudsAgain{Rounds: true, Decided: &engineer})
	rounds := recordOf(t, c.s.Path())
	c.toTheEnd()
	text := recordOf(t, c.close())
	for _, r := range []struct {
		text  string
		wants []string
		table string
	}{
		{half, []string{"studs outside the band are measured again"}, "1                 0.080 mm  20 kN  3.7 kN        in\n2                 0.070 mm  17 kN  3.6 kN        in\n3                 0.080 mm  20 kN  3.7 kN        in\n\n"},
		{rounds, []string{"stretch of bolt 2 taken back", "check rounds again while a stud is high, by Eva, engineer: looked at; then every stud is measured again"}, ""},
		{text, []string{"bolt 1 stretched 0.080 mm (182.490 mm less 182.410 mm), about 20 kN give or take 3.7 kN: in the band", "bolt 4 stretched 0.120 mm, about 30 kN give or take 3.8 kN: OUTSIDE the band"},
			"1                 0.080 mm  20 kN  1.0 kN        in\n"},
	} {
		for _, want := range r.wants {
			if !strings.Contains(r.text, want) {
				t.Errorf("the record does not say %q:\n%s", want, r.text)
			}
		}
		if has := strings.Contains(r.text, "STUDS BY STRETCH"); has != (r.table != "") || !strings.Contains(r.text, r.table) {
			t.Errorf("the table is not\n%s\n%s", r.table, r.text)
		}
	}
}
