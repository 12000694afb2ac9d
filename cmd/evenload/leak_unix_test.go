//go:build !windows

package main

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/sequence"
)

// said is what a command prints, with single blanks between words.
func said(t *testing.T, args ...string) string {
	t.Helper()
	out, err := exec.Command(program, args...).CombinedOutput()
	if err != nil {
		t.Errorf("%v: %v", args, err)
	}
	return strings.Join(strings.Fields(string(out)), " ")
}

func has(t *testing.T, what, text string, wants ...string) {
	t.Helper()
	for _, want := range wants {
		if !strings.Contains(text, want) {
			t.Errorf("%s does not say %q:\n%s", what, want, text)
		}
	}
}

// TestLeakAndTheCardAfter types a leak, closes that card, and walks the joint
// again on a card that follows it.
func TestLeakAndTheCardAfter(t *testing.T) {
	t.Parallel()
	e := event{at: stepIs[sequence.LeakTest], job: with("procedure", "leak_test = true")}
	jobPath, first := e.prepare(t)
	w := &walker{open(t, "walk", "--key-rest", "1ms", "--ascii", first), first, "Ann"}
	w.wait("Who works")
	w.on(e.at)
	_, n := w.now()
	w.send("2")
	w.wait("IT LEAKED")
	w.wait("pressure taken off")
	w.types([]string{"3, 4\r", "drips\r"}, n)
	w.follow()
	w.wait("begins a new one")
	w.send("q")
	if err := w.cmd.Wait(); err != nil {
		t.Errorf("the walk ended with %v", err)
	}
	has(t, "the list", listed(t, filepath.Dir(jobPath)), "joint.toml LEAKED beside bolt 3, 4, "+filepath.Base(first))

	w = &walker{open(t, "walk", "--key-rest", "1ms", "--ascii", jobPath), "", "Ann"}
	w.wait("LEAKED beside bolt 3, 4")
	w.send("Ann\r")
	w.send("\r")
	for range 300 {
		found, _ := card.Find(filepath.Dir(jobPath))
		for _, path := range found {
			if path != first {
				w.card = path
			}
		}
		if w.card != "" {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	if w.card == "" {
		t.Fatal("no second card was begun")
	}
	has(t, "the list", listed(t, filepath.Dir(jobPath)), "open card", "follows "+filepath.Base(first))
	w.wait("Why") // the first question
	if walk := w.follow(); !walk.IsClosed() || walk.Leak() != sequence.Tight {
		t.Fatalf("the second card is closed %t, %s", walk.IsClosed(), walk.Leak())
	}
	w.send("q")
	if err := w.cmd.Wait(); err != nil {
		t.Errorf("the walk ended with %v", err)
	}
	before, err := card.Read(first)
	if err != nil {
		t.Fatal(err)
	}
	link := "card " + filepath.Base(first) + ", seal " + before.Seal() + ", which LEAKED beside bolt 3, 4"
	has(t, "verify", said(t, "verify", w.card), "WHOLE", "follows "+link+", which is beside it, unchanged")
	has(t, "the record of the leak", said(t, "record", first), "LEAKED at its leak test: the next card of this joint follows this one", "leak test: leaked, beside bolt 3, 4, drips")
	has(t, "the record after the leak", said(t, "record", w.card), "follows "+link, "yes: It leaked beside bolt 3, 4. Is the cause found", "leak test: tight")
	if text := listed(t, filepath.Dir(jobPath)); strings.Contains(text, "LEAKED") {
		t.Errorf("the list still has the leak: %s", text)
	}
}

// listed is the list of a folder as lines.
func listed(t *testing.T, dir string) string {
	t.Helper()
	c := exec.Command(program)
	c.Dir = dir
	c.Env = append(c.Environ(), "TERM=dumb")
	out, err := c.CombinedOutput()
	if err != nil {
		t.Errorf("the list: %v", err)
	}
	return strings.Join(strings.Fields(string(out)), " ")
}
