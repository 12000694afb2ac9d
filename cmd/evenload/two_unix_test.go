//go:build !windows

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
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

// shut makes a folder in which the program that is run with as cannot write. Where
// root runs the tests, who may write everywhere, the program runs as nobody.
func shut(t *testing.T) (dir string, as func(*exec.Cmd)) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "shut")
	if err := os.Mkdir(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	if os.Geteuid() != 0 {
		return dir, func(*exec.Cmd) {}
	}
	nobody := &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	for _, d := range []string{filepath.Dir(program), filepath.Dir(filepath.Dir(dir))} {
		if err := os.Chmod(d, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	try := exec.Command(program, "--version")
	if try.SysProcAttr = nobody; try.Run() != nil {
		t.Skip("root cannot run the program as nobody here")
	}
	return dir, func(c *exec.Cmd) { c.SysProcAttr = nobody }
}

// TestFolderThatCannotBeWritten: the walk says so before anything is asked twice,
// and nothing is taken for done; a record is not written, and its folder is named.
func TestFolderThatCannotBeWritten(t *testing.T) {
	dir, as := shut(t)
	job, _ := copyJob(t, "pump-house-6in-150.toml")
	text, err := os.ReadFile("../../testdata/cards/DH-220-D1.20261125-aaaaaa.card.jsonl")
	closed := filepath.Join(filepath.Dir(job), "a.card.jsonl")
	if err != nil || os.WriteFile(closed, text, 0o644) != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"walk", "--plain", "--cards", dir, job}, {"record", closed, "-o", filepath.Join(dir, "r.pdf")}, {"sheet", job, "-o", filepath.Join(dir, "s.pdf")}} {
		cmd := exec.Command(program, args...)
		cmd.Stdin = strings.NewReader("Ann\n\n")
		as(cmd)
		out, _ := cmd.CombinedOutput()
		if code := cmd.ProcessState.ExitCode(); code != exitDisk || !strings.Contains(string(out), "let you write in it") {
			t.Errorf("%v: code %d: %s", args, code, out)
		}
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
		t.Errorf("left is %v: %v", left, err)
	}
}
