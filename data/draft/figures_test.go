package draft

import (
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenload/data/job"
	"evenload/joint"
)

// TestPointed: what a number may be is what the cells of spreadsheets of several
// countries hold (common practice).
func TestPointed(t *testing.T) {
	for text, want := range map[string]string{
		"345,5 MPa": "345.5 MPa", "0,135": "0.135", "own paste 0,14": "own paste 0.14", "0.145": "0.145", "1,2345": "1.2345",
		"440,5 to 470,25 mm": "440.5 to 470.25 mm", "440,5x470,5 mm": "440.5x470.5 mm", "spiral wound, stainless": "spiral wound, stainless",
		"1000,500 N": "1000.500 N", "8,625 to 10.750 in": "8.625 to 10.750 in", "M27x1,5": "M27x1.5", "1.7225": "1.7225",
	} {
		if got, err := pointed(text); err != nil || got != want {
			t.Errorf("%q became %q, want %q: %v", text, got, want, err)
		}
	}
	for text, want := range map[string]string{
		"1,000 in·lbf": "may be 1000 or 1:", "27,000 lbf": "may be 27000 or 27:", "27.500 lbf": "may be 27500 or 27.5:", "440,125 mm": "may be 440125 or 440.1250:",
		"1.000,5 kN": "write 1000.5", "1,000.5 kN": "write 1000.5", "12.000.000 N": "write 12000000", "120'000 N": "write 120000", "1’000,25": "write 1000.25",
		"0.1.4": "is no number", "8,8,640 MPa": "is no number",
	} {
		if got, err := pointed(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q became %q: %v, want %q", text, got, err, want)
		}
	}
}

func TestUnspaced(t *testing.T) {
	for text, want := range map[string]string{
		"1 000 N·m": "write 1000,", "120\u202f000 N": "write 120000,", "1\u00a0000,5 kN": "write 1000.5,", "own steel, 1 050 MPa": "write 1050,", "own ring, 440 to 1 470 mm": "write 1470,",
		"B7 720 MPa": "", "8.8 640 MPa": "", "class 10, 900 MPa": "", "own ring 2024 115 to 158 mm": "", "1 0000": "",
	} {
		if err := unspaced(text); (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

// TestOneFaultIsToldOnce: a cell that is wrong brings up no fault of another one,
// neither in a new job nor in one like a template.
func TestOneFaultIsToldOnce(t *testing.T) {
	into := works(t)
	templates := []*Template{nil}
	files, _ := filepath.Glob(shipped + "*.toml")
	for _, name := range files {
		one, err := OpenTemplate(name)
		if err != nil {
			t.Fatal(err)
		}
		templates = append(templates, one)
	}
	if len(templates) < 5 {
		t.Fatalf("%d templates", len(templates))
	}
	for _, template := range templates {
		for _, c := range []struct {
			name Name
			text string
		}{
			{Flange, ""}, {Grade, ""}, {Lubricant, ""}, {Target, ""}, {Flange, "DN 410 PN 16"}, {Flange, "9 in 300#"}, {Flange, "12 x Q20"}, {Flange, "12 x M27x1,9"}, {Grade, "8.9"}, {Grade, "own steel, 1.000,5 MPa"}, {Grade, "own steel 1 050 MPa"},
			{Lubricant, "own paste"}, {Lubricant, "own paste 1,4"}, {Lubricant, "grease"}, {Gasket, "spiral"}, {Gasket, "own ring, 440,125 to 470,5 mm"}, {Gasket, "own ring, 115 mm to 7 in"},
			{Gasket, "own ring, 470 to 440 mm"}, {Target, "45"}, {Target, "1.000 N·m"}, {Target, "145 %"}, {Target, "345 MPa root area of it"}, {Passes, "30 60"}, {Passes, "50,75 100"},
			{Passes, "30,6,100"}, {Rest, "four"}, {Rest, "1,5"}, {ApprovedBy, "Eva Lind, 2.11.2026"},
		} {
			d, a := New(into), full()
			if template != nil {
				var err error
				if d, err = template.New(into); err != nil {
					t.Fatal(err)
				}
				a = maps.Clone(d.Was)
				a[Tag] = "X-1"
			}
			a[c.name] = c.text
			l := d.Look(a, day)
			var said []string
			for _, r := range l.Remarks() {
				if r.Severity == joint.Error || r.Severity == "" {
					said = append(said, r.Text)
				}
			}
			if l.Ready() || len(said) != 1 {
				t.Errorf("%s %q, like %+v: %d faults, ready %v: %s", c.name, c.text, d.Like, len(said), l.Ready(), strings.Join(said, "\n\t"))
			}
		}
	}
}

// TestTemplateOfAnotherFlange gives a flange that is only spelled otherwise all it
// has, and another one no diameters of the gasket: they would be judged as its own.
func TestTemplateOfAnotherFlange(t *testing.T) {
	into := works(t)
	text := New(into).Look(full(), day).Text
	path := filepath.Join(t.TempDir(), "template.toml")
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
	template, err := OpenTemplate(path)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := ReadRegister(strings.NewReader("tag;flange;gasket\nF-1;dn 400 pn16;\nF-2;DN 450 PN 16;\nF-3;DN 450 PN 16;spiral wound, stainless, 490 to 530 mm\nF-4;DN 450 PN 16\n"))
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]string{}
	Many(rows, template, into, false, day, func(o Outcome) {
		if o.Err != nil {
			t.Fatal(o.Err)
		}
		said[o.Tag] = o.Summary
		for _, u := range o.Under {
			said[o.Tag] += "; " + u.Text
		}
	})
	for tag, want := range map[string]struct{ outer, said string }{"F-1": {"470 mm", ""}, "F-2": {"", "gasket.outer 470 mm of the template is gone, the flange is another: nothing has its place"}, "F-3": {"530 mm", ""}, "F-4": {"", "after 2 of 3 cells"}} {
		j, err := job.Load(filepath.Join(into, tag+".toml"))
		if err != nil {
			t.Fatal(err)
		}
		outer := ""
		if j.Joint.Gasket.Outer > 0 {
			outer = j.Joint.Gasket.Outer.Text("si")
		}
		if outer != want.outer || want.said != "" && !strings.Contains(said[tag], want.said) || want.said == "" && strings.Contains(said[tag], ";") {
			t.Errorf("%s: outside %q, want %q; said %q", tag, outer, want.outer, said[tag])
		}
	}
}
