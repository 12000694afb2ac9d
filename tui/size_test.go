package tui

import (
	"fmt"
	"runtime/debug"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// The largest window that is tried.
const mostWidth, mostHeight = 200, 60

// TestNoFrameLeavesItsWindow draws every screen in every size, with and
// without a message on it, in the theme with the widest characters.
func TestNoFrameLeavesItsWindow(t *testing.T) {
	// So many frames are litter and nothing else: clear it away seldom.
	before := debug.SetGCPercent(1000)
	t.Cleanup(func() { debug.SetGCPercent(before) })
	for _, s := range screens() {
		t.Run(s.name, func(t *testing.T) {
			t.Parallel()
			m := s.model(t, theme(t, "dark", false, true))
			for w := 1; w <= mostWidth; w++ {
				for h := 1; h <= mostHeight; h++ {
					m.Update(tea.WindowSizeMsg{Width: w, Height: h})
					if r, ok := m.(*root); ok && (w+h)%5 == 0 {
						r.notice = longNotice
					} else if ok {
						r.notice = ""
					}
					if err := inside(m.View(), w, h); err != nil {
						t.Fatalf("%dx%d: %v", w, h, err)
					}
				}
			}
		})
	}
}

var longNotice = strings.Repeat("a long message · ", 8)

// inside says what of a frame is outside its window.
func inside(frame string, w, h int) error {
	for rest, n := frame, 1; ; n++ {
		line, more, found := strings.Cut(rest, "\n")
		if n > h {
			return fmt.Errorf("%d lines", 1+strings.Count(frame, "\n"))
		}
		if len(line) > w && ansi.StringWidth(line) > w {
			return fmt.Errorf("line %d is wider: %q", n, line)
		}
		if !found {
			return nil
		}
		rest = more
	}
}

// TestASCII: nothing but ASCII, and no escape where styles are off.
func TestASCII(t *testing.T) {
	for _, s := range screens() {
		m := s.model(t, theme(t, "mono", true, false))
		for _, size := range [][2]int{{80, 24}, {44, 12}} {
			m.Update(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
			for _, c := range m.View() {
				if c > 126 || c < 32 && c != '\n' {
					t.Errorf("%s at %dx%d draws U+%04X", s.name, size[0], size[1], c)
				}
			}
		}
	}
}

func BenchmarkView(b *testing.B) {
	for _, s := range screens() {
		if s.name != "bolt-32-middle" && s.name != "gate" && s.name != "set" {
			continue
		}
		m := s.model(b, theme(b, "dark", false, true))
		m.Update(tea.WindowSizeMsg{Width: 120, Height: 40})
		b.Run(s.name, func(b *testing.B) {
			for b.Loop() {
				_ = m.View()
			}
		})
	}
}
