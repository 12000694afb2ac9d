//go:build !windows

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"evenload/data/card"
)

// TestTwoAtOnce: while one program walks a card a second one is refused, and
// record, verify and board read it; a lock that was left behind by a program that
// was killed keeps nobody out.
func TestTwoAtOnce(t *testing.T) {
	path, plan := copyJob(t, "pump-house-6in-150.toml")
	l := lines(t, path)
	l.until(t, plan)
	run := func(args ...string) (string, int) {
		cmd := exec.Command(program, args...)
		cmd.Stdin = strings.NewReader("Bo\n\n")
		out, _ := cmd.CombinedOutput()
		return string(out), cmd.ProcessState.ExitCode()
	}
	cards, _ := card.Find(filepath.Dir(path))
	if len(cards) != 1 {
		t.Fatalf("cards: %v", cards)
	}
	before, err := os.ReadFile(cards[0])
	if err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"walk", "--plain", path}, {"walk", "--plain", cards[0]}} {
		if said, code := run(args...); code == 0 || !strings.Contains(said, "another evenload has this card open") {
			t.Errorf("%v: code %d: %s", args, code, said)
		}
	}
	for _, args := range [][]string{{"record", cards[0]}, {"verify", cards[0]}, {"board", "--plain", filepath.Dir(path)}, {"record", cards[0], "-o", filepath.Join(t.TempDir(), "r.pdf")}} {
		if said, code := run(args...); code != 0 {
			t.Errorf("%v: code %d: %s", args, code, said)
		}
	}
	if after, err := os.ReadFile(cards[0]); err != nil || string(after) != string(before) {
		t.Errorf("looking at a card changed it: %v", err)
	}
	l.cmd.Process.Kill()
	l.cmd.Wait()
	if _, err := os.Stat(cards[0] + ".lock"); err != nil {
		t.Fatalf("the lock's file: %v", err)
	}
	if said, code := run("walk", "--plain", path); code != 0 || !strings.Contains(said, "RECORDED: signed_on") {
		t.Errorf("behind a lock that was left: code %d: %s", code, said)
	}
}

// TestFolderThatCannotBeWritten: the walk says so before anything is asked twice,
// and nothing is taken for done.
func TestFolderThatCannotBeWritten(t *testing.T) {
	path, _ := copyJob(t, "pump-house-6in-150.toml")
	cards := filepath.Join(t.TempDir(), "cards")
	if err := os.Mkdir(cards, 0o555); err != nil {
		t.Fatal(err)
	}
	if f, err := os.Create(filepath.Join(cards, "x")); err == nil {
		f.Close()
		t.Skip("who runs the tests may write everywhere")
	}
	cmd := exec.Command(program, "walk", "--plain", "--cards", cards, path)
	cmd.Stdin = strings.NewReader("Ann\n\n")
	out, _ := cmd.CombinedOutput()
	if code := cmd.ProcessState.ExitCode(); code == 0 || !strings.Contains(string(out), "let you write in it") {
		t.Errorf("code %d: %s", code, out)
	}
}
