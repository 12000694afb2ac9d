package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

// commands are the letters that mean something on other screens.
const commands = "qunpyarwtmb12?jk "

// TestLettersInTextFieldsAreText on every screen with a field.
func TestLettersInTextFieldsAreText(t *testing.T) {
	for _, s := range screens() {
		if s.reach == nil {
			continue
		}
		c := s.reach(t)
		if r := c.root; !r.screen.Typing() || r.help || r.broken != nil {
			continue
		}
		card := c.written()
		c.write(commands + "z")
		frame := c.root.View()
		if c.root.help || c.written() != card || !c.root.screen.Typing() {
			t.Errorf("%s: a letter was a command", s.name)
		}
		if !strings.Contains(frame, commands+"z_") {
			t.Errorf("%s: what is typed does not show:\n%s", s.name, frame)
		}
	}
}

// TestHostileText: control and direction-changing characters never get into a
// field, and a long text keeps its end, where the cursor is, in sight.
func TestHostileText(t *testing.T) {
	c := reach(t, "note")
	c.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("a\x1b[2Jb\u202ec\nd\x07"), Paste: true})
	if frame := c.root.View(); !strings.Contains(frame, "scaffold tag 7a[2Jbcd_") {
		t.Errorf("the screen shows\n%s", frame)
	}
	c.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(strings.Repeat("long ", 20)), Paste: true})
	if frame := c.root.View(); !strings.Contains(frame, "_ ]") || !strings.Contains(frame, "[ ~") {
		t.Errorf("the screen shows\n%s", frame)
	}
}

// TestEscGoesBack to where the text was asked for, with nothing written.
func TestEscGoesBack(t *testing.T) {
	for _, name := range []string{"gate-reason", "gate-release", "gaps-accept", "rest-waive", "release-deciding", "problem-bolt", "problem-stop", "problem-number", "tool-file", "note"} {
		c := reach(t, name)
		if c.press("esc"); c.root.screen.Typing() || c.written() != "" {
			t.Errorf("%s: esc does not go back", name)
		}
	}
}
