package tui

import (
	"fmt"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/joint"
	"evenload/sequence"
	"evenload/tui/draw"
)

var morning = time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC)

// straight answers every step the straight way.
func straight(s sequence.Step) sequence.Data {
	switch s := s.(type) {
	case sequence.SignOn:
		return sequence.SignedOn{Name: "Ann"}
	case sequence.Ask:
		return sequence.Answered{Question: s.Question.ID, Answer: sequence.Yes, Typed: s.Question.Typed}
	case sequence.Snug:
		return sequence.Snugged{}
	case sequence.GapCheck:
		g := sequence.GapsMeasured{}
		for _, b := range s.Places {
			g.Readings = append(g.Readings, sequence.Gap{Bolt: b, Gap: 0.001})
		}
		if !s.All {
			g.Readings = g.Readings[:2]
		}
		return g
	case sequence.Set:
		return sequence.PressureSet{AtEnd: s.AtEnd, Running: s.Set}
	case sequence.Tighten:
		return sequence.BoltDone{Pass: s.Pass, Bolts: s.Bolts}
	case sequence.Check:
		return sequence.NutStill{Round: s.Round, Bolt: s.Bolt}
	case sequence.Rest:
		return sequence.RestWaived{Named: sequence.Named{Name: "Eva", Role: "engineer", Reason: "trial"}}
	}
	return sequence.CardClosed{Witness: "Wim", Role: "inspector"}
}

// screens gives a root at each sort of step of the 32-bolt job.
func screens(t testing.TB, theme draw.Theme) map[string]*root {
	t.Helper()
	j, err := job.Load("../testdata/jobs/exchanger-cover-32.toml")
	if err != nil {
		t.Fatal(err)
	}
	plan, _ := j.Plan(joint.DateOf(morning))
	s, err := card.Begin(t.TempDir(), "", sequence.CardOpened{Format: 1, Plan: plan})
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]*root{}
	for i := range 400 {
		at := morning.Add(time.Duration(i) * time.Second)
		step := s.Walk.Next(at)
		if name := fmt.Sprintf("%T", step); all[name] == nil {
			all[name] = newRoot(&card.Session{Walk: s.Walk}, Options{Theme: theme, Now: func() time.Time { return at }})
		}
		if s.Walk.IsClosed() {
			return all
		}
		d := straight(step)
		next, err := s.Walk.Apply(sequence.Event{At: at, By: "Ann", Data: d})
		if err != nil {
			t.Fatalf("%#v: %v", step, err)
		}
		s.Walk = next
	}
	t.Fatal("the straight way does not end")
	return nil
}

// TestNoFrameLeavesItsWindow draws every screen in every size.
func TestNoFrameLeavesItsWindow(t *testing.T) {
	theme, _ := draw.NewTheme("dark", false, true)
	for name, r := range screens(t, theme) {
		for _, help := range []bool{false, true} {
			r.help = help
			r.notice = strings.Repeat("a long message ", 20)
			for w := 1; w <= 200; w += 3 {
				for h := 1; h <= 60; h += 2 {
					r.Update(tea.WindowSizeMsg{Width: w, Height: h})
					lines := strings.Split(r.View(), "\n")
					if len(lines) > h {
						t.Fatalf("%s at %dx%d: %d lines", name, w, h, len(lines))
					}
					for _, l := range lines {
						if ansi.StringWidth(l) > w {
							t.Fatalf("%s at %dx%d: %q is wider", name, w, h, l)
						}
					}
				}
			}
		}
	}
}

// TestASCIITheme: nothing but ASCII, and no escape where styles are off.
func TestASCIITheme(t *testing.T) {
	theme, _ := draw.NewTheme("mono", true, false)
	for name, r := range screens(t, theme) {
		r.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
		for _, c := range r.View() {
			if c > 126 || c < 32 && c != '\n' {
				t.Errorf("%s draws U+%04X", name, c)
			}
		}
	}
}

// TestGateNeedsOneKey: a paste, a double key and a key in the first moments
// answer nothing.
func TestGateNeedsOneKey(t *testing.T) {
	theme, _ := draw.NewTheme("mono", true, false)
	r := screens(t, theme)["sequence.Snug"]
	r.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	for _, k := range []tea.KeyMsg{{Type: tea.KeyRunes, Runes: []rune("  ")}, {Type: tea.KeyRunes, Runes: []rune(" "), Paste: true}} {
		if _, cmd := r.Update(k); cmd != nil || r.writing {
			t.Errorf("%q was taken", k)
		}
	}
}

func BenchmarkView(b *testing.B) {
	theme, _ := draw.NewTheme("dark", false, true)
	r := screens(b, theme)["sequence.Tighten"]
	r.Update(tea.WindowSizeMsg{Width: 120, Height: 40})
	for b.Loop() {
		_ = r.View()
	}
}
