package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

// TestWhatDoesNotFitIsMoved: every line of a screen can be reached in the smallest window,
// and what is typed keeps its place.
func TestWhatDoesNotFitIsMoved(t *testing.T) {
	c := reach(t, "problem")
	c.send(tea.WindowSizeMsg{Width: 40, Height: 10})
	top := c.root.View()
	seen := top
	for range 20 {
		c.send(tea.KeyMsg{Type: tea.KeyPgDown})
		seen += c.root.View()
	}
	bottom := c.root.View()
	for _, want := range []string{"3   seized", "e   other", "f   unfit", "p   pressure", "more above: PgUp"} {
		if !strings.Contains(seen, want) {
			t.Errorf("%q is never seen", want)
		}
	}
	if strings.Contains(bottom, "more below") || !strings.Contains(bottom, "p   pressure") {
		t.Errorf("the end is\n%s", bottom)
	}
	for range 20 {
		c.send(tea.KeyMsg{Type: tea.KeyPgUp})
	}
	if got := c.root.View(); got != top {
		t.Errorf("the beginning is\n%s", got)
	}
	c.send(tea.KeyMsg{Type: tea.KeyPgDown})
	c.press("z")
	if got := c.root.View(); strings.Contains(got, "more above") {
		t.Errorf("after another key\n%s", got)
	}

	c = reach(t, "problem-other")
	c.send(tea.WindowSizeMsg{Width: 40, Height: 10})
	c.send(tea.KeyMsg{Type: tea.KeyPgDown})
	moved := c.root.View()
	if c.press("x"); !strings.Contains(moved, "more above") || !strings.Contains(c.root.View(), "a bangx") || strings.ReplaceAll(c.root.View(), "bangx_ ", "bang_  ") != moved {
		t.Errorf("typing moves the text from\n%s\nto\n%s", moved, c.root.View())
	}
	c = reach(t, "help-problem")
	c.send(tea.WindowSizeMsg{Width: 60, Height: 12})
	if c.send(tea.KeyMsg{Type: tea.KeyPgDown}); !c.root.help {
		t.Error("help is left by a key that moves it")
	}
}
