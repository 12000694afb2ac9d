// Package window runs a model on the whole terminal and gives the terminal back,
// whatever ends the program.
package window

import (
	"os"
	"os/signal"

	tea "github.com/charmbracelet/bubbletea"
)

// HangUp is sent to the model when the window was closed, the line dropped, or the
// machine shuts down: it quits as soon as it may.
type HangUp struct{}

// Show runs a model until it quits. After a panic in it or in one of its commands
// the terminal is given back too, and that is the error.
func Show(m tea.Model) error {
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
			p.Send(HangUp{})
		case <-stop:
		}
	}()
	_, err := p.Run()
	return err
}
