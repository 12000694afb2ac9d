package tui

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/joint/unit"
	"evenload/sequence/practice"
	"evenload/tui/draw"
	"evenload/tui/walk"
	"evenload/tui/window"
)

// bench is the model of a practice without a walk.
type bench struct {
	opt           Options
	practice      *practice.Bench
	closures      func() ([]unit.Compliance, unit.Compliance, error)
	screen        walk.Bench
	notice        string
	help          bool
	width, height int
}

// benched comes back when the bolts of a bench were computed.
type benched struct {
	row  []unit.Compliance
	give unit.Compliance
	err  error
}

// Bench shows a practice at the bench until the trainee leaves. It gives his name,
// empty when none was typed, and whether all tasks were answered.
func Bench(b *practice.Bench, closures func() ([]unit.Compliance, unit.Compliance, error), opt Options) (trainee string, finished bool, err error) {
	m := newBench(b, closures, opt)
	if err := window.Show(m); err != nil {
		return m.screen.Trainee(), false, fmt.Errorf("the screen failed: %w", err)
	}
	return m.screen.Trainee(), m.screen.Finished(), nil
}

func newBench(b *practice.Bench, closures func() ([]unit.Compliance, unit.Compliance, error), opt Options) *bench {
	return &bench{opt: opt, practice: b, closures: closures, screen: walk.NewBench(b)}
}

func (m *bench) Init() tea.Cmd {
	return func() tea.Msg {
		row, give, err := m.closures()
		return benched{row, give, err}
	}
}

func (m *bench) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height = msg.Width, msg.Height
		return m, tea.ClearScreen
	case benched:
		m.practice.Model(msg.row, msg.give, msg.err)
		m.screen = m.screen.Next()
	case tea.KeyMsg:
		return m, m.key(msg)
	case window.HangUp:
		return m, tea.Quit
	}
	return m, nil
}

func (m *bench) key(k tea.KeyMsg) tea.Cmd {
	if m.help {
		m.help = false
		if k.String() == "ctrl+c" {
			return tea.Quit
		}
		return nil
	}
	if m.screen.Counts() && !k.Paste && len(k.Runes) > 1 {
		for _, one := range k.Runes {
			m.key(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{one}})
		}
		return nil
	}
	m.notice = ""
	screen, want := m.screen.Key(k, m.view())
	m.screen, m.notice = screen.(walk.Bench), want.Notice
	m.help = want.Help
	if want.Leave {
		return tea.Quit
	}
	return nil
}

func (m *bench) view() *walk.View {
	return &walk.View{Now: time.Time{}, Theme: m.opt.Theme, System: m.practice.Plan().System, Width: m.width, Height: m.height}
}

// View draws the frame.
func (m *bench) View() string {
	if m.width == 0 || m.height == 0 {
		return "evenload"
	}
	f := m.screen.Frame(m.view())
	if m.help {
		f = helpFrame(m.view(), f, practice.LeaveWord)
	}
	f.Notice = m.notice
	return draw.Clamp(f.Render(m.width, m.height, m.opt.Theme), m.width, m.height)
}
