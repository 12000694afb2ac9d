//go:build !windows

package main

import (
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/x/term"
	"github.com/creack/pty"

	"evenload/data/card"
)

// openOn opens the program on a pseudo-terminal of a size, with an
// environment beside the usual one.
func openOn(t *testing.T, rows, cols uint16, env []string, args ...string) *screen {
	t.Helper()
	cmd := exec.Command(program, args...)
	cmd.Env = append(append(os.Environ(), "NO_COLOR=", "CLICOLOR=", "COLORTERM=", "LC_ALL=", "LC_CTYPE=", "CI="), env...)
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: rows, Cols: cols})
	if err != nil {
		t.Skipf("no pseudo-terminal here: %v", err)
	}
	p := &screen{t: t, tty: tty, cmd: cmd}
	go p.read()
	t.Cleanup(func() { cmd.Process.Kill(); cmd.Wait(); tty.Close() })
	return p
}

// written is all that came so far, as it came.
func (p *screen) written() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.raw
}

// ends waits for the program's own end.
func (p *screen) ends(within time.Duration) error {
	p.t.Helper()
	ended := make(chan error, 1)
	go func() { ended <- p.cmd.Wait() }()
	select {
	case err := <-ended:
		return err
	case <-time.After(within):
		p.t.Fatal("the program goes on")
		return nil
	}
}

// givenBack leaves the screen of the program.
const givenBack = "\x1b[?1049l"

var (
	colour    = regexp.MustCompile(`\x1b\[[0-9;]*\b(3[0-7]|4[0-7]|9[0-7]|10[0-7])(;[0-9;]*)?m`)
	manyShade = regexp.MustCompile(`\x1b\[[0-9;]*[34]8;[25];`)
)

// untouched is how a terminal is before anybody changed it: a program may be faster
// than a look at its own.
func untouched(t *testing.T) *term.State {
	t.Helper()
	tty, other, err := pty.Open()
	if err != nil {
		t.Skipf("no pseudo-terminal here: %v", err)
	}
	defer other.Close()
	defer tty.Close()
	state, err := term.GetState(tty.Fd())
	if err != nil {
		t.Fatal(err)
	}
	return state
}

// TestTerminals: what each kind of terminal is sent is what it understands, and
// it is given back as it was.
func TestTerminals(t *testing.T) {
	t.Parallel()
	fresh := untouched(t)
	for _, c := range []struct {
		env            []string
		lines          bool // no screens
		colours, ascii bool
	}{
		{[]string{"TERM=xterm-256color", "LANG=C.UTF-8"}, false, true, false},
		{[]string{"TERM=xterm", "LANG=de_DE.UTF-8"}, false, true, false},
		{[]string{"TERM=linux", "LANG=C.UTF-8"}, false, true, false},
		{[]string{"TERM=screen", "LANG=C.UTF-8"}, false, true, false},
		{[]string{"TERM=tmux-256color", "LANG=C.UTF-8"}, false, true, false},
		{[]string{"TERM=vt100", "LANG=C.UTF-8"}, false, false, false},
		{[]string{"TERM=xterm-256color", "LANG=C.UTF-8", "NO_COLOR=1"}, false, false, false},
		{[]string{"TERM=xterm-256color", "LANG=C"}, false, true, true},
		{[]string{"TERM=vt100", "LANG=POSIX"}, false, false, true},
		{[]string{"TERM=dumb", "LANG=C.UTF-8"}, true, false, false},
		{[]string{"TERM=", "LANG=C.UTF-8"}, true, false, false},
	} {
		t.Run(strings.Join(c.env, " "), func(t *testing.T) {
			t.Parallel()
			path, _ := copyJob(t, "pump-house-6in-150.toml")
			p := openOn(t, 24, 80, c.env, "walk", path)
			if c.lines {
				p.wait("KEYS: q leaves")
				p.send("q\n")
			} else {
				p.wait("Who works")
				p.send("Ann\r")
				p.send("\r")
				p.wait("GATE   1 of 18")
				time.Sleep(100 * time.Millisecond)
				p.send("\x03")
			}
			if err := p.ends(10 * time.Second); err != nil {
				t.Errorf("it ended with %v", err)
			}
			raw := p.written()
			for n := 0; n < 200 && !c.lines && !strings.Contains(raw, givenBack); n++ {
				time.Sleep(10 * time.Millisecond) // the end of the program may be seen before its last bytes
				raw = p.written()
			}
			switch {
			case manyShade.MatchString(raw):
				t.Error("more than the sixteen colours are sent")
			case colour.MatchString(raw) != c.colours:
				t.Errorf("colours are sent: %v", !c.colours)
			case c.lines && strings.Contains(raw, "\x1b"):
				t.Errorf("a terminal without a cursor is sent %q", raw)
			}
			if i := strings.IndexFunc(raw, func(r rune) bool { return r > '~' }); c.ascii && i >= 0 {
				t.Errorf("beyond ASCII is sent %q", raw[i:min(len(raw), i+20)])
			}
			if after, err := term.GetState(p.tty.Fd()); err != nil || !reflect.DeepEqual(fresh, after) {
				t.Errorf("the terminal is not as it was: %v", err)
			}
			if !c.lines && !strings.Contains(raw, givenBack) {
				t.Error("the screen is not given back")
			}
		})
	}
}

// TestSmallAndChangingWindow: 40x10, sizes that change all the time, and one of a
// single cell; the program goes on and the walk with it.
func TestSmallAndChangingWindow(t *testing.T) {
	t.Parallel()
	path, _ := copyJob(t, "pump-house-6in-150.toml")
	p := openOn(t, 10, 40, []string{"TERM=xterm-256color", "LANG=C.UTF-8"}, "walk", path)
	p.wait("Name")
	for i := range 300 {
		if err := pty.Setsize(p.tty, &pty.Winsize{Rows: uint16(1 + i*7%60), Cols: uint16(1 + i*13%200)}); err != nil {
			t.Fatal(err)
		}
	}
	if err := pty.Setsize(p.tty, &pty.Winsize{Rows: 24, Cols: 80}); err != nil {
		t.Fatal(err)
	}
	p.send("Ann\r")
	p.send("\r")
	p.wait("GATE   1 of 18")
	p.send("\x03")
	if err := p.ends(10 * time.Second); err != nil {
		t.Errorf("it ended with %v", err)
	}
}

// TestPastes: some hundred kilobytes pasted at the gate, and a paste that never ends, answer
// nothing and hold nothing up: a signal still ends the program.
func TestPastes(t *testing.T) {
	t.Parallel()
	for name, paste := range map[string]string{"whole": "\x1b[200~" + strings.Repeat("y \r", 100_000) + "\x1b[201~", "without end": "\x1b[200~" + strings.Repeat("y ", 100_000)} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			path, _ := copyJob(t, "pump-house-6in-150.toml")
			p := openOn(t, 24, 80, []string{"TERM=xterm-256color", "LANG=C.UTF-8"}, "walk", path)
			p.wait("Who works")
			p.send("Ann\r")
			p.send("\r")
			p.wait("GATE   1 of 18")
			time.Sleep(400 * time.Millisecond)
			p.send("F11\r")
			p.wait("GATE   2 of 18")
			time.Sleep(400 * time.Millisecond)
			sent := make(chan struct{})
			go func() { io.WriteString(p.tty, paste); close(sent) }()
			select {
			case <-sent:
			case <-time.After(time.Minute):
				t.Fatal("the paste is not read")
			}
			if err := p.cmd.Process.Signal(syscall.SIGTERM); err != nil {
				t.Fatal(err)
			}
			if err := p.ends(20 * time.Second); err != nil {
				t.Errorf("it ended with %v", err)
			}
			cards, _ := card.Find(filepath.Dir(path))
			if len(cards) != 1 {
				t.Fatalf("cards: %v", cards)
			}
			c, err := card.Read(cards[0])
			if err != nil || c.Torn != nil {
				t.Fatalf("torn %v, %v", c.Torn, err)
			}
			answers := 0
			for _, e := range c.Entries {
				if e.Event.Data.Kind() == "answered" {
					answers++
				}
			}
			if answers != 1 {
				t.Errorf("%d questions are answered, one was typed", answers)
			}
		})
	}
}

// TestSuspended: the key that puts a program into the background gives the
// terminal back, and coming back draws the screen again.
func TestSuspended(t *testing.T) {
	t.Parallel()
	shell, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("no shell that has jobs")
	}
	path, _ := copyJob(t, "pump-house-6in-150.toml")
	cmd := exec.Command(shell, "-c", `set -m; "$1" walk "$2"; echo "IN THE SHELL"; sleep 0.5; fg`, "bash", program, path)
	cmd.Env = append(os.Environ(), "TERM=xterm-256color", "LANG=C.UTF-8", "NO_COLOR=")
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		t.Skipf("no pseudo-terminal here: %v", err)
	}
	p := &screen{t: t, tty: tty, cmd: cmd}
	go p.read()
	t.Cleanup(func() { cmd.Process.Kill(); cmd.Wait(); tty.Close() })
	p.wait("Who works")
	p.send("\x1a")
	p.wait("IN THE SHELL")
	if !strings.Contains(p.written(), givenBack) {
		t.Error("the screen is not given back")
	}
	p.wait("Who works")
	p.send("Ann\r")
	p.send("\r")
	p.wait("GATE   1 of 18")
	p.send("\x03")
	if err := p.ends(10 * time.Second); err != nil {
		t.Errorf("it ended with %v", err)
	}
}
