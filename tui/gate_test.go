package tui

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/sequence"
)

// refused sends a key that must be neither written nor answered to.
func refused(t *testing.T, c *trial, what string, k tea.KeyMsg) {
	t.Helper()
	before := c.root.step
	if cmd := c.send(k); cmd != nil || c.root.writing || sequence.Title(c.root.step) != sequence.Title(before) {
		t.Errorf("%s was taken", what)
	}
	if c.root.notice == "" {
		t.Errorf("%s was refused without a word", what)
	}
}

// TestPasteAndDoubleKeysAnswerNothing on any screen without a text field.
func TestPasteAndDoubleKeysAnswerNothing(t *testing.T) {
	for _, name := range []string{"gate", "gate-may-not", "resume", "closing", "snug", "bolt-12-middle", "check", "release-bolt", "rest-over"} {
		for _, text := range []string{"y", " ", "m", "t"} {
			c := reach(t, name)
			refused(t, c, name+": a paste of "+text, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true})
			refused(t, c, name+": a double "+text, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text + text)})
		}
	}
}

// TestTagIsTyped: a pasted tag proves nothing, another one is a no and stays on the
// card.
func TestTagIsTyped(t *testing.T) {
	c := reach(t, "gate-tag")
	refused(t, c, "a pasted tag", tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("F03"), Paste: true})
	c.write("F04")
	if c.press("enter"); c.root.notice != sequence.OtherTag || c.written() != "answered" {
		t.Errorf("another tag: %q", c.root.notice)
	}
	if a, ok := c.root.step.(sequence.Ask); !ok || !a.SaidNo || a.Question.Typed == "" {
		t.Fatalf("after another tag comes %#v", c.root.step)
	}
	c.write("F03")
	if c.press("enter"); c.written() != "answered" {
		t.Errorf("the tag: %q", c.root.notice)
	}
}

// TestEarlyKeysAnswerNothing: a question takes no key before it was on screen
// for gateRest, a typed one no more than one with keys.
func TestEarlyKeysAnswerNothing(t *testing.T) {
	for _, name := range []string{"y", "n"} {
		c := reach(t, "gate")
		c.root.show()
		c.now = c.now.Add(gateRest - time.Millisecond)
		refused(t, c, "an early "+name, key(name))
		c.now = c.now.Add(gateRest - time.Millisecond)
		refused(t, c, "an ignored key starts the rest again, so this "+name, key(name))
		c.now = c.now.Add(gateRest)
		if c.settle(c.send(key(name))); c.written() != "answered" {
			t.Errorf("%s after the rest: %q", name, c.root.notice)
		}
		// The next question has to stand as long again.
		refused(t, c, "a "+name+" typed ahead", key(name))
	}
	c := reach(t, "gate-tag")
	c.root.show()
	for _, name := range []string{"F", "0", "3"} {
		c.send(key(name))
	}
	refused(t, c, "an early tag", key("enter"))
}

// TestHeldYesAnswersOneQuestion: a held y passes no gate.
func TestHeldYesAnswersOneQuestion(t *testing.T) {
	c := reach(t, "gate")
	c.now = c.now.Add(time.Minute)
	c.settle(c.send(key("y")))
	for range 300 {
		c.now = c.now.Add(33 * time.Millisecond)
		refused(t, c, "a held y", key("y"))
	}
}

// TestHeldUndoTakesBackOneBolt.
func TestHeldUndoTakesBackOneBolt(t *testing.T) {
	c := reach(t, "bolt-12-middle")
	c.press("u")
	for range 100 {
		c.now = c.now.Add(33 * time.Millisecond)
		refused(t, c, "a held u", key("u"))
	}
}

// TestHeldKeyMarksOneBolt: a held key repeats some thirty times a second. It
// marks one bolt, however long it is held, and after it only a key that comes
// 1.2 s behind the last marks the next.
func TestHeldKeyMarksOneBolt(t *testing.T) {
	for _, name := range []string{"bolt-12-middle", "check"} {
		c := reach(t, name)
		c.press(" ")
		marked := len(c.s.Walk.Last(100))
		for range 300 {
			c.now = c.now.Add(33 * time.Millisecond)
			refused(t, c, name+": a held key", key(" "))
		}
		c.now = c.now.Add(c.root.opt.KeyRest - time.Millisecond)
		refused(t, c, name+": a key too early", key(" "))
		c.now = c.now.Add(c.root.opt.KeyRest - time.Millisecond)
		refused(t, c, name+": an ignored key starts the rest again, so this", key(" "))
		c.now = c.now.Add(c.root.opt.KeyRest)
		c.settle(c.send(key(" ")))
		if got := len(c.s.Walk.Last(100)); got != marked+1 {
			t.Errorf("%s: %d bolts marked, want %d", name, got, marked+1)
		}
	}
}

// TestNoKeyCountsInATooSmallWindow but leaving.
func TestNoKeyCountsInATooSmallWindow(t *testing.T) {
	c := reach(t, "bolt-12-middle")
	c.send(tea.WindowSizeMsg{Width: 39, Height: 24})
	if c.press(" "); c.written() != "" {
		t.Error("a bolt was marked on a screen that does not show it")
	}
	if end := c.press("q"); end != tea.Quit() {
		t.Errorf("q ends in %T", end)
	}
}
