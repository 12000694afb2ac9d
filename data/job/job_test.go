package job

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/BurntSushi/toml"

	"evenload/joint"
)

const jobs = "../../testdata/jobs/"

var day = joint.Date{Year: 2026, Month: time.November, Day: 25}

func TestShippedJobsPlan(t *testing.T) {
	files, _ := filepath.Glob(jobs + "*.toml")
	if len(files) < 4 {
		t.Fatalf("only %d job files are shipped", len(files))
	}
	for _, f := range files {
		j, err := Load(f)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		p, findings := j.Plan(day)
		if joint.Failed(findings) || len(p.Passes) == 0 {
			t.Errorf("%s: %v", f, findings)
		}
	}
	practice, err := Practice()
	if err != nil || len(practice) != 3 {
		t.Fatalf("practice joints: %d, %v", len(practice), err)
	}
}

// TestFaults has for each kind of mistake the line that is shown for it. Each
// changes one thing in a job file that is right.
func TestFaults(t *testing.T) {
	text, err := os.ReadFile(jobs + "strainer-8in-300.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, old, new, want string }{
		{"unknown key", "grade  =", "grad   =", `job.toml:21: unknown key "grad" in [bolts], did you mean "grade"?`},
		{"letter case", "count  =", "Count  =", `unknown key "Count" in [bolts], did you mean "count"?`},
		{"decimal comma", `"92 mm"`, `"92,5 mm"`, `bolts.grip: "92,5 mm" has a decimal comma, write a point: "92.5 mm"`},
		{"bare decimal comma", "class    = 1.6", "class    = 1,6", "job.toml:65: a decimal comma, write a point: class    = 1,6"},
		{"nan", "nut_factor = 0.15", "nut_factor = nan", "friction.nut_factor is NaN, a number above 0"},
		{"wrong kind", `most_pressure = "6.9 bar"`, `most_pressure = "6.9 N·m"`, `tools.1.most_pressure: "6.9 N·m" is a torque, a pressure is wanted`},
		{"falling chart", `"232 N·m"`, `"132 N·m"`, "job.toml:59: tools.1.curve: point 4 does not rise in torque: 132 N·m at 4.00 bar after 158 N·m at 3.00 bar"},
		{"point of a chart", `torque = "304 N·m"`, `torque = "304 bar"`, `job.toml:60: tools.1.curve.5.torque: "304 bar" is a pressure`},
		{"curly quotes", `"A193 B7"`, "“A193 B7”", "job.toml:21: curly quotes"},
		{"escape character", "Pump house 2", "Pump \x1b[31mhouse", "job.toml:6: the invisible character U+001B"},
		{"escaped escape", "Pump house 2", `Pump \u001b[31m`, "joint.where holds the character U+001B"},
		{"right to left", "Pump house 2", "Pump \u202ehouse", "the invisible character U+202E"},
		{"two targets", `bolt_stress = "345 MPa"`, "bolt_stress = \"345 MPa\"\ntorque = \"300 N·m\"", "the target is given 2 times, as bolt_stress and torque"},
		{"passes fall", `"60 %", "100 %"`, `"20 %", "100 %"`, "procedure.passes: pass 2 is 20 %, passes rise"},
		{"passes do not end", `"60 %", "100 %"]`, `"60 %"]`, "procedure.passes does not end at 100 %"},
		{"order without pattern", `pattern = "star"`, "pattern = \"star\"\norder = [1, 2]", `procedure.order is given and the pattern is "star"`},
		{"doubled bolt", `pattern = "star"`, "pattern = \"given\"\norder = [1,2,3,4,5,6,7,8,9,10,11,11]", "bolt"},
		{"date in quotes", "due           = 2036-06-02", `due           = "2036-06-02"`, "a date without quotes is wanted"},
		{"tag leaves the folder", `"DH-112-F03"`, `"../F03"`, `joint.tag is "../F03"`},
		{"tool file leaves the folder", "[[tools]]\n", "[[tools]]\nfile = \"../w.toml\"\n[[tools]]\n", "a tool file lies beside or below the job file"},
		{"missing key", "count  = 12\n", "", "job.toml:16: bolts.count is missing, such as count = 12"},
		{"no format", "format = 1", "", "format is missing"},
		{"a number for a quantity", `"92 mm"`, "92", "bolts.grip:"},
	} {
		changed := strings.Replace(string(text), c.old, c.new, 1)
		if changed == string(text) {
			t.Errorf("%s: nothing was changed", c.name)
			continue
		}
		_, err := Parse("job.toml", []byte(changed), t.TempDir())
		var faults Faults
		if !errors.As(err, &faults) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got\n%v\nwant %s", c.name, err, c.want)
		}
	}
}

func TestAllFaultsInOneRun(t *testing.T) {
	_, err := Parse("job.toml", []byte("format = 1\n[bolts]\ncount = 2\nthread = \"M23\"\n[target]\ntorque = \"5 bar\"\n"), ".")
	for _, want := range []string{"joint.tag is missing", "bolts.count is 2", `"M23" is in no metric series`, `"5 bar" is a pressure`, "nut_factor is missing", "a tool is missing"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q is not said in\n%v", want, err)
		}
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

func TestHostileFilesAreBounded(t *testing.T) {
	for name, text := range map[string]string{
		"deep":   "a = " + strings.Repeat("[", 100_000),
		"utf-16": "\xff\xfef\x00o\x00",
		"binary": "\x00\x01\x02",
	} {
		if _, err := Parse("job.toml", []byte(text), "."); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
	big := filepath.Join(t.TempDir(), "big.toml")
	f, _ := os.Create(big)
	f.Truncate(100 << 20)
	f.Close()
	if _, err := Load(big); err == nil || !strings.Contains(err.Error(), "larger than") {
		t.Errorf("100 MB: %v", err)
	}
}

// TestPositionsKnowEveryKey holds our scan against the library's own list of keys.
func TestPositionsKnowEveryKey(t *testing.T) {
	files, _ := filepath.Glob(jobs + "*.toml")
	for _, f := range files {
		text, _ := os.ReadFile(f)
		var v map[string]any
		meta, err := toml.Decode(string(text), &v)
		if err != nil {
			t.Fatal(err)
		}
		at := positions(string(text))
		for _, k := range meta.Keys() {
			if key := strings.ReplaceAll(k.String(), "tools.", "tools.0."); at[key] == 0 && !strings.Contains(key, "curve.") {
				t.Errorf("%s: no line for %s", f, key)
			}
		}
	}
}

func FuzzParse(f *testing.F) {
	files, _ := filepath.Glob(jobs + "*.toml")
	for _, name := range files {
		text, _ := os.ReadFile(name)
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		_, err := Parse("job.toml", text, "/nonexistent")
		if err == nil {
			return
		}
		for _, r := range err.Error() {
			if r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r)) {
				t.Fatalf("U+%04X in the message %q", r, err)
			}
		}
	})
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := Load(jobs + "exchanger-cover-32.toml"); err != nil {
			b.Fatal(err)
		}
	}
}
