package job

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A tool file read alone is the tool that a job gets by its name.
func TestLoadTool(t *testing.T) {
	files, err := filepath.Glob("../../testdata/jobs/tools/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatalf("%v, %v", files, err)
	}
	for _, path := range files {
		tool, err := LoadTool(path)
		if err != nil || tool.ID == "" || tool.Chart.Check() != nil || tool.Gauge.Division <= 0 {
			t.Errorf("%s: %+v, %v", path, tool, err)
		}
	}
	for text, want := range map[string]string{
		"id = \"W\"\n":                        "curve is missing",
		"file = \"w.toml\"\n":                 "cannot name another file",
		"id = \"W\"\nwings = 2\n":             "t.toml:2: ",
		"id = \"W\u202e\"\n":                  "U+202E",
		"[joint]\ntag = \"DH-1\"\nformat = 1": "joint",
		"id = ":                               "TOML",
	} {
		path := filepath.Join(t.TempDir(), "t.toml")
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		var faults Faults
		if _, err := LoadTool(path); !errors.As(err, &faults) || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want one that says %q", text, err, want)
		}
	}
	for _, path := range []string{t.TempDir(), filepath.Join(t.TempDir(), "none.toml")} {
		if _, err := LoadTool(path); err == nil || !strings.Contains(err.Error(), "tool file: ") {
			t.Errorf("%s: %v", path, err)
		}
	}
}
