package tui

import (
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/card"
	"evenload/sequence"
	"evenload/tui/walk"
	"evenload/tui/window"
)

// spelled are the keys as messages that stand for what a screen shows.
func spelled(shown string) []string {
	switch shown {
	case "SPACE":
		return []string{" "}
	case "Enter", "type, Enter":
		return []string{"enter"}
	case "Esc":
		return []string{"esc"}
	case sequence.TroubleKeys(sequence.Troubles):
		var keys []string
		for _, t := range sequence.Troubles {
			keys = append(keys, t.Key)
		}
		return keys
	case sequence.TroubleKeys(sequence.TroublesAnywhere()):
		return strings.Split(shown, ", ")
	case sequence.StopKeys(false) + ", " + sequence.InjuryKey(), sequence.StopKeys(true) + ", " + sequence.InjuryKey(), sequence.StopKeys(false):
		var keys []string
		if strings.HasSuffix(shown, sequence.InjuryKey()) {
			keys = append(keys, sequence.InjuryKey())
		}
		for _, k := range sequence.StopKinds {
			keys = append(keys, k.Key)
		}
		if strings.HasPrefix(shown, sequence.StopKeys(true)) {
			keys = append(keys, sequence.ElsewhereKey)
		}
		return keys
	case "1 to 3":
		return []string{"1", "2", "3"}
	case "b":
		return []string{"b", "esc"}
	case "q":
		return []string{"q", "ctrl+c"}
	}
	return []string{shown}
}

// working gives the keys that a screen shows.
func working(c *trial) []string {
	var keys []string
	for _, k := range c.root.frame().Keys {
		keys = append(keys, spelled(k.Key)...)
	}
	return keys
}

// everyKey is what a person may press on a screen without text.
func everyKey() []string {
	keys := []string{"enter", "esc", "tab", "backspace", "up", "down", "ctrl+c", "ctrl+v", "f1"}
	for r := ' '; r <= '~'; r++ {
		keys = append(keys, string(r))
	}
	return append(keys, "ö", "ж")
}

// choices are the screens with keys to choose from and no text field.
func choices(t *testing.T) []screen {
	var some []screen
	for _, s := range screens() {
		if s.reach == nil {
			continue
		}
		if r := s.reach(t).root; !r.help && !r.screen.Typing() && !walk.Counts(r.screen) && r.broken == nil && !r.writing {
			some = append(some, s)
		}
	}
	return some
}

// TestShownKeysWorkAndNoOthers presses every key on every screen.
func TestShownKeysWorkAndNoOthers(t *testing.T) {
	for _, s := range choices(t) {
		t.Run(s.name, func(t *testing.T) {
			t.Parallel()
			c := s.reach(t)
			keys, fresh := working(c), true
			for _, name := range everyKey() {
				if !fresh {
					c = s.reach(t)
				}
				c.now = c.now.Add(pace / 10)
				before := c.frame()
				cmd := c.send(key(name))
				did := cmd != nil || c.root.help || c.frame() != before
				fresh = !did
				if shown := slices.Contains(keys, strings.ToLower(name)); did != shown {
					t.Errorf("%q did something: %v, is shown: %v (%s)", name, did, shown, c.root.notice)
				}
			}
		})
	}
}

// frame is what is drawn, without the message.
func (c *trial) frame() string {
	was := c.root.notice
	defer func() { c.root.notice = was }()
	c.root.notice = ""
	return c.root.View()
}

// TestEventOfKey: each key that marks or answers does what it says.
func TestEventOfKey(t *testing.T) {
	for _, c := range []struct {
		screen, key string
		want        sequence.Kind
	}{
		{"gate", "y", "answered"}, {"gate", "n", "answered"}, {"gate", "u", "undone"}, {"resume", "u", "undone"},
		{"snug", " ", "snugged"}, {"bolt-12-middle", " ", "done"}, {"bolt-12-middle", "enter", ""}, {"check", "enter", ""}, {"snug", "enter", ""}, {"bolt-12-middle", "u", "undone"},
		{"check", " ", "still"}, {"check", "m", "moved"}, {"rest-over", " ", "rested"}, {"release-bolt", "t", "undone"},
		{"gate-reason", "enter", "answered"}, {"gate-release", "enter", "released"}, {"release-deciding", "enter", "released"}, {"hold-deciding", "enter", "released"},
		{"rest-waive", "enter", "waived"}, {"gaps-accept", "enter", "gaps_accepted"},
		{"problem-bolt", "enter", "problem"}, {"problem-now", "enter", "problem"}, {"problem-out", "enter", "problem"}, {"problem-number", "enter", ""},
		{"parts", "enter", "replaced"}, {"parts-of-two", "enter", "replaced"}, {"problem-again", "enter", "problem"}, {"problem-injury", "enter", "problem"}, {"release-restart", "enter", "released"},
		{"problem-left", "t", "undone"}, {"tool-first", "enter", "tool_changed"}, {"tool-hose", "enter", "air_changed"}, {"tool-file", "enter", ""},
		{"problem-stop", "enter", "problem"}, {"note", "enter", "note"}, {"hand-over", "enter", "handed_over"},
	} {
		tr := reach(t, c.screen)
		tr.press(c.key)
		if got := tr.written(); got != c.want {
			t.Errorf("%s, key %q: wrote %q, want %q (%s)", c.screen, c.key, got, c.want, tr.root.notice)
		}
	}
}

// TestUndo: the bolt marked last is at hand again, and the one before it next;
// where nothing of the pass is marked, nothing is taken back.
func TestUndo(t *testing.T) {
	c := reach(t, "bolt-12-middle")
	last := c.s.Walk.Last(2)
	for _, want := range last {
		c.press("u")
		if at := c.root.step.(sequence.Tighten).Bolts[0]; at != want[0] {
			t.Errorf("bolt %d is at hand, want %d", at, want)
		}
	}
	c = reach(t, "bolt-12-first")
	if c.press("u"); c.s.Path() != "" || !strings.Contains(c.root.notice, "Nothing of this pass") {
		t.Errorf("undo at the first bolt: %q", c.root.notice)
	}
}

// TestCtrlCLeavesEverywhere, help and text fields included, and q where it is
// no text. Leaving in the middle of the work is written to the card.
func TestCtrlCLeavesEverywhere(t *testing.T) {
	for _, s := range screens() {
		if s.reach == nil {
			m := s.model(t, theme(t, "mono", true, false))
			if _, cmd := m.Update(key("ctrl+c")); cmd == nil || cmd() != tea.Quit() {
				t.Error("the list does not leave")
			}
			continue
		}
		c := s.reach(t)
		signedOff := !c.s.Walk.IsClosed() && !sequenceSignOn(c.root.step) && c.root.broken == nil
		if c.root.writing {
			continue
		}
		want := sequence.Kind("suspended")
		if walk.Unsaid(c.root.screen, c.root.view()) != nil {
			want = "problem" // the stop stands
		}
		if end := c.press("ctrl+c"); end != tea.Quit() {
			t.Errorf("%s: ctrl+c ends in %T", s.name, end)
		}
		if got := c.written(); signedOff && got != want {
			t.Errorf("%s: leaving wrote %q", s.name, got)
		}
	}
}

// TestGraveProblemStands: what stops or holds the work does so by being chosen, also
// when whoever chose it leaves, or the window closes, before the rest is said.
func TestGraveProblemStands(t *testing.T) {
	for k, what := range map[string]sequence.What{"3": sequence.Seized, "4": sequence.Broke, "a": sequence.GasketOut, "c": sequence.FacesTouch, "d": sequence.Injury} {
		for _, hangUp := range []bool{false, true} {
			c := reach(t, "bolt-12-middle")
			c.press("p", k, "n", "o")
			if hangUp {
				c.settle(c.send(window.HangUp{}))
			} else {
				c.press("ctrl+c")
			}
			if got := c.written(); got != "problem" {
				t.Errorf("%s was chosen, hung up %v, and left: written is %q", what, hangUp, got)
			}
		}
	}
}

// TestHalfSaidBolt: a number that was not entered is none, and what the walk refuses
// stops the work all the same.
func TestHalfSaidBolt(t *testing.T) {
	for _, c := range []struct {
		screen string
		keys   []string
		want   sequence.ProblemFound
	}{
		{"rest", []string{"p", "9", "4", "1"}, sequence.ProblemFound{What: sequence.OtherHazard, Reason: "stud broke, not said at which bolt"}},
		{"rest", []string{"p", "9", "4", "1", "enter"}, sequence.ProblemFound{Bolt: 1, What: sequence.Broke}},
		{"bolt-12-middle", []string{"p", "4", "1"}, sequence.ProblemFound{What: sequence.OtherHazard, Reason: "stud broke, not said at which bolt"}},
		{"bolt-12-middle", []string{"p", "4", "enter"}, sequence.ProblemFound{Bolt: 5, What: sequence.Broke}},
		{"bolt-out", []string{"p", "4", "8", "enter"}, sequence.ProblemFound{What: sequence.OtherHazard, Reason: "bolt 8: stud broke"}}, // it is out already
	} {
		tr := reach(t, c.screen)
		tr.press(c.keys...)
		tr.press("ctrl+c")
		all, err := card.Read(tr.s.Path())
		if err != nil {
			t.Fatal(err)
		}
		found := slices.ContainsFunc(all.Events(), func(e sequence.Event) bool { return e.Data == sequence.Data(c.want) })
		if !found {
			events := all.Events()
			t.Errorf("%s %q: the card ends with %+v", c.screen, c.keys, events[len(events)-2:])
		}
	}
}

// TestCapitals: Caps Lock does not deaden the keys.
func TestCapitals(t *testing.T) {
	c := reach(t, "bolt-12-middle")
	if c.press("P"); !strings.Contains(c.root.View(), "SOMETHING IS WRONG") {
		t.Errorf("P did nothing:\n%s", c.root.View())
	}
	c.press("D")
	if c.write("Ann"); !strings.Contains(c.root.View(), "Ann") {
		t.Error("capitals do not reach a field")
	}
}

// TestNoShellNoSuspend: where nothing could bring the program back, it goes on.
func TestNoShellNoSuspend(t *testing.T) {
	c := reach(t, "bolt-12-middle")
	if end := c.press("ctrl+z"); end != nil || !strings.Contains(c.root.View(), "No shell stands behind") {
		t.Errorf("ctrl+z ends in %T", end)
	}
	c.root.suspends = true
	if end := c.press("ctrl+z"); end != tea.Suspend() {
		t.Errorf("with a shell ctrl+z ends in %T", end)
	}
}

func sequenceSignOn(s sequence.Step) bool { _, ok := s.(sequence.SignOn); return ok }

// TestHazardStopsEveryScreen: wherever somebody is at work, a hazard at the
// joint reaches the stop page, from a text field too.
func TestHazardStopsEveryScreen(t *testing.T) {
	n := 0
	for _, s := range screens() {
		if s.reach == nil {
			continue
		}
		c := s.reach(t)
		if c.root.help || c.root.broken != nil || c.root.writing || !c.root.atWork() {
			continue
		}
		c.press("ctrl+p", "3")
		c.write("at bolt 4")
		c.press("enter")
		if _, stopped := c.root.step.(sequence.Stop); !stopped {
			t.Errorf("%s: after a hazard the step is %T (%s)", s.name, c.root.step, c.root.notice)
		}
		n++
	}
	if n < 20 {
		t.Errorf("only %d screens were tried", n)
	}
}

// TestLastBoltCanBeTakenBack: the end readings come after the last bolt, and
// still take it back.
func TestLastBoltCanBeTakenBack(t *testing.T) {
	for screen, name := range map[string]string{"end-reading": "esc", "end-rounds": "esc"} {
		c := reach(t, screen)
		last, ok := c.s.Walk.Undoable()
		if !ok {
			t.Fatalf("%s: nothing to take back", screen)
		}
		c.press(name)
		if c.written() != "undone" || c.s.Walk.MarkOf(last.Bolt) != sequence.MarkOpen {
			t.Errorf("%s: wrote %q (%s)", screen, c.written(), c.root.notice)
		}
	}
}

// TestRefusedFieldIsAtHand: what was typed wrong is where the cursor is then.
func TestRefusedFieldIsAtHand(t *testing.T) {
	older := slices.Concat([]string{"up"}, slices.Repeat([]string{"backspace"}, 10))
	for screen, c := range map[string]struct {
		keys []string
		want string
	}{
		"gaps-pass":    {[]string{"enter", "0.11", "enter", "nine", "enter"}, "at bolt      [ nine_"},
		"gaps-si":      {[]string{"enter", "12", "up", "up", "x", "down", "down", "enter"}, "[ 7x_"},
		"materials":    {[]string{"enter", "N-1", "enter", "enter", "54", "enter"}, "> Temperature here  [ 54_"},
		"sign-on-more": {append(older, "soon", "enter", "enter"), "> Valid until    [ soon_"},
	} {
		tr := reach(t, screen)
		tr.press(c.keys...)
		if frame := tr.frame(); tr.written() != "" || tr.root.notice == "" || !strings.Contains(frame, c.want) {
			t.Errorf("%s: wrote %q, notice %q, want %q in\n%s", screen, tr.written(), tr.root.notice, c.want, frame)
		}
	}
}
