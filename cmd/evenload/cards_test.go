package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"syscall"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/data/report"
	"evenload/joint"
	"evenload/sequence"
	"evenload/sequence/practice"
)

// begun puts a job file into a folder, with a card on which somebody signed on.
func begun(t *testing.T) (path, cardPath string) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/jobs/strainer-8in-300.toml")
	if err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(t.TempDir(), "a.toml")
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
	return path, signedOn(t, path).Path()
}

// signedOn is the walk of a job on whose card Ann signed on, closed again.
func signedOn(t *testing.T, job string) *card.Session {
	t.Helper()
	s, _, err := session(job, walkFlags{})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Write(sequence.Event{At: card.Stamp(time.Now()), By: "Ann", Data: sequence.SignedOn{Name: "Ann"}}); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return s
}

func change(t *testing.T, path, old, to string) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil || !bytes.Contains(text, []byte(old)) {
		t.Fatalf("%q is not in %s: %v", old, path, err)
	}
	if err := os.WriteFile(path, bytes.Replace(text, []byte(old), []byte(to), 1), 0o644); err != nil {
		t.Fatal(err)
	}
}

// A job goes on with its open card, and not with one of another plan: that has
// to be named.
func TestOpenCardOfAChangedJob(t *testing.T) {
	path, old := begun(t)
	s, _, err := session(path, walkFlags{})
	if err != nil || s.Path() != old {
		t.Fatalf("the open card is not taken: %v", err)
	}
	s.Close()
	change(t, path, `bolt_stress = "345 MPa"`, `bolt_stress = "250 MPa"`)
	if _, _, err := session(path, walkFlags{}); err == nil || !strings.Contains(err.Error(), "evenload walk "+old) || code(err) != exitInput {
		t.Errorf("a changed job: %v", err)
	}
	if s, _, err = session(old, walkFlags{}); err != nil {
		t.Errorf("the card by its name: %v", err)
	} else {
		s.Close()
	}
}

// A damaged first line is no reason to begin anew.
func TestOpenCardThatIsDamaged(t *testing.T) {
	path, old := begun(t)
	change(t, old, `"format":1`, `"format":2`)
	if _, _, err := session(path, walkFlags{}); err == nil || code(err) != exitInput {
		t.Errorf("a damaged card: %v", err)
	}
}

// A joint that is closed says so before it is begun again.
func TestClosedJoint(t *testing.T) {
	path, old := begun(t)
	j, err := job.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	c, err := card.Read(old)
	if err != nil {
		t.Fatal(err)
	}
	open, closed, err := cardsOf(filepath.Dir(path), j.About.Tag)
	if err != nil || len(open) != 1 || len(closed) != 0 || open[0].Path != c.Path {
		t.Fatalf("open %d, closed %v: %v", len(open), closed, err)
	}
	journal, _, err := card.Open(old)
	if err != nil {
		t.Fatal(err)
	}
	if err := journal.Append(sequence.Event{At: card.Stamp(time.Now()), By: "Ann", Data: sequence.CardClosed{Witness: "Wim", Role: "inspector"}}); err != nil {
		t.Fatal(err)
	}
	journal.Close()
	s, notice, err := session(path, walkFlags{})
	if err != nil || s.Path() != "" || !strings.Contains(notice, filepath.Base(old)) {
		t.Fatalf("notice %q: %v", notice, err)
	}
	defer s.Close()
	if err := s.Write(sequence.Event{At: card.Stamp(time.Now()), By: "Ann", Data: sequence.SignedOn{Name: "Ann"}}); err != nil {
		t.Fatal(err)
	}
	before, _ := card.Read(old)
	next, err := card.Read(s.Path())
	if f := next.Opened().Follows; err != nil || f == nil || !reflect.DeepEqual(*f, sequence.Follows{Card: filepath.Base(old), Seal: before.Seal()}) {
		t.Errorf("the new card follows %+v: %v", f, err)
	}
	if text, ok := report.Verify(s.Path()); !ok || !strings.Contains(text, "follows card "+filepath.Base(old)) {
		t.Errorf("verify says %q", text)
	}
}

// TestPracticeIsNoCard: a card of practice is not gone on with, nor taken for that of
// a joint, under another name too.
func TestPracticeIsNoCard(t *testing.T) {
	path, old := begun(t)
	c, err := card.Read(old)
	if err != nil || os.Remove(old) != nil {
		t.Fatal(err)
	}
	o := c.Opened()
	o.Practice = true
	j, err := card.Create(filepath.Dir(path), o, time.Now(), "Ann")
	if err != nil {
		t.Fatal(err)
	}
	j.Close()
	renamed := strings.Replace(j.Path(), ".practice.", ".card.", 1)
	text, err := os.ReadFile(j.Path())
	if err != nil || os.WriteFile(renamed, text, 0o644) != nil {
		t.Fatal(err)
	}
	for _, p := range []string{j.Path(), renamed} {
		if _, _, err := session(p, walkFlags{}); err == nil || code(err) != exitUsage || !strings.Contains(err.Error(), "evenload practice") {
			t.Errorf("%s: %v", p, err)
		}
	}
	s, notice, err := session(path, walkFlags{})
	if err != nil || s.Path() != "" || notice != "" {
		t.Fatalf("the job goes on with practice, %q: %v", notice, err)
	}
	s.Close()
	all, err := entries(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range all {
		if e.Kind != "job" && e.Kind != "practice" {
			t.Errorf("listed is %s %s", e.Kind, e.Name)
		}
	}
}

// TestListOfAJobWithoutACard: that no card of it is here is said where every card can be
// read. A lock that is left behind is no card.
func TestListOfAJobWithoutACard(t *testing.T) {
	path, old := begun(t)
	dir := filepath.Dir(path)
	says := func(want string, open int) {
		t.Helper()
		all, err := entries(dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range all {
			switch {
			case e.Kind == "job" && e.Text != want:
				t.Errorf("the job says %q, want %q", e.Text, want)
			case e.Kind == "open card" || e.Kind == "card":
				open--
			}
		}
		if open != 0 {
			t.Errorf("%d cards too few", open)
		}
	}
	if err := os.WriteFile(old+".lock", nil, 0o644); err != nil {
		t.Fatal(err)
	}
	says("", 1)
	if err := os.Remove(old); err != nil {
		t.Fatal(err)
	}
	says("no card of it here", 0)
	if err := os.WriteFile(old, []byte("#"), 0o644); err != nil {
		t.Fatal(err)
	}
	says("", 1)
}

// TestPracticeDoesNotRunOut: the papers of the training loop are invented.
func TestPracticeDoesNotRunOut(t *testing.T) {
	jobs, err := job.Practice()
	if err != nil {
		t.Fatal(err)
	}
	later := time.Date(2040, 1, 1, 0, 0, 0, 0, time.UTC)
	for _, l := range practice.Levels {
		if _, findings := jobs[l.Joint].Plan(practiceDay(jobs[l.Joint], l, later)); joint.Failed(findings) {
			t.Errorf("level %d: %v", l.Number, findings)
		}
	}
	if on := practiceDay(jobs[0], practice.OwnJob, later); on != joint.DateOf(later) {
		t.Errorf("a job of the site is judged by %s", on)
	}
}

// TestVerifyGivesPathsAsTheyAre: another program opens a card by the path that it reads.
func TestVerifyGivesPathsAsTheyAre(t *testing.T) {
	path := filepath.Join(t.TempDir(), "B\u202e.card.jsonl")
	if err := os.WriteFile(path, nil, 0o644); err != nil {
		t.Skip(err)
	}
	var out bytes.Buffer
	c := command()
	c.SetOut(&out)
	c.SetArgs([]string{"verify", "--json", path})
	if err := c.Execute(); code(err) != exitInput {
		t.Errorf("%v", err)
	}
	var back report.VerifyJSON
	if err := json.Unmarshal(out.Bytes(), &back); err != nil || back.Cards[0].Path != path || strings.ContainsRune(out.String(), '\u202e') {
		t.Errorf("%v: %s", err, out.String())
	}
}

func TestExitCodes(t *testing.T) {
	if got := code(fmt.Errorf("new card: %w", &os.LinkError{Op: "rename", Err: syscall.ENOSPC})); got != exitDisk {
		t.Errorf("a name that the disk refuses: exit %d", got)
	}
	for args, want := range map[string]int{"nonsense": exitUsage, "plan": exitUsage, "plan --on never x": exitUsage, "plan none.toml": exitInput, "verify none.card.jsonl": exitInput, "--version": exitDone, "walk --units feet x": exitUsage,
		"board . --csv --json": exitUsage, "board . --since 2036-06-02": exitUsage, "sheet x.toml": exitUsage, "chart ../../testdata/jobs/tools/w-11.toml -o none/x.pdf": exitUsage, "board . --plain --tool=": exitUsage, "draft none/x.toml": exitInput, "board none": exitInput} {
		c := command()
		c.SetArgs(strings.Fields(args))
		c.SetOut(&bytes.Buffer{})
		c.SetErr(&bytes.Buffer{})
		if got := code(c.Execute()); got != want {
			t.Errorf("%s: exit %d, want %d", args, got, want)
		}
	}
}

// TestRecordOfAFork: each kind of record is written, and gives the exit code of input
// that is not in order.
func TestRecordOfAFork(t *testing.T) {
	_, path := begun(t)
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	other := filepath.Join(filepath.Dir(path), "other.card.jsonl")
	if err := os.WriteFile(other, text, 0o644); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), "record")
	for _, kind := range []string{".pdf", ".csv", ".json", ".txt"} {
		if err := recordTo(path, output{path: to + kind}, "", false); err != nil {
			t.Errorf("%s of a card with a copy: %v", kind, err)
		}
	}
	for i, one := range []string{path, other} {
		s, err := card.Resume(one, "", "", time.Now())
		if err != nil {
			t.Fatal(err)
		}
		note := sequence.NoteMade{Text: fmt.Sprint("on ", i)}
		if err := errors.Join(s.Write(sequence.Event{At: card.Stamp(time.Now()), By: "Ann", Data: note}), s.Close()); err != nil {
			t.Fatal(err)
		}
	}
	for _, kind := range []string{".pdf", ".csv", ".json", ".txt"} {
		os.Remove(to + kind)
		err := recordTo(path, output{path: to + kind}, "", false)
		if err == nil || code(err) != exitInput || !strings.Contains(err.Error(), "is written, marked FORK: it begins as other.card.jsonl and differs from line ") {
			t.Errorf("%s: %v", kind, err)
		}
		if info, err := os.Stat(to + kind); err != nil || info.Size() == 0 {
			t.Errorf("%s is not written: %v", kind, err)
		}
	}
}
