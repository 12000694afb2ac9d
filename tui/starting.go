package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/card"
	"evenload/tui/window"
)

// Load opens the walk that is to be shown; the notice is shown first.
type Load func() (s *card.Session, notice string, err error)

// Start takes the terminal, opens a walk and shows it until the operator leaves. The
// session is for the caller to close, nil where none was opened or where a quit came
// first. What is wrong with a job is told when the terminal is given back.
func Start(load Load, opt Options) (*card.Session, error) {
	s := &starting{load: load, opt: opt, done: make(chan loaded, 1)}
	err := show(s)
	switch {
	case s.session == nil && s.err == nil:
		// A quit came first, and does not wait for a slow disk.
		go s.closeLate()
		return nil, err
	case err != nil:
		return s.session, err
	case s.err != nil:
		return nil, s.err
	}
	return s.session, s.walk.broken
}

// starting is the model while the walk is opened: the first frame is drawn a sixtieth
// of a second after the terminal was taken, and what is read by then costs no time.
type starting struct {
	load Load
	opt  Options
	size tea.WindowSizeMsg
	done chan loaded // room for one: a load ends though nobody waits for it any more

	session *card.Session
	walk    *root
	err     error // of the load
}

// loaded is what came of a Load.
type loaded struct {
	session *card.Session
	notice  string
	err     error
}

// ready says that starting.done can be read.
type ready struct{}

func (s *starting) Init() tea.Cmd { return s.open }

func (s *starting) open() tea.Msg {
	defer close(s.done) // after a panic too
	session, notice, err := s.load()
	s.done <- loaded{session, notice, err}
	return ready{}
}

// Update drops keys: they were pressed before there was anything to answer.
func (s *starting) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch m := msg.(type) {
	case tea.WindowSizeMsg:
		s.size = m
	case ready:
		return s.begin(<-s.done)
	case window.HangUp:
		return s, tea.Quit
	case tea.KeyMsg:
		if m.String() == "ctrl+c" {
			return s, tea.Quit
		}
	}
	return s, nil
}

// begin hands over to the walk.
func (s *starting) begin(l loaded) (tea.Model, tea.Cmd) {
	if l.err != nil {
		s.err = l.err
		return s, tea.Quit
	}
	s.session = l.session
	s.opt.Notice = l.notice
	s.walk = newRoot(l.session, s.opt)
	s.walk.suspends = window.CanSuspend()
	s.walk.width, s.walk.height = s.size.Width, s.size.Height
	return s.walk, s.walk.Init()
}

func (s *starting) View() string { return "" }

// closeLate closes what was still being opened at a quit.
func (s *starting) closeLate() {
	if l := <-s.done; l.session != nil {
		l.session.Close()
	}
}
