//go:build !windows

package tui

import (
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/joint"
	"evenload/sequence"
	"evenload/sequence/interaction"
	"evenload/tui/draw"
)

const panicIn = "EVENLOAD_TEST_PANIC"

// TestPanicking is no test by itself: it is the program of TestPanicGivesTerminalBack.
func TestPanicking(t *testing.T) {
	where := os.Getenv(panicIn)
	if where == "" {
		t.Skip("TestPanicGivesTerminalBack runs it")
	}
	j, err := job.Load(eight)
	if err != nil {
		t.Fatal(err)
	}
	plan, _ := j.Plan(joint.DateOf(morning))
	s, err := card.Begin(os.Getenv("CARDS"), "", sequence.CardOpened{Format: 1, Program: "evenload", Plan: plan})
	if err != nil {
		t.Fatal(err)
	}
	theme, err := draw.NewTheme("dark", false, true)
	if err != nil {
		t.Fatal(err)
	}
	signedOn := func() bool {
		cards, _ := card.Find(os.Getenv("CARDS"))
		if len(cards) == 0 {
			return false
		}
		text, _ := os.ReadFile(cards[0])
		return strings.Contains(string(text), `"signed_on"`) && strings.HasSuffix(string(text), "\n")
	}
	opt := Options{Theme: theme, Now: time.Now, Rounds: func(sequence.Plan) string {
		for !signedOn() {
			time.Sleep(10 * time.Millisecond)
		}
		if where == "command" {
			panic("a fault of the test")
		}
		_, _ = interaction.Compare([]*interaction.Bolts{nil}, []interaction.Order{{}}, 1, 1)
		return ""
	}}
	if where == "Update" { // which asks for the time
		opt = Options{Theme: theme, Now: func() time.Time {
			if signedOn() {
				panic("a fault of the test")
			}
			return time.Now()
		}}
	}
	err = Walk(s, opt)
	fmt.Println("ENDED WITH", err)
	s.Close()
	os.Exit(7)
}

// TestPanicGivesTerminalBack: whatever part of the program fails on a screen, the
// terminal is as it was, and what was recorded is whole.
func TestPanicGivesTerminalBack(t *testing.T) {
	t.Parallel()
	for _, where := range []string{"Update", "command", "a core beside a command"} {
		t.Run(where, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			raw := onTerminal(t, "TestPanicking", []string{panicIn + "=" + where, "CARDS=" + dir}, "Who works", func(tty io.Writer, _ *os.Process) {
				io.WriteString(tty, "Ann\r")
				time.AfterFunc(100*time.Millisecond, func() { io.WriteString(tty, "\r") })
			})
			for _, want := range []string{"\x1b[?1049h", "\x1b[?1049l", "\x1b[?25h", "\x1b[?2004l", "the screen failed", "the card is safe"} {
				if !strings.Contains(raw, want) {
					t.Errorf("%q is not written in %q", want, raw[max(0, len(raw)-3000):])
				}
			}
			cards, _ := card.Find(dir)
			if len(cards) != 1 {
				t.Fatalf("cards: %v", cards)
			}
			if c, err := card.Read(cards[0]); err != nil || c.Torn != nil || len(c.Entries) < 2 {
				t.Errorf("%d lines, torn %v, %v", len(c.Entries), c.Torn, err)
			}
		})
	}
}
