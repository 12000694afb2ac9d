//go:build !windows

package tui

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"reflect"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/x/term"
	"github.com/creack/pty"

	"evenload/data/card"
	"evenload/tui/draw"
)

const startIn = "EVENLOAD_TEST_START"

// TestStarting is no test by itself: it is the program of TestStartGivesTerminalBack.
func TestStarting(t *testing.T) {
	how := os.Getenv(startIn)
	if how == "" {
		t.Skip("TestStartGivesTerminalBack runs it")
	}
	theme, err := draw.NewTheme("dark", false, true)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Start(func() (*card.Session, string, error) {
		switch how {
		case "fails":
			return nil, "", errors.New("a fault of the test")
		case "panics":
			panic("a fault of the test")
		}
		select {} // a disk that does not answer
	}, Options{Theme: theme, Now: time.Now})
	fmt.Println("ENDED WITH", s == nil, err)
	os.Exit(7)
}

// TestStartGivesTerminalBack: however the opening of a walk ends, the terminal is as
// it was, and what is wrong is said on it.
func TestStartGivesTerminalBack(t *testing.T) {
	t.Parallel()
	for how, c := range map[string]struct {
		end  func(tty io.Writer, child *os.Process)
		says string
	}{
		"fails":      {nil, "ENDED WITH true a fault of the test"},
		"panics":     {nil, "ENDED WITH true the screen failed"},
		"hung up":    {func(_ io.Writer, child *os.Process) { child.Signal(syscall.SIGHUP) }, "ENDED WITH true <nil>"},
		"terminated": {func(_ io.Writer, child *os.Process) { child.Signal(syscall.SIGTERM) }, "ENDED WITH true <nil>"},
		"ctrl+c":     {func(tty io.Writer, _ *os.Process) { io.WriteString(tty, "q\r \x03") }, "ENDED WITH true <nil>"},
	} {
		t.Run(how, func(t *testing.T) {
			t.Parallel()
			tty, child, err := pty.Open()
			if err != nil {
				t.Skipf("no pseudo-terminal here: %v", err)
			}
			defer tty.Close()
			before, err := term.GetState(child.Fd())
			if err != nil {
				t.Fatal(err)
			}
			cmd := exec.Command(os.Args[0], "-test.run=^TestStarting$")
			cmd.Env = append(os.Environ(), startIn+"="+how, "TERM=xterm-256color", "LANG=C.UTF-8", "CI=")
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
				for ended := c.end == nil; ; {
					n, err := tty.Read(buffer)
					all.Write(buffer[:n])
					if !ended && strings.Contains(all.String(), "\x1b[?2004h") {
						ended = true
						c.end(tty, cmd.Process)
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
			raw := <-said
			_, after, given := strings.Cut(raw, "\x1b[?1049l")
			if !given || !strings.Contains(raw, "\x1b[?2004l") || !strings.Contains(after, "\x1b[?25h") || !strings.Contains(after, c.says) {
				t.Errorf("not given back, or %q is not said then: %q", c.says, raw[max(0, len(raw)-3000):])
			}
		})
	}
}
