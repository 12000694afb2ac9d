//go:build !windows

package tui

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"syscall"
	"testing"
	"time"

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
			raw := onTerminal(t, "TestStarting", []string{startIn + "=" + how}, "\x1b[?2004h", c.end)
			_, after, given := strings.Cut(raw, "\x1b[?1049l")
			if !given || !strings.Contains(raw, "\x1b[?2004l") || !strings.Contains(after, "\x1b[?25h") || !strings.Contains(after, c.says) {
				t.Errorf("not given back, or %q is not said then: %q", c.says, raw[max(0, len(raw)-3000):])
			}
		})
	}
}
