package tui

import (
	"fmt"
	"os"
	"os/signal"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/card"
)

// hangUp is sent when the window was closed or the line dropped.
type hangUp struct{}

// Walk shows the walk on the terminal until the operator leaves.
func Walk(s *card.Session, opt Options) error {
	r := newRoot(s, opt)
	if err := show(r); err != nil {
		return fmt.Errorf("the screen failed: %w; the card is safe, open it again", err)
	}
	return r.broken
}

// show runs a model on the whole terminal until it quits; it is told when the window was
// closed or the line dropped.
func show(m tea.Model) error {
	options := []tea.ProgramOption{tea.WithAltScreen()}
	lost := make(chan os.Signal, 1)
	if len(hangUps) > 0 { // none would mean all
		options = append(options, tea.WithoutSignalHandler())
		signal.Notify(lost, hangUps...)
	}
	p := tea.NewProgram(m, options...)
	defer signal.Stop(lost)
	stop := make(chan struct{})
	defer close(stop)
	go func() {
		select {
		case <-lost:
			p.Send(hangUp{})
		case <-stop:
		}
	}()
	_, err := p.Run()
	return err
}
