package tui

import (
	"errors"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/sequence"
	"evenload/tui/window"
)

// TestWritingIgnoresKeys: until the disk has answered, no key does anything,
// and the screen shows neither the next bolt nor this one as done.
func TestWritingIgnoresKeys(t *testing.T) {
	c := reach(t, "bolt-12-middle")
	at := c.root.step.(sequence.Tighten).Bolts[0]
	cmd := c.send(key(" "))
	before := c.root.View()
	if !strings.Contains(before, "writing") {
		t.Error("the screen does not say that it writes")
	}
	for _, name := range everyKey() {
		c.now = c.now.Add(2 * time.Second)
		if more := c.send(key(name)); more != nil || c.root.View() != before {
			t.Errorf("%q did something", name)
		}
	}
	if now := c.root.step.(sequence.Tighten).Bolts[0]; now != at || c.s.Walk.MarkOf(at) != sequence.MarkOpen {
		t.Error("the bolt counts before it is on the disk")
	}
	c.settle(cmd)
	if c.s.Walk.MarkOf(at) != sequence.MarkDone || c.root.step.(sequence.Tighten).Bolts[0] == at || c.written() != "done" {
		t.Error("the bolt does not count when it is on the disk")
	}
}

// TestHangUpWhileWriting leaves when the write is through.
func TestHangUpWhileWriting(t *testing.T) {
	c := reach(t, "bolt-12-middle")
	cmd := c.send(key(" "))
	if c.send(window.HangUp{}) != nil {
		t.Error("left before the disk answered")
	}
	if end := c.settle(cmd); end != tea.Quit() || c.written() != "done" {
		t.Errorf("ends in %T, wrote %q", end, c.written())
	}
}

// TestDiskRefuses: the bolt is not done, the screen says so, and from then on
// only leaving works; nothing more is written.
func TestDiskRefuses(t *testing.T) {
	c := reach(t, "bolt-12-middle")
	c.press("n") // a note makes the card
	c.write("dry run")
	c.press("enter")
	if c.written() != "note" {
		t.Fatalf("no card: %q", c.root.notice)
	}
	if err := c.s.Close(); err != nil { // what is written now fails
		t.Fatal(err)
	}
	at := c.root.step.(sequence.Tighten).Bolts[0]
	c.press(" ")
	refuses := func() {
		t.Helper()
		frame := c.root.View()
		if !strings.Contains(frame, "NOT RECORDED, so not done") || strings.Contains(frame, "SPACE") {
			t.Errorf("the screen shows\n%s", frame)
		}
		if c.s.Walk.MarkOf(at) != sequence.MarkOpen || c.root.step.(sequence.Tighten).Bolts[0] != at {
			t.Error("the bolt counts, though the disk refused it")
		}
	}
	refuses()
	for _, name := range []string{" ", "u", "p", "n", "?"} {
		c.press(name)
		refuses()
	}
	if end := c.press("q"); end != tea.Quit() || c.written() != "note" {
		t.Errorf("ends in %T, last on the card is %q", end, c.written())
	}
	if c.root.broken == nil {
		t.Error("the program would end as if all were well")
	}
}

// TestFirstEventRefused: a folder that is gone.
func TestFirstEventRefused(t *testing.T) {
	c := reach(t, "writing") // its write is under way
	c.send(recorded{walk: c.s.Walk, err: errors.New("no such folder")})
	if frame := c.root.View(); !strings.Contains(frame, "NOT RECORDED, so not done: no such folder") || c.root.writing {
		t.Errorf("the screen shows\n%s", frame)
	}
}

// TestApplyRefuses: what the walk refuses is said, is not written, and what was
// typed stays.
func TestApplyRefuses(t *testing.T) {
	for _, s := range []struct{ screen, says, keeps string }{
		{"set-out-of-band", "NOT TAKEN: 3.9 bar is above the band", "3.9"},
		{"set-wrong-unit", "was psi read for bar?", "46"},
		{"set-static-low", "the reading at rest is not above the running one", "3.4"},
	} {
		c := reach(t, s.screen)
		frame := c.root.View()
		if !strings.Contains(frame, s.says) || !strings.Contains(frame, s.keeps) || c.written() != "" {
			t.Errorf("%s shows\n%s", s.screen, frame)
		}
	}
	c := reach(t, "release-deciding")
	c.press("up", "up")
	for range len("Eva Lind") {
		c.press("backspace")
	}
	c.write("ann berg") // the operator
	if c.press("enter", "enter", "enter"); !strings.Contains(c.root.notice, "other than the operator") || c.written() != "" {
		t.Errorf("the operator releases: %q", c.root.notice)
	}
	// A reading at rest that was looked at again is taken by a second Enter.
	c = reach(t, "set-static-low")
	if c.press("enter"); c.written() != "set" {
		t.Errorf("Enter once more: %q", c.root.notice)
	}
}
