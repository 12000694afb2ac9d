package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/card"
	"evenload/sequence"
	"evenload/sequence/practice"
	"evenload/tui/walk"
)

// TestEveryPracticeFrameSaysWhatItIs: PRACTICE and on a model on line 1, in every window
// that has the room, and help and messages too.
func TestEveryPracticeFrameSaysWhatItIs(t *testing.T) {
	for _, s := range screens() {
		if !strings.HasPrefix(s.name, "practice-") {
			continue
		}
		c := s.reach(t)
		for _, help := range []bool{false, true} {
			c.root.help = help
			for _, size := range [][2]int{{80, 24}, {120, 40}, {60, 16}, {40, 10}} {
				c.send(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
				head, _, _ := strings.Cut(c.root.View(), "\n")
				if !strings.Contains(head, "PRACTICE") || size[0] >= 80 && !strings.Contains(head, "PRACTICE on a model, not your flange") {
					t.Errorf("%s at %dx%d: line 1 is %q", s.name, size[0], size[1], head)
				}
			}
		}
	}
	c := reach(t, "bolt-12-middle")
	if strings.Contains(c.root.View(), "PRACTICE") {
		t.Error("a real walk says PRACTICE")
	}
	p := reach(t, "practice-bolt") // and a practice card that is only walked
	p.root = newRoot(p.s, Options{Now: p.root.opt.Now})
	p.root.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	if !strings.Contains(p.root.View(), "PRACTICE on a model") {
		t.Error("a practice card that is walked does not say PRACTICE")
	}
}

// TestWholePractice walks a practice of each level to its mark, by reading the screen.
func TestWholePractice(t *testing.T) {
	for level := 3; level <= len(practice.Levels); level++ {
		if level == 6 && testing.Short() {
			continue // hundreds of bolts
		}
		c := practised(t, level, uint64(level), level%2 == 0).trainee("YOUR MARK")
		if m := c.root.opt.Practice.Mark(true); m.Total != 100 || !strings.Contains(c.root.View(), "Nothing was missed") {
			t.Errorf("level %d: %+v\n%s", level, m, c.root.View())
		}
		if !card.IsPractice(c.s.Path()) {
			t.Errorf("the card is %s", c.s.Path())
		}
	}
}

// TestNumbersAreTyped: on a screen that asks for a number digits are text, also several that
// come at once, letters stay keys, and a paste is none.
func TestNumbersAreTyped(t *testing.T) {
	c := reach(t, "practice-chart")
	run := c.root.opt.Practice
	c.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("1.9")})
	if !strings.Contains(c.root.View(), "[ 1.9_") {
		t.Fatalf("the screen shows\n%s", c.root.View())
	}
	c.press("backspace")
	c.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("77"), Paste: true})
	if !strings.Contains(c.root.View(), "[ 1._") || !strings.Contains(c.root.View(), "Not understood") {
		t.Fatalf("the screen shows\n%s", c.root.View())
	}
	c.press("9", "?")
	if !c.root.help {
		t.Error("? does not help")
	}
	c.press("x", "enter")
	if n := len(run.Answers()); n == 0 || walk.IsTask(c.root.screen) && strings.Contains(c.root.View(), "READ THE CHART") {
		t.Errorf("%d answers\n%s", n, c.root.View())
	}
	c = reach(t, "practice-regulator")
	for _, wrong := range []string{"9", "enter"} {
		c.press(wrong)
	}
	if !strings.Contains(c.root.View(), "NOT TAKEN: type a number from 1 to 3") {
		t.Errorf("the screen shows\n%s", c.root.View())
	}
}

// TestUndoInPractice takes a bolt back as in the real walk: nothing is asked twice, and the
// mark stays that of a right walk.
func TestUndoInPractice(t *testing.T) {
	c := practised(t, 3, 4, false).trainee("YOU SEE The tool slows down")
	c.press(" ")
	c.trainee("YOU SEE The tool")
	asked := len(c.root.opt.Practice.Answers())
	c.press("u")
	if _, again := c.root.step.(sequence.Tighten); !again || len(c.root.opt.Practice.Answers()) != asked {
		t.Fatalf("after the undo the screen shows\n%s", c.root.View())
	}
	c.trainee("YOUR MARK")
	if m := c.root.opt.Practice.Mark(true); m.Total != 100 {
		t.Errorf("%+v, missed %+v", m, c.root.opt.Practice.Missed())
	}
}

// TestBoltsAreTyped: a number that was walked to is not gone on with by a digit, whatever stands
// between two bolts is a space, and what no bolt has is not judged.
func TestBoltsAreTyped(t *testing.T) {
	c := reach(t, "practice-next")
	asked := len(c.root.opt.Practice.Answers())
	c.press("down", "9")
	if !strings.Contains(c.root.View(), "[ 9_") {
		t.Fatalf("a digit after walking gives\n%s", c.root.View())
	}
	c.press("9", "enter")
	if len(c.root.opt.Practice.Answers()) != asked || !strings.Contains(c.root.View(), "NOT TAKEN: there is no bolt 99") {
		t.Errorf("bolt 99 is judged\n%s", c.root.View())
	}
	c = reach(t, "practice-team-next")
	c.press(" ", "1", "/", "8")
	if !strings.Contains(c.root.View(), "[ 1 8_") {
		t.Errorf("two bolts are\n%s", c.root.View())
	}
	c = reach(t, "practice-regulator")
	c.press(" ", ",")
	if !strings.Contains(c.root.View(), "[ _") {
		t.Errorf("a choice is\n%s", c.root.View())
	}
}

// TestPracticeIsLeftByQTwice, also from a screen of the walk, and by ctrl+c at once.
func TestPracticeIsLeftByQTwice(t *testing.T) {
	for _, name := range []string{"practice-gate", "practice-next", "practice-bolt"} {
		c := reach(t, name)
		if cmd := c.send(key("q")); cmd != nil || !strings.Contains(c.root.View(), "does not go on later") || !strings.Contains(c.root.View(), "q again leaves") {
			t.Errorf("%s: q says\n%s", name, c.root.View())
		}
		if cmd := c.send(key("q")); cmd == nil {
			t.Errorf("%s: q again does not leave", name)
		}
	}
}

// TestEndOfAPracticeScrolls: all that was missed can be read in a small window, and the keys
// say how.
func TestEndOfAPracticeScrolls(t *testing.T) {
	c := reach(t, "practice-mark-missed")
	c.send(tea.WindowSizeMsg{Width: 60, Height: 16})
	missed := c.root.opt.Practice.Missed()
	last := missed[len(missed)-1].Why
	last = last[strings.LastIndex(last, " ")+1:]
	for range 90 {
		view := c.root.View()
		if strings.Contains(view, "make the window higher") {
			t.Fatalf("cut off:\n%s", view)
		}
		if !strings.Contains(view, "down more") {
			break
		}
		c.press("down")
	}
	if !strings.Contains(c.root.View(), last) {
		t.Errorf("%q is not reached:\n%s", last, c.root.View())
	}
	c.send(tea.WindowSizeMsg{Width: 200, Height: 60}) // all fits again
	_ = c.root.View()
}
