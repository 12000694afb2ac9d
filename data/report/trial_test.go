package report

import (
	"fmt"
	"math"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenload/data/job"
)

const trials = "../../testdata/trials/"

func trial(t *testing.T, text string) job.Trial {
	t.Helper()
	tr, err := job.ParseTrial("trial.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return tr
}

func trialText(t fataler, tr job.Trial) string {
	var out strings.Builder
	if err := Trial(&out, tr); err != nil {
		t.Fatalf("%v", err)
	}
	return out.String()
}

// readings is a trial of bolts at 100 N·m with the loads, in kN.
func readings(loads ...float64) string {
	text := "format = 1\nthread = \"M20\"\nlubricant = \"MoS2 paste\"\nreadings = [\n"
	for _, l := range loads {
		text += fmt.Sprintf("  { torque = \"100 N·m\", load = \"%v kN\" },\n", l)
	}
	return text + "]\n"
}

func TestTrialsOfShippedFiles(t *testing.T) {
	files, _ := filepath.Glob(trials + "*.toml")
	if len(files) != 2 {
		t.Errorf("%d trials are shipped, golden texts are of 2", len(files))
	}
	for _, f := range files {
		tr, err := job.LoadTrial(f)
		if err != nil {
			t.Fatal(err)
		}
		golden(t, "trial-"+strings.TrimSuffix(filepath.Base(f), ".toml")+".txt", trialText(t, tr))
	}
}

// inJobOf puts a block in place of the strainer's [friction].
func inJobOf(t *testing.T, block string) (job.Job, error) {
	t.Helper()
	text := read(t, jobs+"strainer-8in-300.toml")
	before, rest, _ := strings.Cut(text, "[friction]\n")
	_, after, found := strings.Cut(rest, "[gasket]")
	if !found {
		t.Fatal("the job has no [friction] before its [gasket]")
	}
	return job.Parse("job.toml", []byte(before+block+"\n[gasket]"+after), jobs)
}

// A block is read by a job as it is, whatever quotes the lubricant's name has.
func TestFrictionBlockGoesIntoAJob(t *testing.T) {
	tr, err := job.LoadTrial(trials + "strainer-bolts.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"nickel anti-seize", `paste "C:\7"`, "Paste für 80 °C"} {
		tr.Lubricant = name
		j, err := inJobOf(t, frictionBlock(tr))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		f := j.Joint.Friction
		if f.NutFactor != 0.149 || math.Abs(float64(f.Scatter)-0.18) > 1e-12 || j.Joint.Lubricant != name {
			t.Errorf("%s: %+v", name, f)
		}
	}
}

// Hand-worked: loads of 25, 26, 24, 25 kN at 100 N·m in M20 are 0.2, 0.192308,
// 0.208333, 0.2; the range is wider than the readings.
func TestTrialSaysWhatItFinds(t *testing.T) {
	for _, c := range []struct {
		text  string
		says  []string
		block bool
	}{
		{readings(25, 26, 24, 25), []string{"0.192", "0.208", "± 6.40 deviations", "4 readings are few", "# warning: 4 readings are few", "not tested: with fewer than 7"}, true},
		{readings(25, 25, 25, 25, 25), []string{"do not differ", "scatter for a job          none"}, false},
		{readings(25, 50, 12, 25, 40), []string{"too far apart", "not known"}, false},
		// One far off among even ones: both columns, and the block counts it.
		{readings(25, 25.2, 24.8, 25.1, 24.9, 25, 24.7, 25.3, 25.1, 27.5), []string{"OUTLIER", "all 10 readings", "without reading 10", "reading 10 lies 2.7", "counted all the same: reading 10", "find out why"}, true},
		{readings(25, 26, 24, 25, 25.5) + "grade = \"8.8\"\nyield = \"100 MPa\"\n", []string{"bolt load above yield, 100 MPa on the tensile area, in readings 1 2 4 5"}, true},
		{readings(25, 26, 24, 500, 25.5) + "grade = \"8.8\"\n", []string{"above the least tensile strength of the grade, 830 MPa on the tensile area, in readings 4: look at the unit"}, false},
	} {
		text := trialText(t, trial(t, c.text))
		for _, want := range c.says {
			if !strings.Contains(strings.ReplaceAll(text, "\n    ", " "), want) {
				t.Errorf("%q is not said:\n%s", want, text)
			}
		}
		if got := strings.Contains(text, "\nnut_factor = "); got != c.block {
			t.Errorf("block %v, want %v:\n%s", got, c.block, text)
		}
		for _, caution := range []string{"Torque is not load", "site's procedure and the responsible engineer decide", "with this lubricant only"} {
			if !strings.Contains(text, caution) {
				t.Errorf("the caution %q is missing", caution)
			}
		}
	}
}

// TestNoHostileTextInTrial: a trial file cannot hold such text, its name can;
// it makes no line of its own, so that no comment of the block ends early.
func TestNoHostileTextInTrial(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		tr, err := job.LoadTrial(trials + "header-studs.toml")
		if rapid.Bool().Draw(r, "block") {
			tr, err = job.LoadTrial(trials + "strainer-bolts.toml")
		}
		if err != nil {
			r.Fatalf("%v", err)
		}
		text := func() string { return hostile().Draw(r, "text") }
		poison(reflect.ValueOf(&tr.Inputs).Elem(), text)
		for i := range tr.Readings {
			tr.Readings[i].Typed, tr.Readings[i].TypedTorque = text(), text()
		}
		tr.Path, tr.Lubricant = text(), text()
		checkShown(r, trialText(r, tr))
		block := frictionBlock(tr)
		checkShown(r, block)
		for _, line := range strings.Split(strings.TrimSpace(block), "\n") {
			if !strings.HasPrefix(line, "# ") && line != "[friction]" && !strings.HasPrefix(line, "lubricant  = \"") && !strings.HasPrefix(line, "nut_factor = 0.") && !strings.HasPrefix(line, "scatter    = \"") {
				r.Fatalf("a line of its own: %q", line)
			}
		}
	})
}
