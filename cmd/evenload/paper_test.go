package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// execute runs a command line and gives its exit code.
func execute(args ...string) int {
	c := command()
	c.SetArgs(args)
	return code(c.Execute())
}

// TestFilesOfACard: each ending has its own kind of file; a damaged card is
// written, marked, and is an error; others write nothing.
func TestFilesOfACard(t *testing.T) {
	const whole = "../../testdata/cards/DH-220-D1.20261125-aaaaaa.card.jsonl"
	dir := t.TempDir()
	begins := map[string]string{"r.pdf": "%PDF-", "r.csv": "\ufeffrecord,", "r.json": "{", "r.txt": "RECORD "}
	for name, want := range begins {
		path := filepath.Join(dir, name)
		if got := execute("record", whole, "-o", path); got != exitDone {
			t.Errorf("%s: exit %d", name, got)
		}
		if text, err := os.ReadFile(path); err != nil || !bytes.HasPrefix(text, []byte(want)) {
			t.Errorf("%s: %v", name, err)
		}
	}
	text, err := os.ReadFile(whole)
	if err != nil {
		t.Fatal(err)
	}
	spoilt := filepath.Join(dir, "DH-220-D1.20261125-bbbbbb.card.jsonl")
	if err := os.WriteFile(spoilt, bytes.Replace(text, []byte(`"answer":"yes"`), []byte(`"answer":"no"`), 1), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, one := range []struct {
		args    []string
		exit    int
		written string
	}{
		{[]string{"record", spoilt, "-o", filepath.Join(dir, "d.json")}, exitInput, "d.json"},
		{[]string{"record", spoilt, "-o", filepath.Join(dir, "d.txt")}, exitInput, ""},
		{[]string{"record", whole, "-o", filepath.Join(dir, "r.jsonl")}, exitUsage, ""},
		{[]string{"record", whole, "-o", filepath.Join(dir, "none", "r.pdf")}, exitUsage, ""},
		{[]string{"record", whole, "--decimal", "dot", "-o", filepath.Join(dir, "e.csv")}, exitUsage, ""},
		{[]string{"record", "--schema"}, exitDone, ""},
		{[]string{"record"}, exitUsage, ""},
		{[]string{"sheet", "../../testdata/jobs/strainer-8in-300.toml"}, exitUsage, ""},
		{[]string{"sheet", "../../testdata/jobs/strainer-8in-300.toml", "-o", filepath.Join(dir, "s.pdf"), "--paper", "letter", "--on", "2026-11-25"}, exitDone, "s.pdf"},
		{[]string{"sheet", "../../testdata/jobs/strainer-8in-300.toml", "-o", filepath.Join(dir, "late.pdf"), "--on", "2040-01-01"}, exitInput, ""},
		{[]string{"chart", "../../testdata/jobs/tools/w-11.toml", "-o", filepath.Join(dir, "c.pdf"), "--on", "2026-11-25"}, exitDone, "c.pdf"},
		{[]string{"chart", "../../testdata/jobs/tools/w-11.toml", "-o", filepath.Join(dir, "old.pdf"), "--on", "2040-01-01"}, exitInput, "old.pdf"},
		{[]string{"sheet", "../../testdata/jobs/strainer-8in-300.toml", "-o", filepath.Join(dir, "c.pdf"), "--on", "2026-11-25"}, exitUsage, ""},
		{[]string{"record", whole, "-o", filepath.Join(dir, "c.pdf")}, exitUsage, ""},
		{[]string{"record", whole, "--force", "-o", filepath.Join(dir, "c.pdf")}, exitDone, "c.pdf"},
	} {
		if got := execute(one.args...); got != one.exit {
			t.Errorf("%s: exit %d, want %d", strings.Join(one.args, " "), got, one.exit)
		}
		if one.written != "" {
			begins[one.written] = ""
		}
		left, err := os.ReadDir(dir)
		if err != nil || len(left) != len(begins)+1 {
			t.Errorf("%s: %d files, want %d: %v", strings.Join(one.args, " "), len(left), len(begins)+1, err)
		}
	}
	if text, err := os.ReadFile(filepath.Join(dir, "d.json")); err != nil || !bytes.Contains(text, []byte(`"state": "damaged"`)) {
		t.Errorf("the damaged card is not marked: %v", err)
	}
}
