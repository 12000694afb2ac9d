// Command bare is the least program of the same library at its default settings:
// the floor that the benchmarks of the pseudo-terminal are held against.
package main

import (
	"fmt"
	"os"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

type model int

func (m model) Init() tea.Cmd { return nil }

func (m model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		if msg.String() == "q" {
			return m, tea.Quit
		}
		return m + 1, nil
	}
	return m, nil
}

func (m model) View() string {
	return fmt.Sprintf("ready, %d keys\n", m) + strings.Repeat("a line of a screen of the usual width, so that there is something to compare\n", 22)
}

func main() {
	if _, err := tea.NewProgram(model(0), tea.WithAltScreen()).Run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
