package tui

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/card"
	"evenload/sequence"
	"evenload/tui/draw"
	"evenload/tui/window"
)

// opening is a start that the test takes from message to message.
func opening(t *testing.T, load Load) *starting {
	t.Helper()
	theme, err := draw.NewTheme("mono", true, false)
	if err != nil {
		t.Fatal(err)
	}
	return &starting{load: load, out: new(bytes.Buffer), opt: Options{Theme: theme, Now: func() time.Time { return morning }}, done: make(chan loaded, 1)}
}

// quits says whether a command ends the program.
func quits(cmd tea.Cmd) bool {
	if cmd == nil {
		return false
	}
	_, quit := cmd().(tea.QuitMsg)
	return quit
}

// TestStartBecomesTheWalk, whether the size of the terminal or the walk is there first:
// keys pressed before are dropped, the notice stands on the first frame, and that frame
// is drawn at once.
func TestStartBecomesTheWalk(t *testing.T) {
	size := tea.WindowSizeMsg{Width: 100, Height: 30}
	for _, sizeFirst := range []bool{true, false} {
		c := start(t, twelve)
		s := opening(t, func() (*card.Session, string, error) { return c.s, "a word before", nil })
		first, last := tea.Msg(size), s.Init()()
		if !sizeFirst {
			first, last = last, first
		}
		early := []tea.Msg{tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("q")}, tea.KeyMsg{Type: tea.KeyEnter}, first, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("x")}, tea.KeyMsg{Type: tea.KeyCtrlZ}}
		for _, msg := range early {
			if m, cmd := s.Update(msg); m != tea.Model(s) || cmd != nil {
				t.Errorf("%v is answered", msg)
			}
		}
		if drawn := fmt.Sprint(s.out); s.View() != "" || drawn != "" {
			t.Errorf("before the walk stands %q, drawn is %q", s.View(), drawn)
		}
		m, cmd := s.Update(last)
		r, ok := m.(*root)
		if !ok || cmd == nil || s.session != c.s {
			t.Fatalf("it became %T, with the session: %v", m, s.session == c.s)
		}
		frame := r.View()
		untouched := newRoot(c.s, s.opt)
		untouched.Update(size)
		if want := untouched.View(); frame != want || !strings.Contains(frame, "Who works") || !strings.Contains(frame, "a word before") {
			t.Errorf("it shows\n%s\nwant\n%s", frame, want)
		}
		if drawn := fmt.Sprint(s.out); drawn != "\x1b[H"+strings.ReplaceAll(frame, "\n", "\r\n") {
			t.Errorf("drawn at once is %q", drawn)
		}
	}
}

// TestStartThatFails quits and keeps the error as it is.
func TestStartThatFails(t *testing.T) {
	fault := errors.New("a fault of the test")
	s := opening(t, func() (*card.Session, string, error) { return nil, "", fault })
	if _, cmd := s.Update(s.Init()()); !quits(cmd) || s.err != fault || s.session != nil {
		t.Errorf("quits: %v, error %v", quits(cmd), s.err)
	}
}

// TestStartThatIsLeft: a card that is still being opened at a quit is given back, and
// nobody waits for one that is never opened.
func TestStartThatIsLeft(t *testing.T) {
	for _, msg := range []tea.Msg{window.HangUp{}, tea.KeyMsg{Type: tea.KeyCtrlC}} {
		if _, cmd := opening(t, nil).Update(msg); !quits(cmd) {
			t.Errorf("%v does not quit", msg)
		}
	}
	c := start(t, twelve)
	if err := c.s.Write(sequence.Event{At: morning, By: c.by, Data: sequence.SignedOn{Name: c.by}}); err != nil {
		t.Fatal(err)
	}
	path := c.s.Path()
	c.s.Close()
	resume := func() (*card.Session, string, error) { s, err := card.Resume(path, "", "", morning); return s, "", err }
	s := opening(t, resume)
	s.Init()()
	if _, _, err := resume(); !errors.Is(err, card.ErrBusy) {
		t.Fatalf("a card that is open is opened again: %v", err)
	}
	s.closeLate()
	again, _, err := resume()
	if err != nil {
		t.Fatalf("the card is not given back: %v", err)
	}
	again.Close()

	s = opening(t, func() (*card.Session, string, error) { panic("a fault of the test") })
	func() {
		defer func() { _ = recover() }()
		s.Init()()
	}()
	ended := make(chan struct{})
	go func() { s.closeLate(); close(ended) }()
	select {
	case <-ended:
	case <-time.After(5 * time.Second):
		t.Error("it waits for a load that panicked")
	}
}
