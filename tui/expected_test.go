package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/sequence"
)

// TestExpectedRounds: the estimate is made beside the screens, in a command, shows
// from then on in check rounds only, and stands nowhere on the card.
func TestExpectedRounds(t *testing.T) {
	const word = "Rounds to expect: 3 to 6"
	c := start(t, twelve).to(isCheck).show()
	asked := 0
	c.root.opt.Rounds = func() sequence.Expected { asked++; return sequence.Expected{Low: 3, High: 6, Looked: 25} }
	batch, ok := c.root.Init()().(tea.BatchMsg)
	if !ok || asked != 0 || len(batch) != 2 {
		t.Fatalf("the estimate is no command: %T, asked %d times", batch, asked)
	}
	if strings.Contains(c.root.View(), word) {
		t.Error("an estimate that nobody made is shown")
	}
	c.send(batch[1]())
	if asked != 1 || !strings.Contains(c.root.View(), word) {
		t.Errorf("asked %d times; the screen shows\n%s", asked, c.root.View())
	}
	for _, name := range []string{"check-expected"} {
		c := reach(t, name)
		for _, size := range [][2]int{{80, 24}, {120, 40}} {
			c.send(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
			if !strings.Contains(c.root.View(), word) {
				t.Errorf("%dx%d does not show it:\n%s", size[0], size[1], c.root.View())
			}
		}
	}
	c = start(t, twelve).to(bolt(6, 2)).show()
	c.send(sequence.Expected{Low: 3, High: 6, Looked: 25})
	if strings.Contains(c.root.View(), word) {
		t.Error("a pass shows the rounds to expect")
	}
}
