package draft

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/joint"
	"evenload/sequence"
)

// begin makes a card of a job in a folder, open or damaged, and gives its name.
func begin(t *testing.T, dir, jobFile string, practice, damaged bool) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, jobFile))
	if err != nil {
		t.Fatal(err)
	}
	d, err := onto(jobFile, text, dir)
	if err != nil {
		t.Fatal(err)
	}
	l := d.Look(d.Was, day)
	s, err := card.Begin(dir, "", sequence.CardOpened{Format: 1, JobFile: jobFile, JobSHA256: l.Job.SHA256, Inputs: l.Job.Inputs, Plan: l.Plan, Practice: practice})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Write(sequence.Event{At: time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC), By: "Ann", Data: sequence.SignedOn{Name: "Ann"}}); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if damaged {
		if err := os.WriteFile(s.Path(), []byte("no card\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Base(s.Path())
}

// TestOpenCardRefusesTheRow: no row writes over the job of a card that is open or
// cannot be read, nor another job of its joint, with force or without; one that is the
// same, and the job of a practice or a closed card, are no matter.
func TestOpenCardRefusesTheRow(t *testing.T) {
	into := works(t)
	const head, row = "tag;where;flange;grade;lubricant;target;tool\n", ";hall;DN400 PN16;8.8;MoS2 paste;45 %;W-11\n"
	write := func(over bool, text string) map[string]Outcome {
		rows, err := ReadRegister(strings.NewReader(head + text))
		if err != nil {
			t.Fatal(err)
		}
		all := map[string]Outcome{}
		Many(rows, nil, into, over, day, func(o Outcome) { all[o.Tag] = o })
		return all
	}
	tags := []string{"OPEN", "BROKEN", "PRACTICE", "MOVED"}
	write(false, strings.Join(tags, row)+row)
	names := map[string]string{"OPEN": begin(t, into, "OPEN.toml", false, false), "BROKEN": begin(t, into, "BROKEN.toml", false, true), "MOVED": begin(t, into, "MOVED.toml", false, false)}
	begin(t, into, "PRACTICE.toml", true, false)
	closed, err := filepath.Glob("../../testdata/cards/*")
	if err != nil || len(closed) == 0 {
		t.Fatal("no closed cards", err)
	}
	for _, path := range closed { // of DH-220-D1
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(into, filepath.Base(path)), text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Remove(filepath.Join(into, "MOVED.toml")); err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(filepath.Join(into, "OPEN.toml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, over := range []bool{false, true} {
		for tag, o := range write(over, strings.Join(tags, row)+row) {
			if refused := tag == "MOVED"; (o.Err != nil) != refused {
				t.Errorf("over %v, the same: %s: %v", over, tag, o.Err)
			}
		}
		other := strings.Replace(row, "45 %", "40 %", 1)
		all := write(over, strings.Join(tags, other)+other+"DH-220-D1"+other)
		for tag, o := range all {
			name, refused := names[tag]
			said := "is open, " + name
			if tag == "BROKEN" {
				said = "cannot be read to its end, " + name
			}
			if refused && (o.Err == nil || !strings.Contains(o.Err.Error(), said) || !strings.Contains(o.Err.Error(), "--force does not help")) {
				t.Errorf("over %v: %s: %v, want %q", over, tag, o.Err, said)
			}
			if !refused && over && o.Err != nil {
				t.Errorf("%s: %v", tag, o.Err)
			}
		}
	}
	if now, err := os.ReadFile(filepath.Join(into, "OPEN.toml")); err != nil || !bytes.Equal(now, before) {
		t.Errorf("the job of an open card was written over: %v", err)
	}
}

// TestErrorsStandUnderTheRow in words, and the file counts as one with errors.
func TestErrorsStandUnderTheRow(t *testing.T) {
	into := works(t)
	rows, err := ReadRegister(strings.NewReader("tag;flange;grade;lubricant;target;tool\nE-1;DN400 PN16;8.8;MoS2 paste;95 %;W-11\nE-2;DN400 PN16;8.8;MoS2 paste;45 %;\nE-3;DN400 PN16;8.8;MoS2 paste;45 %;W-11\n"))
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]string{"E-1": "(bolt-yield)", "E-2": "a tool is missing", "E-3": ""}
	Many(rows, nil, into, false, day, func(o Outcome) {
		said := ""
		for _, u := range o.Under {
			if u.Severity == joint.Error {
				said += u.Text + "\n"
			}
		}
		if o.Err != nil || o.Failed != (want[o.Tag] != "") || o.Failed != (said != "") || !strings.Contains(said, want[o.Tag]) {
			t.Errorf("%s: %v, failed %v, said %q", o.Tag, o.Err, o.Failed, said)
		}
	})
}
