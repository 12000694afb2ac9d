//go:build !windows

package tui

import (
	"errors"
	"io"
	"os"
	"os/exec"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/term"
	"github.com/creack/pty"
)

// onTerminal runs a test of this package as a program on a pseudo-terminal, does
// something once a text is written there, and gives all that was written. The program
// ends with exit code 7, and leaves the terminal as it was.
func onTerminal(t *testing.T, program string, env []string, when string, do func(tty io.Writer, child *os.Process)) string {
	t.Helper()
	tty, child, err := pty.Open()
	if err != nil {
		t.Skipf("no pseudo-terminal here: %v", err)
	}
	defer tty.Close()
	if err := pty.Setsize(tty, &pty.Winsize{Rows: 24, Cols: 80}); err != nil {
		t.Fatal(err)
	}
	before, err := term.GetState(child.Fd())
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(os.Args[0], "-test.run=^"+program+"$")
	cmd.Env = append(append(os.Environ(), "TERM=xterm-256color", "LANG=C.UTF-8", "CI="), env...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = child, child, child
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	kill := time.AfterFunc(20*time.Second, func() { cmd.Process.Kill() })
	defer kill.Stop()
	said := make(chan string, 1)
	go func() {
		var all strings.Builder
		buffer := make([]byte, 1<<16)
		for done := do == nil; ; {
			n, err := tty.Read(buffer)
			all.Write(buffer[:n])
			if !done && strings.Contains(all.String(), when) {
				done = true
				do(tty, cmd.Process)
			}
			if err != nil {
				said <- all.String()
				return
			}
		}
	}()
	var ended *exec.ExitError
	if err := cmd.Wait(); !errors.As(err, &ended) || ended.ExitCode() != 7 {
		t.Errorf("it ended with %v", err)
	}
	if after, err := term.GetState(child.Fd()); err != nil || !reflect.DeepEqual(before, after) {
		t.Errorf("the terminal is not as it was: %v", err)
	}
	child.Close()
	return <-said
}
