package draft

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"evenload/data/job"
)

// tried is a job whose works tried its own bolts: values of its own beside every name.
func tried(t *testing.T, changes ...job.Change) []byte {
	t.Helper()
	text, err := os.ReadFile(shipped + "strainer-8in-300.toml")
	if err != nil {
		t.Fatal(err)
	}
	own := []job.Change{{Key: "bolts.count", Value: 12}, {Key: "bolts.yield", Value: "700 MPa"}, {Key: "bolts.tensile", Value: "850 MPa"},
		{Key: "friction.nut_factor", Value: 0.12}, {Key: "gasket.inner", Value: "230 mm"}, {Key: "gasket.outer", Value: "260 mm"}}
	if text, err = job.Edit(text, append(own, changes...)...); err != nil {
		t.Fatal(err)
	}
	return text
}

// TestSameAnswerChangesNothing: an answer that says what the file says, in any
// spelling, leaves every byte and the approval; another one names each value of the
// file that it takes out or puts in doubt.
func TestSameAnswerChangesNothing(t *testing.T) {
	ownNames := []job.Change{{Key: "friction.lubricant", Value: "own paste"}, {Key: "bolts.grade", Value: "own steel"}, {Key: "gasket.type", Value: "own ring"}}
	frictions := []job.Change{{Key: "friction.nut_factor"}, {Key: "friction.lubricant", Value: "zinc-flake coating"}, {Key: "friction.thread", Value: 0.11}, {Key: "friction.bearing", Value: 0.12}}
	const scatter, approval = "Lubricant was changed; look whether these still hold: friction.scatter 25 %", "is taken out"
	for _, c := range []struct {
		file   []job.Change
		answer Answers
		lines  string   // that are changed, empty for none
		said   []string // parts of all that is said, in order
	}{
		{nil, Answers{Lubricant: "nickel anti-seize"}, "", []string{"friction.nut_factor 0.12 of the file stays"}},
		{nil, Answers{Lubricant: "Nickel-based anti-seize paste"}, "", []string{"friction.nut_factor 0.12 of the file stays"}},
		{nil, Answers{Lubricant: "nickel antiseize, 0,12"}, "", nil},
		{nil, Answers{Lubricant: "nickel antiseize 0.15"}, "nut_factor = 0.15", []string{scatter, approval}},
		{nil, Answers{Lubricant: "MoS2 paste"}, `lubricant = "MoS2 paste or grease"`, []string{"friction.nut_factor 0.12 of the file is gone: the table's 0.13 is used", scatter, approval}},
		{nil, Answers{Lubricant: "own paste 0.14"}, "nut_factor = 0.14", []string{scatter, approval}},
		{ownNames, Answers{Lubricant: "Own  paste"}, "", []string{"friction.nut_factor 0.12 of the file stays"}},
		{frictions, Answers{Lubricant: "zinc-flake coating"}, "", nil},
		{frictions, Answers{Lubricant: "MoS2 paste"}, "lubricant = ", []string{scatter + ", friction.thread 0.11, friction.bearing 0.12", approval}},

		{nil, Answers{Target: "345 MPa"}, "", []string{"target.area root of the file stays"}},
		{nil, Answers{Target: "345,0MPa"}, "", []string{"target.area root of the file stays"}},
		{nil, Answers{Target: "345 MPa tensile"}, `area        = "tensile"`, []string{approval}},
		{nil, Answers{Target: "300 MPa"}, `bolt_stress = "300 MPa"`, []string{approval, "target.area root of the file stays"}},
		{nil, Answers{Target: "300 N·m"}, `torque = "300 N·m"`, []string{"target.area root of the file is gone: it goes with a stress only", approval}},

		{nil, Answers{Grade: "B7"}, "", []string{"bolts.yield 700 MPa of the file stays"}},
		{nil, Answers{Grade: "ASTM A193 grade B7"}, "", []string{"bolts.yield 700 MPa of the file stays"}},
		{nil, Answers{Grade: "B16"}, `grade  = "A193 B16"`, []string{"bolts.yield 700 MPa of the file is gone: the table's 725 MPa is used", "Grade was changed; look whether these still hold: bolts.tensile 850 MPa", approval}},
		{ownNames, Answers{Grade: "own steel"}, "", []string{"bolts.yield 700 MPa of the file stays"}},

		{nil, Answers{Gasket: "spiral wound, stainless / nickel alloy"}, "", []string{"gasket.inner 230 mm and gasket.outer 260 mm of the file stay,"}},
		{nil, Answers{Gasket: "spiral wound stainless 230 to 260 mm"}, "", nil},
		{nil, Answers{Gasket: "spiral wound, stainless, 230 to 262 mm"}, `outer        = "262 mm"`, []string{"Gasket was changed", approval}},
		{ownNames, Answers{Gasket: "own ring"}, "", []string{"gasket.inner 230 mm and gasket.outer 260 mm of the file stay,"}},
		{nil, Answers{Gasket: "solid flat metal, soft aluminium"}, `type         = "solid flat metal`, []string{"gasket.inner 230 mm of the file is gone: nothing has its place", "gasket.outer 260 mm of the file is gone: nothing has its place",
			"look whether these still hold: gasket.least_stress 69 MPa, gasket.most_stress 210 MPa", approval}},
		{nil, Answers{Gasket: ""}, "", []string{"gasket.inner 230 mm of the file is gone", "gasket.outer 260 mm of the file is gone", "Gasket was changed", approval}},
		{nil, Answers{Flange: "6 in 300#", Gasket: "spiral wound, stainless"}, `flange = "ASME B16.5 NPS 6 class 300"`, []string{"bolts.count 12 of the file is gone: the table's 12 is used", "bolts.grip 92 mm",
			"gasket.inner 230 mm of the file is gone, the flange is another: the table's 182.6 mm is used", "gasket.outer 260 mm of the file is gone, the flange is another", approval}},

		{nil, Answers{Flange: "8 in 300#"}, "", nil},
		{[]job.Change{{Key: "bolts.flange", Value: `8" 300 LB`}}, Answers{Flange: "NPS 8 class 300"}, "", nil},
	} {
		before := tried(t, c.file...)
		d, err := onto("x.toml", before, shipped)
		if err != nil {
			t.Fatal(err)
		}
		a := maps.Clone(d.Was)
		maps.Copy(a, c.answer)
		l := d.Look(a, day)
		var said []string
		at := 0
		for _, s := range l.Asides {
			said = append(said, s.Text)
			if at < len(c.said) && strings.Contains(s.Text, c.said[at]) {
				at++
			}
		}
		if len(l.Wrong) > 0 || at < len(c.said) || len(c.said) == 0 && len(said) > 0 {
			t.Errorf("%v: %v, said\n\t%s", c.answer, l.Wrong, strings.Join(said, "\n\t"))
		}
		changes := slices.ContainsFunc(c.said, func(s string) bool { return s == approval })
		if same := string(l.Text) == string(before); same == changes || len(l.Changed) == 0 == changes || !strings.Contains(string(l.Text), "\n"+c.lines) {
			t.Errorf("%v: the same is %v, changed is %v\n%s", c.answer, same, l.Changed, l.Text)
		}
	}
}

// TestRowLikeItsTemplate: the row of a register that repeats its template keeps what
// that has of its own, and under another row stands what is gone.
func TestRowLikeItsTemplate(t *testing.T) {
	into := t.TempDir()
	path := filepath.Join(t.TempDir(), "template.toml")
	if err := os.WriteFile(path, tried(t), 0o644); err != nil {
		t.Fatal(err)
	}
	template, err := OpenTemplate(path)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := ReadRegister(strings.NewReader("tag;flange;grade;lubricant;gasket;target\n" +
		"S-1;8 in 300#;B7;nickel anti-seize;spiral wound, stainless;345 MPa\nS-2;;;;;\nO-1;;;MoS2 paste;;\nO-2;6 in 300#;;;spiral wound, stainless;\n"))
	if err != nil {
		t.Fatal(err)
	}
	under := map[string]string{}
	Many(rows, template, into, false, day, func(o Outcome) {
		if o.Err != nil {
			t.Fatal(o.Err)
		}
		under[o.Tag] = fmt.Sprint(o.Under)
	})
	for tag, want := range map[string]string{"S-1": "friction.nut_factor 0.12 of the template stays", "S-2": "[]", "O-1": "friction.nut_factor 0.12 of the template is gone: the table's 0.13 is used", "O-2": "gasket.outer 260 mm of the template is gone, the flange is another"} {
		if !strings.Contains(under[tag], want) {
			t.Errorf("%s: %q is not said in %s", tag, want, under[tag])
		}
	}
	one, err := os.ReadFile(filepath.Join(into, "S-1.toml"))
	two, err2 := os.ReadFile(filepath.Join(into, "S-2.toml"))
	if err != nil || err2 != nil || strings.Replace(string(one), "S-1", "S-2", 1) != string(two) {
		t.Errorf("%v %v\n%s", err, err2, one)
	}
}
