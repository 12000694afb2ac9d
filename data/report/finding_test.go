package report

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenload/joint"
)

// lineOf is the line of a job file on which a text stands first.
func lineOf(t *testing.T, path, text string) int {
	t.Helper()
	before, _, ok := strings.Cut(read(t, path), text)
	if !ok {
		t.Fatalf("%s is not in %s", text, path)
	}
	return 1 + strings.Count(before, "\n")
}

func TestFindingsHaveTheirPlaces(t *testing.T) {
	const file = jobs + "header-dn400-pn16.toml"
	found, err := Check(file, late)
	if err != nil || len(found) != 2 {
		t.Fatalf("%v, %v", found, err)
	}
	// The tool has a file of its own: the findings stand there.
	tool := filepath.FromSlash(jobs + "tools/w-11.toml")
	for i, want := range []Finding{
		{joint.Finding{Severity: joint.Error, Code: "tool-due", Key: "tools.0.due",
			Text: "tool W-11 was due for calibration on 2036-08-24 (days ago: 93): have it calibrated or take another"}, tool, lineOf(t, tool, "due           ="), file},
		{joint.Finding{Severity: joint.Error, Code: "gauge-due", Key: "tools.0.gauge.due",
			Text: "gauge G-21 was due for calibration on 2036-03-01 (days ago: 269): have it calibrated or take another"}, tool, lineOf(t, tool, "due      ="), file},
	} {
		if found[i] != want {
			t.Errorf("%+v, want %+v", found[i], want)
		}
	}
	if found, err := Check(file, day); err != nil || len(found) > 0 {
		t.Errorf("a good job: %v, %v", found, err)
	}
}

func TestFindingText(t *testing.T) {
	f := Finding{joint.Finding{Severity: joint.Warning, Code: "few", Key: "bolts", Text: "few bolts"}, "f03.toml", 7, "f03.toml"}
	if got, want := f.String(), "f03.toml:7: warning: few bolts (few)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	f.Job = "f04.toml" // the file is a tool's
	if got, want := f.String(), "f03.toml:7: warning: few bolts (few) [job f04.toml]"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	f.File, f.Job, f.Text = "f\x1b[2J.toml", "f\x1b[2J.toml", "few \u202ebolts"
	if got, want := f.String(), `f\u{1b}[2J.toml:7: warning: few \u{202e}bolts (few)`; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestFaultsAreFindings: the faults of a file that cannot be read as a job.
func TestFaultsAreFindings(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.toml")
	text := strings.Replace(read(t, jobs+"strainer-8in-300.toml"), `"345 MPa"`, `"345 mm"`, 1)
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	found, err := Check(path, day)
	if err != nil || len(found) != 1 {
		t.Fatalf("%v, %v", found, err)
	}
	f := found[0]
	if f.File != path || f.Line != lineOf(t, path, "bolt_stress") || f.Severity != joint.Error || f.Code != "file" || !strings.Contains(f.Text, `"345 mm" is a length`) {
		t.Errorf("%+v", f)
	}
	if _, err := Check(path+".none", day); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a file that is not there: %v", err)
	}
}
