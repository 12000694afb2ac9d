package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestTrialAndChartCommands: what they print, and the exit codes of sound
// input, faults, a late tool and a wrong command line.
func TestTrialAndChartCommands(t *testing.T) {
	short := filepath.Join(t.TempDir(), "short.toml")
	text := "format = 1\nthread = \"M20\"\nlubricant = \"oil\"\nreadings = [ { torque = \"100 N·m\", load = \"25 kN\" } ]\n"
	if err := os.WriteFile(short, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	const on = "--on=2026-12-01"
	for _, c := range []struct {
		args   []string
		status int
		says   string // printed, or the error
	}{
		{[]string{"trial", "../../testdata/trials/strainer-bolts.toml"}, exitDone, "nut_factor = 0.149"},
		{[]string{"trial", short}, exitInput, "short.toml:4: readings: too few readings: 1"},
		{[]string{"trial", "none.toml"}, exitInput, "none.toml"},
		{[]string{"trial", "../../testdata/jobs/strainer-8in-300.toml"}, exitInput, "this is a job and no trial"},
		{[]string{"trial"}, exitUsage, "evenload trial --help shows how"},
		{[]string{"chart", on, "../../testdata/jobs/tools/w-11.toml"}, exitDone, "POCKET TABLE"},
		{[]string{"chart", on, "../../testdata/jobs/booster-dn300-pn25.toml"}, exitDone, "TOOL W-22"},
		{[]string{"chart", on, "--units=us", "../../testdata/jobs/tools/w-11.toml"}, exitDone, "torque, lbf.ft"},
		{[]string{"chart", "--on=2036-12-01", "../../testdata/jobs/tools/w-11.toml"}, exitInput, "was due for calibration"},
		{[]string{"chart", on, short}, exitInput, "joint.tag is missing"},
		{[]string{"chart", "--units=metric", short}, exitUsage, "si or us"},
		{[]string{"chart", "--on=tomorrow", short}, exitUsage, "--on"},
	} {
		var out strings.Builder
		root := command()
		root.SetArgs(c.args)
		root.SetOut(&out)
		err := root.Execute()
		if err != nil {
			say(&out, err)
		}
		if code(err) != c.status || !strings.Contains(out.String(), c.says) {
			t.Errorf("%v: exit %d, want %d with %q\n%s", c.args, code(err), c.status, c.says, out.String())
		}
	}
}
