//go:build !windows

package main

import (
	"path/filepath"
	"reflect"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/x/term"

	"evenload/data/card"
)

// TestSignalsLeaveCardAndTerminalWhole: a window that is closed, and a machine
// that shuts down, leave a card that ends with leaving the walk, and a terminal
// as it was.
func TestSignalsLeaveCardAndTerminalWhole(t *testing.T) {
	for _, signal := range []syscall.Signal{syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT} {
		path, plan := copyJob(t, "pump-house-6in-150.toml")
		l := lines(t, path)
		l.until(t, plan)
		l.cmd.Process.Kill()
		l.cmd.Wait()
		p := open(t, "walk", path)
		before, err := term.GetState(p.tty.Fd())
		if err != nil {
			t.Fatal(err)
		}
		p.wait("Who works now")
		during, err := term.GetState(p.tty.Fd())
		if err != nil {
			t.Fatal(err)
		}
		p.send("Ann\r")
		p.send("\r")
		p.wait("0 of 8 done")
		if err := p.cmd.Process.Signal(signal); err != nil {
			t.Fatal(err)
		}
		ended := make(chan error, 1)
		go func() { ended <- p.cmd.Wait() }()
		select {
		case err := <-ended:
			if err != nil {
				t.Errorf("%s: the program ended with %v", signal, err)
			}
		case <-time.After(10 * time.Second):
			t.Fatalf("%s: the program goes on", signal)
		}
		p.wait("goes on with: evenload walk")
		after, err := term.GetState(p.tty.Fd())
		if err != nil || reflect.DeepEqual(during, after) {
			t.Errorf("%s: the terminal is left raw: %v", signal, err)
		}
		// The program may have been faster than the first look.
		if !reflect.DeepEqual(before, during) && !reflect.DeepEqual(before, after) {
			t.Errorf("%s: the terminal is not as it was", signal)
		}
		p.mu.Lock()
		raw := p.raw
		p.mu.Unlock()
		if !strings.Contains(raw, "\x1b[?1049l") || !strings.Contains(raw, "\x1b[?25h") {
			t.Errorf("%s: the screen or its cursor is not given back", signal)
		}
		cards, _ := card.Find(filepath.Dir(path))
		c, err := card.Read(cards[0])
		if err != nil || c.Torn != nil {
			t.Fatalf("%s: the card is torn at %v: %v", signal, c.Torn, err)
		}
		if last := c.Entries[len(c.Entries)-1].Event.Data.Kind(); last != "suspended" {
			t.Errorf("%s: the card ends with %q", signal, last)
		}
	}
}

// TestSignalsAtTheDesk: the list, the board and the form give the terminal back too.
func TestSignalsAtTheDesk(t *testing.T) {
	t.Parallel()
	path, _ := copyJob(t, "pump-house-6in-150.toml")
	dir := filepath.Dir(path)
	for name, c := range map[string]struct {
		args []string
		text string
	}{
		"list": {nil, "level 1"}, "board": {[]string{"board", dir}, "DH-104-F11"}, "draft": {[]string{"draft", filepath.Join(dir, "new.toml")}, "tag"},
	} {
		for _, signal := range []syscall.Signal{syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT} {
			t.Run(name+" "+signal.String(), func(t *testing.T) {
				t.Parallel()
				p := openOn(t, 24, 80, []string{"TERM=xterm-256color", "LANG=C.UTF-8", "XDG_CACHE_HOME=" + t.TempDir()}, c.args...)
				p.wait(c.text)
				if err := p.cmd.Process.Signal(signal); err != nil {
					t.Fatal(err)
				}
				if err := p.ends(10 * time.Second); err != nil {
					t.Errorf("it ended with %v", err)
				}
				for n := 0; n < 200 && !strings.Contains(p.written(), givenBack); n++ {
					time.Sleep(10 * time.Millisecond)
				}
				if raw := p.written(); !strings.Contains(raw, givenBack) || !strings.Contains(raw, "\x1b[?25h") {
					t.Error("the screen or its cursor is not given back")
				}
				if after, err := term.GetState(p.tty.Fd()); err != nil || !reflect.DeepEqual(untouched(t), after) {
					t.Errorf("the terminal is not as it was: %v", err)
				}
			})
		}
	}
}
