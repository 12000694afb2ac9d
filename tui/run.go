package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/card"
	"evenload/tui/window"
)

// Walk shows the walk on the terminal until the operator leaves.
func Walk(s *card.Session, opt Options) error {
	r := newRoot(s, opt)
	r.suspends = window.CanSuspend()
	if err := show(r); err != nil {
		return err
	}
	return r.broken
}

func show(m tea.Model) error {
	if err := window.Show(m); err != nil {
		return fmt.Errorf("the screen failed: %w; the card is safe, open it again", err)
	}
	return nil
}
