package tui

import (
	"fmt"

	"evenload/data/card"
	"evenload/tui/window"
)

// Walk shows the walk on the terminal until the operator leaves.
func Walk(s *card.Session, opt Options) error {
	r := newRoot(s, opt)
	r.suspends = window.CanSuspend()
	if err := window.Show(r); err != nil {
		return fmt.Errorf("the screen failed: %w; the card is safe, open it again", err)
	}
	return r.broken
}
