package tui

import (
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/sequence"
	"evenload/tui/draw"
	"evenload/tui/walk"
)

// TestSmallWindowKeepsWhatCounts: in every window that takes keys, the number
// of the bolt, its pressure and the key are there, whatever message is up.
func TestSmallWindowKeepsWhatCounts(t *testing.T) {
	for _, s := range screens() {
		if s.reach == nil {
			continue
		}
		c := s.reach(t)
		b, w, ok := work(c.root.step)
		if tighten, is := c.root.step.(sequence.Tighten); is && tighten.Turns[0].Letter != "" {
			continue // see TestSmallWindowKeepsEveryTool
		}
		covered := c.root.help || walk.IsTask(c.root.screen) || c.root.screen.Typing() || c.root.broken != nil || strings.HasPrefix(s.name, "problem") || strings.HasPrefix(s.name, "tool") || strings.HasPrefix(s.name, "hazard") || strings.Contains(s.name, "covered")
		if !ok || covered {
			continue
		}
		c.root.opt.Theme = theme(t, "mono", true, false)
		number := fmt.Sprintf("BOLT %d ", b)
		pressure := w.Tool.Gauged(w.Setting.Set) + " running"
		for width := 40; width <= 84; width++ {
			for height := 10; height <= 24; height++ {
				for _, notice := range []string{"", "Bolt 2 is open again.", longNotice} {
					c.send(tea.WindowSizeMsg{Width: width, Height: height})
					c.root.notice = notice
					frame := strings.ReplaceAll(c.root.View(), "\n", " \n")
					if !strings.Contains(frame, number) && !strings.Contains(frame, draw.Big(fmt.Sprint(b))[2]) {
						t.Fatalf("%s at %dx%d: no number\n%s", s.name, width, height, frame)
					}
					if !strings.Contains(frame, pressure) || !strings.Contains(frame, "SPACE ") {
						t.Fatalf("%s at %dx%d: no pressure or no key\n%s", s.name, width, height, frame)
					}
					if body := strings.Join(strings.Split(frame, "\n")[1:], "\n"); notice == "" && strings.Contains(body, "~") {
						t.Fatalf("%s at %dx%d: a line is cut\n%s", s.name, width, height, frame)
					}
				}
			}
		}
	}
}

func work(s sequence.Step) (sequence.Bolt, sequence.Work, bool) {
	switch s := s.(type) {
	case sequence.Tighten:
		return s.Bolts[0], s.Work, true
	case sequence.Check:
		return s.Bolt, s.Work, true
	}
	return 0, sequence.Work{}, false
}

// TestSmallWindowKeepsFields: what is typed shows in every window.
func TestSmallWindowKeepsFields(t *testing.T) {
	for _, s := range screens() {
		if s.reach == nil {
			continue
		}
		c := s.reach(t)
		if r := c.root; r.help || !r.screen.Typing() {
			continue
		}
		for width := 40; width <= 84; width++ {
			for height := 10; height <= 24; height++ {
				c.send(tea.WindowSizeMsg{Width: width, Height: height})
				if frame := c.root.View(); !strings.Contains(frame, "_") || !strings.Contains(frame, "> ") {
					t.Fatalf("%s at %dx%d: the field is not there\n%s", s.name, width, height, frame)
				}
			}
		}
	}
}

// TestSmallWindowKeepsWhatIsDecided: no question is answered, no pressure set, nothing
// released and no stopped work opened again unseen, however small the window.
func TestSmallWindowKeepsWhatIsDecided(t *testing.T) {
	seen := map[string]int{}
	for _, s := range screens() {
		if s.reach == nil || strings.HasPrefix(s.name, "practice") {
			continue
		}
		c := s.reach(t)
		r := c.root
		if r.help || r.broken != nil || r.writing || walk.IsTask(r.screen) || r.session.Opened().Practice || strings.HasPrefix(s.name, "hazard") {
			continue
		}
		var want string
		switch step := r.step.(type) {
		case sequence.Ask:
			if want = step.Question.Text; r.screen.Typing() && step.Question.Typed == "" || strings.Contains(s.name, "work-no") {
				continue // a form over the question, which was seen
			}
		case sequence.Set:
			want = "Turn UP to " + step.Tool.Gauged(step.Setting.Set)
			if step.Letter != "" {
				want = "Turn tool " + step.Letter + " UP to " + step.Tool.Gauged(step.Setting.Set)
			}
			if step.AtEnd {
				want = "Read the gauge"
			}
		case sequence.Release:
			if want = strings.Join(strings.Fields(r.session.Walk.ReleaseWords(step)[0])[:4], " "); r.screen.Typing() {
				continue
			}
		case sequence.Stop:
			want = strings.Join(strings.Fields(step.Reason)[:3], " ")
		default:
			continue
		}
		if strings.HasPrefix(s.name, "tool") || strings.HasPrefix(s.name, "hand-over") || strings.HasPrefix(s.name, "parts") || s.name == "stop-more" || s.name == "note" {
			continue
		}
		seen[fmt.Sprintf("%T", r.step)]++
		r.opt.Theme = theme(t, "mono", true, false)
		for width := 40; width <= 84; width++ {
			for height := 10; height <= 24; height++ {
				for _, notice := range []string{"", "Noted."} {
					c.send(tea.WindowSizeMsg{Width: width, Height: height})
					r.notice = notice
					frame := strings.Join(strings.Fields(r.View()), " ")
					large := false
					if set, is := r.step.(sequence.Set); is && !set.AtEnd {
						large = strings.Contains(frame, strings.Join(strings.Fields(draw.Big(set.Set.Reading(set.Tool.Gauge.Unit, set.Tool.Gauge.Division))[2]), " "))
					}
					if !large && !strings.Contains(frame, strings.Join(strings.Fields(want), " ")) {
						t.Fatalf("%s at %dx%d with %q: %q is not there\n%s", s.name, width, height, notice, want, r.View())
					}
				}
			}
		}
	}
	if len(seen) != 4 {
		t.Errorf("seen are %v", seen)
	}
}
