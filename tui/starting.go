package tui

import (
	"io"
	"os"
	"strings"

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
	s := &starting{load: load, opt: opt, out: os.Stdout, done: make(chan loaded, 1)}
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
	if s.walk == nil { // left before the size was known
		return s.session, nil
	}
	return s.session, s.walk.broken
}

// starting is the model while the walk is opened, so that the job is read while
// bubbletea starts.
type starting struct {
	load Load
	opt  Options
	out  io.Writer          // the terminal
	size *tea.WindowSizeMsg // nil until bubbletea tells it
	done chan loaded        // room for one: a load ends though nobody waits for it any more

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
		s.size = &m
		return s.begin()
	case ready:
		l := <-s.done
		if s.session, s.opt.Notice, s.err = l.session, l.notice, l.err; s.err != nil {
			return s, tea.Quit
		}
		return s.begin()
	case window.HangUp:
		return s, tea.Quit
	case tea.KeyMsg:
		if m.String() == "ctrl+c" {
			return s, tea.Quit
		}
	}
	return s, nil
}

// begin hands over to the walk when it is opened and the size is known.
func (s *starting) begin() (tea.Model, tea.Cmd) {
	if s.session == nil || s.size == nil {
		return s, nil
	}
	s.walk = newRoot(s.session, s.opt)
	s.walk.suspends = window.CanSuspend()
	s.walk.width, s.walk.height = s.size.Width, s.size.Height
	s.draw()
	return s.walk, s.walk.Init()
}

// draw writes the first frame at once: bubbletea draws for the first time a sixtieth of
// a second after the terminal was taken. It draws all of the frame again then, since it
// does not know of this one. Nothing but an empty frame was drawn before, so that there
// is nothing to erase, and bubbletea leaves the terminal only after Update.
func (s *starting) draw() {
	const home = "\x1b[H"
	_, _ = io.WriteString(s.out, home+strings.ReplaceAll(s.walk.View(), "\n", "\r\n")) // what fails here fails there too
}

func (s *starting) View() string { return "" }

// closeLate closes what was still being opened at a quit.
func (s *starting) closeLate() {
	if l := <-s.done; l.session != nil {
		l.session.Close()
	}
}
