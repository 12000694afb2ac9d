package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenload/joint"
)

// check of several files: each on its own line, in the order of the command
// line, whichever core was first; exit 1 for an error in any of them; an unread
// one does not hide the others.
func TestCheckOfSeveralFiles(t *testing.T) {
	dir := t.TempDir()
	good, err := os.ReadFile("../../testdata/jobs/strainer-8in-300.toml")
	if err != nil {
		t.Fatal(err)
	}
	write := func(name, old, new string) string {
		t.Helper()
		text := strings.Replace(string(good), old, new, 1)
		if text == string(good) && old != new {
			t.Fatalf("%s is not in the job", old)
		}
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	faulty := write("a.toml", `"345 MPa"`, `"345 mm"`)
	clean := write("b.toml", "", "")
	warned := write("c.toml", "class    = 1.0", "class    = 1.6")
	missing := filepath.Join(dir, "none.toml")
	on := joint.Date{Year: 2026, Month: 12, Day: 1}
	var paths, want []string
	for i := range 40 { // more than the cores
		path := write(fmt.Sprintf("m%02d.toml", i), "class    = 1.0", "class    = 1.6")
		paths, want = append(paths, path), append(want, path)
	}
	first := func(out string) []string {
		var all []string
		for _, line := range strings.Split(strings.TrimSpace(out), "\n") {
			name, _, found := strings.Cut(line, ".toml:")
			if found && (len(all) == 0 || all[len(all)-1] != name+".toml") {
				all = append(all, name+".toml")
			}
		}
		return all
	}
	for _, c := range []struct {
		paths  []string
		order  []string
		says   string
		err    string
		status int
	}{
		{[]string{clean}, nil, "nothing found\n", "", 0},
		{[]string{clean, warned}, []string{warned}, "2 files: 0 with errors, 0 not readable, nothing found in 1\n", "", 0},
		{[]string{faulty, clean, warned}, []string{faulty, warned}, "3 files: 1 with errors, 0 not readable, nothing found in 1\n", "", 1},
		{[]string{warned, missing, faulty}, []string{warned, faulty}, "3 files: 1 with errors, 1 not readable, nothing found in 0\n", "none.toml", 1},
		{paths, want, "40 files: 0 with errors, 0 not readable, nothing found in 0\n", "", 0},
	} {
		var to, other strings.Builder
		err := check(&to, &other, c.paths, on, false)
		if err != nil {
			say(&other, err)
		}
		out, errs, status := to.String(), other.String(), code(err)
		if got := first(out); strings.Join(got, " ") != strings.Join(c.order, " ") || !strings.HasSuffix(out, c.says) || status != c.status || !strings.Contains(errs, c.err) {
			t.Errorf("%v: exit %d, %s\n%s", c.paths, status, errs, out)
		}
		to.Reset()
		status = code(check(&to, io.Discard, c.paths, on, true))
		var found []struct{ File, Job, Code string }
		if err := json.Unmarshal([]byte(to.String()), &found); err != nil || status != c.status {
			t.Errorf("%v as JSON: exit %d, %v", c.paths, status, err)
		}
		for _, f := range found {
			if f.Job == "" || f.File == "" || f.Code == "" {
				t.Errorf("%+v", f)
			}
		}
	}
}
