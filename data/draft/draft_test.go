package draft

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenload/data/job"
	"evenload/data/report"
	"evenload/joint"
)

const shipped = "../../testdata/jobs/"

var day = mustDay("2026-11-25")

func mustDay(text string) joint.Date {
	d, err := joint.ParseDate(text)
	if err != nil {
		panic(err)
	}
	return d
}

// works is a folder with a tool file, as a foreman has it.
func works(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	text, err := os.ReadFile(shipped + "tools/w-11.toml")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(dir, "tools"), 0o755); err != nil {
		t.Fatal(err)
	}
	// A gauge fine enough that check has nothing to say of it.
	text = []byte(strings.Replace(string(text), "class    = 1.0", "class    = 0.25", 1))
	if err := os.WriteFile(filepath.Join(dir, "tools", "w-11.toml"), text, 0o644); err != nil {
		t.Fatal(err)
	}
	return dir
}

// full are answers for a flange of a standard.
func full() Answers {
	return Answers{Tag: "DH-400-F1", Where: "Pump house 3, header", Flange: "DN400 PN16", Grade: "8.8", Lubricant: "MoS2 paste",
		Gasket: "spiral wound, stainless, 440 to 470 mm", Target: "45 % of yield", Tool: "W-11", Revision: "1", ApprovedBy: "Responsible engineer, DH works, 2026-11-02"}
}

// TestDraftPassesCheck: the file that twelve answers make has no finding, lies
// there as a whole, and is readable by all.
func TestDraftPassesCheck(t *testing.T) {
	for name, change := range map[string]Answers{
		"metric": {},
		"inch":   {Flange: "16 in 300#", Grade: "B7", Gasket: "spiral wound, stainless", Lubricant: "nickel anti-seize", Target: "180 MPa root"},
		"load":   {Target: "150 kN"},
		"torque": {Target: "500 N·m", Passes: "40 70 100", Rest: "2 h"},
	} {
		dir := works(t)
		d := New(dir)
		a := full()
		maps.Copy(a, change)
		l := d.Look(a, day)
		if !l.Ready() || l.NoTool || len(l.Plan.Passes) != 3 {
			t.Fatalf("%s: %+v", name, l.Remarks())
		}
		path := d.File(a)
		if err := d.Save(path, l.Text, false); err != nil {
			t.Fatal(err)
		}
		found, err := report.Check(path, day)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range found {
			if f.Code != "gauge-over-tool" { // that is about the gauge of the tool
				t.Errorf("%s: %s", name, f)
			}
		}
		if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o644 {
			t.Errorf("%v %v", info.Mode(), err)
		}
		if left, _ := filepath.Glob(filepath.Join(dir, ".evenload*")); len(left) > 0 {
			t.Errorf("left behind: %v", left)
		}
	}
}

// TestDefaultsAreThose: what the comments call a default is what a silent key
// has. With the # taken away the file is the same job.
func TestDefaultsAreThose(t *testing.T) {
	d := New(works(t))
	l := d.Look(full(), day)
	live := regexp.MustCompile(`(?m)^# (.*?) +# default$`).ReplaceAllString(string(l.Text), "$1")
	if live == string(l.Text) || strings.Count(live, "\n# ") > 40 {
		t.Fatal("no default was found")
	}
	j, err := job.Parse("job.toml", []byte(live), d.dir)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := fmt.Sprint(j.Joint, j.Procedure, j.Conditions, j.About), fmt.Sprint(l.Job.Joint, l.Job.Procedure, l.Job.Conditions, l.Job.About); got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	for _, in := range j.Inputs {
		if in.Origin == "default" && !strings.Contains(in.Key, " ") && !strings.HasPrefix(in.Key, "tools.") {
			t.Errorf("%s is a default and stands nowhere", in.Key)
		}
	}
}

// TestAnswers has for each answer the lines that it makes.
func TestAnswers(t *testing.T) {
	for _, c := range []struct {
		name Name
		text string
		want string // lines of the file, or a part of the error
	}{
		{Flange, "8 in 300#", `flange = "ASME B16.5 NPS 8 class 300"`},
		{Flange, "dn 200 pn16", `flange = "EN 1092-1 DN 200 PN 16"`},
		{Flange, "12 x M20", "count  = 12\nthread = \"M20\""},
		{Flange, "12 bolts 7/8-9 UNC", "thread = \"7/8-9 UNC\""},
		{Flange, "9 in 300#", `near it are "ASME B16.5 NPS 8 class 300"`},
		{Flange, "12 x Q20", "Q20"},
		{Flange, "DN 999 PN 16", `of PN 16 it has DN 15 to 600, the nearest is "EN 1092-1 DN 600 PN 16"`},
		{Flange, "pn16 dn410", `the nearest is "EN 1092-1 DN 400 PN 16"`},
		{Flange, "DN 200 PN 300", `of DN 200 it has PN 10 to 40, the nearest is "EN 1092-1 DN 200 PN 40"`},
		{Flange, "DN 999 PN 300", "near it are"},
		{Grade, "a193b7", `grade  = "A193 B7"`},
		{Grade, "own steel, 640 MPa", "grade  = \"own steel\"\nyield  = \"640 MPa\""},
		{Grade, "A193 B77", `near it are "A193 B7"`},
		{Lubricant, "nickel antiseize", `lubricant = "nickel-based anti-seize paste"`},
		{Lubricant, "own paste, 0.14", "lubricant  = \"own paste\"\nnut_factor = 0.14"},
		{Lubricant, "nickel anti-seize 0.16", "lubricant  = \"nickel-based anti-seize paste\"\nnut_factor = 0.16"},
		{Lubricant, "zinc-flake coating", "no usual one"},
		{Lubricant, "grease", "may be many things"},
		{Gasket, "spiral wound, stainless", `type = "spiral wound, stainless / nickel alloy"`},
		{Gasket, "own ring, 115 to 158 mm", "type  = \"own ring\"\ninner = \"115 mm\"\nouter = \"158 mm\""},
		{Gasket, "own ring, 8.625 to 10.750 in", "inner = \"8.625 in\"\nouter = \"10.750 in\""},
		{Gasket, "own ring, 440 mm to 18 in", "two units"},
		{Gasket, "spiral", "write more of it"},
		{Target, "345 MPa", `bolt_stress = "345 MPa"`},
		{Target, "345 MPa root", "bolt_stress = \"345 MPa\"\narea        = \"root\""},
		{Target, "50 ksi on the tensile area", `area        = "tensile"`},
		{Target, "50 %", `yield_share = "50 %"`},
		{Target, "50% yield", `yield_share = "50%"`},
		{Target, "120 kN", `bolt_load = "120 kN"`},
		{Target, "300 Nm", `torque = "300 Nm"`},
		{Target, "300", "is no target"},
		{Target, "300,5 N·m", `torque = "300.5 N·m"`},
		{Target, "1.000 N·m", "may be 1000 or 1"},
		{Target, "300 N·m root", "an area goes with a stress"},
		{Tool, "w-11", `file = "tools/w-11.toml"`},
		{Tool, "tools/w-11.toml", `file = "tools/w-11.toml"`},
		{Tool, "W-99", "is no tool of a file beside or below the job: W-11"},
		{Tool, "../w.toml", "a tool file lies beside or below the job"},
		{Passes, "40;70;100", `passes = ["40 %", "70 %", "100 %"]`},
		{Passes, "33,3 66,7 100", `passes = ["33.3 %", "66.7 %", "100 %"]`},
		{Passes, "30,60,100", `passes = ["30 %", "60 %", "100 %"]`},
		{Passes, "50,75 100", "may be 50 %, 75 %, 100 % or 50.75 %, 100 %"},
		{Passes, "30,6,100", "rise to 100 %"},
		{Passes, "40 % 70 %", "the last pass is 100 %"},
		{Passes, "70, 40, 100", "rise to 100 %"},
		{Rest, "2 h", `rest = "2 h"`},
		{Rest, "0,5 h", `rest = "0.5 h"`},
		{Rest, "0", `rest = "0 h"`},
		{Rest, "0 min", `rest = "0 min"`},
		{Rest, "1.5 h", `rest = "1.5 h"`},
		{Rest, "1,000 h", "may be 1000 or 1:"},
		{Rest, "two hours", "Rest: \"two hours\" is no time"},
		{Rest, "4", "Rest: \"4\" is no time, write one with its unit"},
		{Rest, "169 h", "Rest: \"169 h\" is too long"},
		{Tag, "../x", "a tag has letters"},
		{Tag, "con", "Windows device"},
		{Where, "a\u202eb", "U+202E"},
		{Where, "a\x1b[2J", "U+001B"},
		{ApprovedBy, "\"; x = 1", `approved_by = "\"; x = 1"`},
	} {
		d := New(works(t))
		a := full()
		a[c.name] = c.text
		l := d.Look(a, day)
		var said []string
		for _, r := range l.Remarks() {
			if r.Severity == joint.Error {
				said = append(said, r.Text)
			}
		}
		all := strings.Join(said, "\n")
		if strings.Contains(c.want, " = ") {
			if !strings.Contains(string(l.Text), "\n"+c.want+"\n") {
				t.Errorf("%s %q: %s\n%s", c.name, c.text, all, l.Text)
			}
		} else if l.Ready() || !strings.Contains(all, c.want) {
			t.Errorf("%s %q: %q, want %q", c.name, c.text, all, c.want)
		}
	}
}

// TestToolOfTwoFiles is refused by its id: the older certificate may be meant.
func TestToolOfTwoFiles(t *testing.T) {
	dir := works(t)
	text, err := os.ReadFile(filepath.Join(dir, "tools", "w-11.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "tools", "w-11-old.toml"), text, 0o644); err != nil {
		t.Fatal(err)
	}
	for answer, want := range map[string]string{"W-11": "several files", "tools/w-11-old.toml": ""} {
		a := full()
		a[Tool] = answer
		l := New(dir).Look(a, day)
		if l.Ready() != (want == "") || want != "" && (len(l.Wrong) != 1 || !strings.Contains(l.Wrong[0].Why, want)) {
			t.Errorf("%s: %+v", answer, l.Remarks())
		}
	}
}

// TestMissing: what is needed and silent is named, and nothing else is said.
func TestMissing(t *testing.T) {
	d := New(works(t))
	l := d.Look(Answers{}, day)
	if l.Ready() || len(l.Missing) != 5 || len(l.Remarks()) != 1 || len(l.Results()) != 1 {
		t.Errorf("%+v", l.Remarks())
	}
	a := full()
	a[Tool] = ""
	l = d.Look(a, day)
	if !l.Ready() || !l.NoTool || !strings.Contains(string(l.Text), "\n# [[tools]]\n") || l.Plan.Aim.Torque <= 0 {
		t.Errorf("without a tool: %+v", l.Remarks())
	}
	// A block that is not filled in is refused by whoever reads the file.
	var faults job.Faults
	if _, err := job.Parse("job.toml", l.Text, d.dir); !errors.As(err, &faults) || len(faults) != 1 || faults[0].Text != job.NoTool {
		t.Errorf("%v", faults)
	}
}

// TestOpenedAgain: a job that was drafted has the same answers, and saving them
// changes nothing. One change changes its own lines only.
func TestOpenedAgain(t *testing.T) {
	dir := works(t)
	d := New(dir)
	a := full()
	path := d.File(a)
	text := d.Look(a, day).Text
	if err := d.Save(path, text, false); err != nil {
		t.Fatal(err)
	}
	if err := d.Save(path, text, false); !errors.Is(err, fs.ErrExist) {
		t.Errorf("over a file that is there: %v", err)
	}
	d, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if l := d.Look(d.Was, day); string(l.Text) != string(text) || !l.Ready() {
		t.Errorf("the same answers change the file: %+v", l.Remarks())
	}
	a = maps.Clone(d.Was)
	a[Target] = "300 N·m"
	l := d.Look(a, day)
	want := strings.Replace(string(text), `yield_share = "45 %"`, `torque = "300 N·m"`, 1)
	want = regexp.MustCompile(`(?m)^approved_(by|on) .*\n`).ReplaceAllString(want, "")
	if string(l.Text) != want {
		t.Errorf("got\n%s", l.Text)
	}
	if !slices.ContainsFunc(l.Asides, func(s Aside) bool { return strings.Contains(s.Text, "approved again") }) {
		t.Errorf("of the approval is said %q", l.Asides)
	}
	if err := os.WriteFile(path, append(text, "# x\n"...), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := d.Save(path, l.Text, true); !errors.Is(err, ErrChanged) {
		t.Errorf("over what somebody else wrote: %v", err)
	}
}

// TestEveryShippedJobOpens and is left as it is by its own answers; a changed
// lubricant takes its old nut factor away, a changed grade its old yield.
func TestEveryShippedJobOpens(t *testing.T) {
	files, _ := filepath.Glob(shipped + "*.toml")
	for _, f := range files {
		d, err := Open(f)
		if err != nil {
			t.Fatal(err)
		}
		before, _ := os.ReadFile(f)
		l := d.Look(d.Was, day)
		if string(l.Text) != string(before) || !l.Ready() {
			t.Errorf("%s: %+v", f, l.Remarks())
		}
		if by := d.Was[ApprovedBy]; by != "" && !regexp.MustCompile(`, \d{4}-\d\d-\d\d$`).MatchString(by) {
			t.Errorf("%s: approved by %q", f, by)
		}
		a := maps.Clone(d.Was)
		a[Lubricant], a[Tool] = "machine oil", "other.toml"
		l = d.Look(a, day)
		if l.Job.Joint.Friction.NutFactor != 0.21 {
			t.Errorf("%s: nut factor %v", f, l.Job.Joint.Friction.NutFactor)
		}
		if own := d.Fixed(Tool) != ""; own != (len(l.Wrong) == 1) {
			t.Errorf("%s: its own tool can be changed: %+v", f, l.Wrong)
		}
	}
}

// TestLookOfAnything never panics and never writes what does not parse.
func TestLookOfAnything(t *testing.T) {
	dir := works(t)
	fixed := []string{"", "8 in 300#", "12 x M20", "B7", "MoS2 paste", "45 %", "345 MPa root", "1 N·m", "1e18 kN", "W-11", "nan %", "100", "4 h", "0 h", "3 x M1", "200 x 1/4-20 UNC"}
	rapid.Check(t, func(t *rapid.T) {
		d := New(dir)
		a := Answers{}
		for _, q := range Questions() {
			a[q.Name] = rapid.OneOf(rapid.SampledFrom(fixed), rapid.Just(full()[q.Name]), rapid.String()).Draw(t, string(q.Name))
		}
		l := d.Look(a, day)
		l.Results()
		l.Remarks()
		if l.Ready() && !l.NoTool {
			if _, err := job.Parse("job.toml", l.Text, dir); err != nil {
				t.Fatalf("ready, and %v", err)
			}
		}
	})
}

// BenchmarkLook is what a key costs in the form.
func BenchmarkLook(b *testing.B) {
	d := New(works(b))
	a := full()
	for b.Loop() {
		d.Look(a, day)
	}
}

// BenchmarkLookAtAChange is what a key costs when a file is changed.
func BenchmarkLookAtAChange(b *testing.B) {
	d, err := Open(shipped + "strainer-8in-300.toml")
	if err != nil {
		b.Fatal(err)
	}
	a := maps.Clone(d.Was)
	a[Target], a[Where], a[Grade] = "300 N·m", "elsewhere", "B16"
	for b.Loop() {
		d.Look(a, day)
	}
}
