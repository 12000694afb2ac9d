package report

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"evenload/data/job"
	"evenload/joint"
)

const jobs = "../../testdata/jobs/"

// day is when every tool of the shipped jobs is good, late when none is.
var (
	day  = joint.Date{Year: 2026, Month: 11, Day: 25}
	late = joint.Date{Year: 2036, Month: 11, Day: 25}
)

func load(t *testing.T, path string) job.Job {
	t.Helper()
	j, err := job.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// changed is the strainer's job with one thing changed.
func changed(t *testing.T, old, new string) job.Job {
	t.Helper()
	text := read(t, jobs+"strainer-8in-300.toml")
	if !strings.Contains(text, old) {
		t.Fatalf("%s is not in the job file", old)
	}
	j, err := job.Parse("job.toml", []byte(strings.Replace(text, old, new, 1)), jobs)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func planText(t *testing.T, j job.Job, on joint.Date) string {
	t.Helper()
	p, findings := j.Plan(on)
	var out strings.Builder
	if err := Plan(&out, j, p, findings); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func TestPlansOfShippedJobs(t *testing.T) {
	files, _ := filepath.Glob(jobs + "*.toml")
	if len(files) != 6 {
		t.Errorf("%d job files are shipped, golden plans are of 6", len(files))
	}
	for _, f := range files {
		name := strings.TrimSuffix(filepath.Base(f), ".toml")
		golden(t, "plan-"+name+".txt", planText(t, load(t, f), day))
	}
}

func TestPlanSaysUnapprovedAndErrors(t *testing.T) {
	text := planText(t, changed(t, `approved_by = "Responsible engineer, DH works"`, ""), late)
	for _, want := range []string{"\nUNAPPROVED\n", "job.toml:4: warning: nobody has approved this job",
		"job.toml:42: error: tool W-07 was due for calibration on 2036-06-02", "(gauge-due)\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("the plan does not say %q:\n%s", want, text)
		}
	}
	if strings.Contains(text, "approved by") {
		t.Error("a job that nobody approved names an approver")
	}
	if _, passes, _ := strings.Cut(text, "\nPASSES"); !strings.Contains(passes[:strings.Index(passes, "\n")], "NOT FOR WORK") {
		t.Errorf("a plan with errors shows passes as good:\n%s", text)
	}
}

type full struct{}

var errFull = errors.New("full")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestPlanSaysThatItCouldNotBeWritten(t *testing.T) {
	j := load(t, jobs+"strainer-8in-300.toml")
	p, findings := j.Plan(day)
	if err := Plan(full{}, j, p, findings); !errors.Is(err, errFull) {
		t.Errorf("a full disk: %v", err)
	}
}
