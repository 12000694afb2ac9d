package main

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/data/report"
	"evenload/sequence"
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
	s, _, err := session(path, walkFlags{})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Write(sequence.Event{At: card.Stamp(time.Now()), By: "Ann", Data: sequence.SignedOn{Name: "Ann"}}); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return path, s.Path()
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

func TestExitCodes(t *testing.T) {
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
