//go:build !windows

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/term"

	"evenload/data/card"
)

// TestRefusedOnTheTerminal: what keeps a walk from being opened is found when the
// terminal is taken already, and is said to the last line when it is given back, with
// the words and the exit code that the walk has as lines.
func TestRefusedOnTheTerminal(t *testing.T) {
	t.Parallel()
	with := func(old, new string) string {
		path, _ := copyJob(t, "pump-house-6in-150.toml")
		text, err := os.ReadFile(path)
		if err != nil || !strings.Contains(string(text), old) {
			t.Fatalf("%s: %v", old, err)
		}
		if err := os.WriteFile(path, []byte(strings.ReplaceAll(string(text), old, new)), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	two, _ := copyJob(t, "pump-house-6in-150.toml")
	begun := exec.Command(program, "walk", "--plain", two)
	begun.Stdin = strings.NewReader("Ann\n\n")
	if out, err := begun.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	cards, _ := card.Find(filepath.Dir(two))
	if len(cards) != 1 {
		t.Fatalf("cards: %v", cards)
	}
	text, err := os.ReadFile(cards[0])
	other := filepath.Join(filepath.Dir(two), "DH-104-F11.20361125-aaaaaa.card.jsonl")
	if err != nil || os.WriteFile(other, text, 0o644) != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		path string
		code int
		says []string
	}{
		"findings":       {with(`"50 ksi"`, `"120 ksi"`), exitInput, []string{"(above-chart)", "(bolt-yield)"}},
		"faults":         {with(`"50 ksi"`, `"50 kss"`), exitInput, []string{"evenload: ", `unknown unit "kss"`}},
		"no job":         {filepath.Join(t.TempDir(), "none.toml"), exitInput, []string{"evenload: job file: "}},
		"two open cards": {two, exitUsage, []string{"  evenload walk " + cards[0], "  evenload walk " + other, "evenload: DH-104-F11 has 2 open cards"}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			lines := exec.Command(program, "walk", "--plain", c.path)
			said, _ := lines.CombinedOutput()
			if code := lines.ProcessState.ExitCode(); code != c.code {
				t.Errorf("as lines: code %d, want %d", code, c.code)
			}
			for _, want := range c.says {
				if !strings.Contains(string(said), want) {
					t.Errorf("%q is not in %s", want, said)
				}
			}
			p := open(t, "walk", c.path)
			p.ends(10 * time.Second)
			if code := p.cmd.ProcessState.ExitCode(); code != c.code {
				t.Errorf("on the terminal: code %d, want %d", code, c.code)
			}
			want := strings.ReplaceAll(string(said), "\n", "\r\n")
			for n := 0; n < 200 && !strings.HasSuffix(p.written(), want); n++ {
				time.Sleep(10 * time.Millisecond)
			}
			before, after, given := strings.Cut(p.written(), givenBack)
			if _, after, _ = strings.Cut(after, "\x1b[?25h"); !given || after != want {
				t.Errorf("the terminal that was given back is sent %q, want %q", after, want)
			}
			if strings.Contains(before, "evenload") {
				t.Errorf("it was said on the screen that went away: %q", before)
			}
			if state, err := term.GetState(p.tty.Fd()); err != nil || !reflect.DeepEqual(untouched(t), state) {
				t.Errorf("the terminal is not as it was: %v", err)
			}
		})
	}
}
