package job

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenload/joint/unit"

	"evenload/sequence"
)

// TestTagIsSaidOnce: a tag that is missing, or is no text, is one fault.
func TestTagIsSaidOnce(t *testing.T) {
	for _, tag := range []string{"", `tag = ""`, "tag = 7"} {
		_, err := Parse("job.toml", []byte(strings.Replace(least, `tag = "F1"`, tag, 1)), ".")
		var faults Faults
		if !errors.As(err, &faults) || len(faults) != 1 {
			t.Errorf("%q: %v", tag, err)
		}
	}
}

// TestFaults has for each kind of mistake the line that is shown for it. Each
// changes one thing in a job file that is right.
func TestFaults(t *testing.T) {
	for _, c := range []struct{ name, old, new, want string }{
		{"unknown key", "grade  =", "grad   =", `job.toml:21: unknown key "grad" in [bolts], did you mean "grade"?`},
		{"letter case", "count  =", "Count  =", `unknown key "Count" in [bolts], did you mean "count"?`},
		{"decimal comma", `"92 mm"`, `"92,5 mm"`, `bolts.grip: "92,5 mm" has a decimal comma, write a point: "92.5 mm"`},
		{"bare decimal comma", "class    = 1.0", "class    = 1,6", "job.toml:65: a decimal comma, write a point: class    = 1,6"},
		{"nan", "nut_factor = 0.15", "nut_factor = nan", "friction.nut_factor is NaN, a number above 0"},
		{"wrong kind", `most_pressure = "6.9 bar"`, `most_pressure = "6.9 N·m"`, `tools.1.most_pressure: "6.9 N·m" is a torque, a pressure is wanted`},
		{"falling chart", `"232 N·m"`, `"132 N·m"`, "job.toml:59: tools.1.curve: point 4 does not rise in torque: 132 N·m at 4.0 bar after 158 N·m at 3.0 bar"},
		{"point of a chart", `torque = "304 N·m"`, `torque = "304 bar"`, `job.toml:60: tools.1.curve.5.torque: "304 bar" is a pressure`},
		{"curly quotes", `"A193 B7"`, "“A193 B7”", "job.toml:21: curly quotes"},
		{"escape character", "Pump house 2", "Pump \x1b[31mhouse", "job.toml:6: the invisible character U+001B"},
		{"escaped escape", "Pump house 2", `Pump \u001b[31m`, "joint.where holds the character U+001B"},
		{"hidden character", `"star"`, "\"st\ufe0far\"", `procedure.pattern is "st\\u{fe0f}ar"`},
		{"right to left", "Pump house 2", "Pump \u202ehouse", "the invisible character U+202E"},
		{"two targets", `bolt_stress = "345 MPa"`, "bolt_stress = \"345 MPa\"\ntorque = \"300 N·m\"", "the target is given 2 times, as bolt_stress and torque"},
		{"passes fall", `"60 %", "100 %"`, `"20 %", "100 %"`, "procedure.passes: pass 2 is 20 % after 30 %, passes rise"},
		{"passes do not end", `"60 %", "100 %"]`, `"60 %"]`, "procedure.passes does not end at 100 %"},
		{"order without pattern", `pattern = "star"`, "pattern = \"star\"\norder = [1, 2]", `procedure.order is given and the pattern is "star"`},
		{"doubled bolt", `pattern = "star"`, "pattern = \"given\"\norder = [1,2,3,4,5,6,7,8,9,10,11,11]", "bolt"},
		{"date in quotes", "due           = 2036-06-02", `due           = "2036-06-02"`, "a date without quotes is wanted"},
		{"tag leaves the folder", `"DH-112-F03"`, `"../F03"`, `joint.tag is "../F03"`},
		{"tool file leaves the folder", "[[tools]]\n", "[[tools]]\nfile = \"../w.toml\"\n[[tools]]\n", "a tool file lies beside or below the job file"},
		{"missing key", "flange = \"ASME B16.5 NPS 8 class 300\"\ncount  = 12\n", "", "job.toml:16: bolts.count is missing, such as count = 12"},
		{"no such flange", "NPS 8 class 300\"\ncount  = 12\n", "NPS 9 class 300\"\n", `job.toml:17: bolts.flange: "ASME B16.5 NPS 9 class 300" is not in ASME B16.5, near it are "ASME B16.5 NPS 8 class 300"`},
		{"count against flange", "count  = 12", "count  = 8", "job.toml:18: bolts.count is 8, and ASME B16.5 NPS 8 class 300 has 12: look which is right"},
		{"thread against flange", "7/8-9 UNC", "3/4-10 UNC", "job.toml:19: bolts.thread is 3/4-10 UNC, and ASME B16.5 NPS 8 class 300 has 7/8 UNC"},
		{"no such grade", "A193 B7\"\nyield  = \"720 MPa\"\n", "A193 B77\"\n", `bolts.grade: "A193 B77" is in no table of ours, near it are "A193 B7"`},
		{"no such lubricant", "nickel anti-seize\"\nnut_factor = 0.15\n", "nikel antiseize\"\n", `friction.nut_factor is missing, such as nut_factor = 0.15 for the lubricant that is used; "nikel antiseize" is in no table of ours`},
		{"lubricant without a usual factor", "nickel anti-seize\"\nnut_factor = 0.15\n", "zinc-flake\"\n", "the table has 0.16 to 0.32 for zinc-flake coating and no usual one"},
		{"no format", "format = 1", "", "format is missing"},
		{"tool files", "[[tools]]\n", "[[tools]]\nfile = \"tools/none.toml\"\n[[tools]]\n", `job.toml:46: tools.1.file is "tools/none.toml": there is no such file`},
		{"absolute tool file", "[[tools]]\n", "[[tools]]\nfile = \"/etc/passwd\"\n[[tools]]\n", "a tool file lies beside or below the job file"},
		{"one table of tools", "[[tools]]\n", "[tools]\n", "job.toml:45: tools is one table, write [[tools]]"},
		{"count of many", "count  = 12", "count  = 1000000000", "job.toml:18: bolts.count is 1000000000, it can be 3 to 200"},
		{"count with a fraction", "count  = 12", "count  = 12.0", "bolts.count is a number, a whole number is wanted"},
		{"infinite class", "class    = 1.0", "class    = inf", "tools.1.gauge.class is +Inf"},
		{"nan in quotes", `"92 mm"`, `"nan mm"`, `bolts.grip: "nan mm" is not a number`},
		{"few tools", `pattern = "star"`, "tools_at_once = 2", "procedure.tools_at_once is 2, the job has 1 tools"},
		{"no such hold point", `pattern = "star"`, "hold = [\n\"gate\",\n\"before 50 %\"]", `job.toml:73: procedure.hold: entry 2 is "before 50 %", it can be "gate", "before 30 %", "before 60 %", "before 100 %", "before rest", "before close"`},
		{"hold point twice", `pattern = "star"`, `hold = ["before 60 %", "before 60%"]`, `job.toml:71: procedure.hold: entry 2 names "before 60 %" again`},
		{"rest with a comma", "rest    = \"4 h\"", "rest = \"1,5 h\"", `procedure.rest: "1,5 h" has a decimal comma, write a point: "1.5 h"`},
		{"rest without its unit", "rest    = \"4 h\"", "rest = \"4\"", `procedure.rest: "4" is no time, write one with its unit`},
		{"rest of nothing but a space", "rest    = \"4 h\"", "rest = \" \"", `procedure.rest: " " is no time`},
		{"rest too long", "rest    = \"4 h\"", "rest = \"168.5 h\"", `procedure.rest can be up to 168 h`},
		{"hold before no rest", "rest    = \"4 h\"", "rest = \"0 h\"\nhold = [\"before rest\"]", `procedure.hold: entry 1 is "before rest", it can be "gate"`},
		{"given without order", `pattern = "star"`, `pattern = "given"`, `job.toml:71: procedure.pattern is "given", so order = [...] is needed`},
		{"bolt that is not there", `pattern = "star"`, "pattern = \"given\"\norder = [\n1,2,3,4,5,6,\n7,8,9,10,11,13]", "job.toml:74: procedure.order: entry 12 is bolt 13, the joint has bolts 1 to 12"},
		{"one friction", "nut_factor = 0.15", "thread = 0.12", "job.toml:29: friction has one of thread and bearing, both are needed"},
		{"date in another order", "due           = 2036-06-02", "due           = 02.06.2036", "a date is written year, month, day without quotes"},
		{"date in no calendar", "due           = 2036-06-02", "due           = 2036-02-30", "a date is written year, month, day without quotes"},
		{"metric grade on an inch thread", "A193 B7\"\nyield  = \"720 MPa\"\n", "8.8\"\n", "bolts.grade: ISO 898-1 8.8 is a grade of other threads than 7/8-9 UNC"},
		{"any grease", "nickel anti-seize\"\nnut_factor = 0.15\n", "grease\"\n", `"grease" may be many things: write more of it`},
		{"thread of another pitch", "7/8-9 UNC", "7/8-14 UNF", "bolts.thread is 7/8-14 UNF, and ASME B16.5 NPS 8 class 300 has 7/8 UNC"},
		{"circle against flange", `circle = "330.2 mm"`, `circle = "350 mm"`, "job.toml:20: bolts.circle is 13.78 in, and ASME B16.5 NPS 8 class 300 has 13 in: look which is right"},
		{"key twice", "count  = 12", "count  = 12\ncount = 12", "job.toml:19: not readable as TOML"},
		{"long text", "Pump house 2", strings.Repeat("x", 501), "job.toml:6: joint.where has more than 500 characters"},
		{"line feed in a text", "Pump house 2", `Pump\nhouse`, "joint.where holds the character U+000A"},
		{"unknown key in a gauge", "class    =", "clas     =", `job.toml:65: unknown key "clas" in [tools.1.gauge], did you mean "class"?`},
		{"span without unit", `"0 to 10 bar"`, `"0 to 10"`, `tools.1.gauge.span: "10" has no unit`},
		{"coarse division", `division = "0.1 bar"`, `division = "5 bar"`, "tools.1.gauge.division is coarser than a quarter of the span"},
		{"a number for a quantity", `"92 mm"`, "92", "bolts.grip:"},
	} {
		_, err := Parse("job.toml", change(t, c.old, c.new), t.TempDir())
		var faults Faults
		if !errors.As(err, &faults) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got\n%v\nwant %s", c.name, err, c.want)
		}
	}
}

// TestBrokenFiles holds every line that is said about files that are wrong
// against faults.txt, which is read through by hand when it changes.
func TestBrokenFiles(t *testing.T) {
	const dir = jobs + "broken/"
	want, err := os.ReadFile(dir + "faults.txt")
	if err != nil {
		t.Fatal(err)
	}
	files, _ := filepath.Glob(dir + "*.toml")
	var got strings.Builder
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		_, err = Parse(filepath.Base(f), text, dir)
		var faults Faults
		if !errors.As(err, &faults) {
			t.Errorf("%s: %v", f, err)
			continue
		}
		got.WriteString(strings.ReplaceAll(faults.Error(), filepath.Clean(dir)+"/", "") + "\n")
	}
	said, expected := strings.Split(got.String(), "\n"), strings.Split(string(want), "\n")
	for i := range max(len(said), len(expected)) {
		if i >= len(said) || i >= len(expected) || said[i] != expected[i] {
			t.Fatalf("from line %d of faults.txt on, got\n%s", i+1, strings.Join(said[min(i, len(said)):], "\n"))
		}
	}
}

// TestTagsThatNameNoFile are tags that would make a file of another folder, a
// hidden one, or a device.
func TestTagsThatNameNoFile(t *testing.T) {
	for _, tag := range []string{"a/b", `a\\b`, ".F03", "F03.", "NUL", "com1.x", "F 03", strings.Repeat("F", 65), "F\u00e9"} {
		_, err := Parse("job.toml", change(t, `"DH-112-F03"`, `"`+tag+`"`), ".")
		if err == nil || !strings.HasPrefix(err.Error(), "job.toml:5: joint.tag is ") {
			t.Errorf("tag %q: %v", tag, err)
		}
	}
}

func TestEmptyTextCountsAsSilent(t *testing.T) {
	for old, want := range map[string]string{
		`"DH-112-F03"`:  "joint.tag is missing",
		`"W-07"`:        "tools.1.id is missing",
		`"0 to 10 bar"`: "tools.1.gauge.span is missing",
		`"345 MPa"`:     "target.bolt_stress: nothing was read",
	} {
		if _, err := Parse("job.toml", change(t, old, `""`), "."); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: got %v, want %s", old, err, want)
		}
	}
	j, err := Parse("job.toml", change(t, `pattern = "star"`, `pattern = ""`), ".")
	if err != nil || j.Procedure.Pattern != sequence.Star {
		t.Errorf("empty pattern: %q, %v", j.Procedure.Pattern, err)
	}
}

// change is the text of a good job file with one thing changed.
func change(t *testing.T, old, new string) []byte {
	t.Helper()
	text, err := os.ReadFile("testdata/values.toml")
	if err != nil {
		t.Fatal(err)
	}
	changed := strings.Replace(string(text), old, new, 1)
	if changed == string(text) {
		t.Fatalf("%s is not in the job file", old)
	}
	return []byte(changed)
}

// The long form wants the nut's bearing face: a flange's hole and the table's
// nut give one, without a flange it is asked for.
func TestBearingFace(t *testing.T) {
	text := string(change(t, "nut_factor = 0.15", "thread = 0.12\nbearing = 0.12"))
	j, err := Parse("job.toml", []byte(text), t.TempDir())
	f := j.Joint.Friction
	if err != nil || f.BearingInner.Text(unit.SI) != "25.4 mm" || f.BearingOuter.Text(unit.SI) != "36.51 mm" {
		t.Errorf("%+v, %v", f, err)
	}
	text = strings.Replace(text, `flange = "ASME B16.5 NPS 8 class 300"`, "", 1)
	want := "job.toml:16: friction.thread and friction.bearing need the nut's bearing face"
	if _, err := Parse("job.toml", []byte(text), t.TempDir()); err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("got %v, want %s", err, want)
	}
}

func TestToolFileFaultHasItsOwnLine(t *testing.T) {
	dir := t.TempDir()
	text, _ := os.ReadFile(jobs + "header-dn400-pn16.toml")
	tool, _ := os.ReadFile(jobs + "tools/w-11.toml")
	os.Mkdir(filepath.Join(dir, "tools"), 0o755)
	bad := strings.Replace(string(tool), `"293 N·m"`, `"93 N·m"`, 1)
	os.WriteFile(filepath.Join(dir, "tools", "w-11.toml"), []byte(bad), 0o644)
	_, err := Parse(filepath.Join(dir, "job.toml"), text, dir)
	if err == nil || !strings.Contains(err.Error(), "w-11.toml:12: tools.1.curve: point 3 does not rise") {
		t.Errorf("got %v", err)
	}
}
