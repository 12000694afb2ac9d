package main

import (
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenload/data/job"
	"evenload/data/report"
)

// printed runs the program and gives its output, error and exit code.
func printed(t *testing.T, args ...string) (text string, exit int, err error) {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	was := os.Stdout
	os.Stdout = w
	said := make(chan string)
	go func() {
		all, _ := io.ReadAll(r)
		said <- string(all)
	}()
	c := command()
	c.SetArgs(args)
	err = c.Execute()
	os.Stdout = was
	w.Close()
	return <-said, code(err), err
}

func TestCompareCommand(t *testing.T) {
	const strainer = "../../testdata/jobs/strainer-8in-300.toml"
	text, exit, err := printed(t, "compare", strainer)
	if err != nil || exit != exitDone || !strings.Contains(text, "FOR THE FOREMAN") || !strings.Contains(text, "than 5 % of the target") {
		t.Errorf("%v, exit %d:\n%s", err, exit, text)
	}
	if text, _, err = printed(t, "compare", strainer, "--moves", "10 %"); err != nil || !strings.Contains(text, "10 % of the target") {
		t.Errorf("%v:\n%s", err, text)
	}
	var v struct {
		Moves  float64 `json:"moves"`
		Orders []any   `json:"orders"`
	}
	if text, _, err = printed(t, "compare", strainer, "--json", "--moves", "2 %"); err != nil || json.Unmarshal([]byte(text), &v) != nil || v.Moves != 0.02 || len(v.Orders) != 9 {
		t.Errorf("%v:\n%s", err, text)
	}
	for _, moves := range []string{"five", "0 %", "60 %", "NaN %", "-5 %", ""} {
		if _, exit, err := printed(t, "compare", strainer, "--moves", moves); exit != exitUsage || !strings.HasPrefix(err.Error(), "--moves: ") {
			t.Errorf("--moves %q: %v, exit %d", moves, err, exit)
		}
	}
	if _, exit, _ := printed(t, "compare"); exit != exitUsage {
		t.Errorf("no job: exit %d", exit)
	}
	if _, exit, _ := printed(t, "compare", filepath.Join(t.TempDir(), "none.toml")); exit != exitInput {
		t.Errorf("a job that is not there: exit %d", exit)
	}
}

// What is not computed is said with file and line, in JSON as a finding.
func TestCompareRefuses(t *testing.T) {
	const cover, header = "../../testdata/jobs/filter-cover-10.toml", "../../testdata/jobs/header-dn400-pn16.toml"
	_, exit, err := printed(t, "compare", cover)
	var faults job.Faults
	if !errors.As(err, &faults) || exit != exitInput || !strings.Contains(err.Error(), "filter-cover-10.toml:25: bolts that are no ring are not computed") {
		t.Errorf("%v, exit %d", err, exit)
	}
	text, exit, err := printed(t, "compare", "--json", header)
	var v struct {
		Findings []report.Finding `json:"findings"`
	}
	if !errors.Is(err, errInput) || exit != exitInput || json.Unmarshal([]byte(text), &v) != nil || len(v.Findings) != 3 {
		t.Errorf("%v, exit %d: %s", err, exit, text)
	}
}

// plan knows of too few check rounds, check does not look.
func TestTooFewRoundsInPlanOnly(t *testing.T) {
	text, err := os.ReadFile("../../testdata/jobs/strainer-8in-300.toml")
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "few.toml")
	if err := os.WriteFile(path, []byte(strings.Replace(string(text), "[procedure]\n", "[procedure]\ncheck_rounds = 1\n", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"plan", "--on", "2026-12-01", path}, {"plan", "--on", "2026-12-01", "--json", path}} {
		if text, _, err := printed(t, args...); err != nil || !strings.Contains(text, "check rounds: 1, and by an") {
			t.Errorf("%v does not say it: %v\n%s", args, err, text)
		}
	}
	if text, _, err := printed(t, "check", "--on", "2026-12-01", path); err != nil || text != "nothing found\n" {
		t.Errorf("check: %v %s", err, text)
	}
}
