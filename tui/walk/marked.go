package walk

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/sequence/practice"
	"evenload/tui/draw"
)

// marked is the end of a practice: the mark, and what was missed.
type marked struct {
	run   *practice.Run
	at    int // the first line that is shown
	begin func(View) draw.Frame
}

func newMarked(run *practice.Run) Screen { return marked{run: run, begin: frame} }

func (marked) Typing() bool { return false }

func (m marked) Key(k tea.KeyMsg, v View) (Screen, Want) {
	switch k.String() {
	case "down", "j", " ", "enter":
		m.at = min(m.at+1, max(0, len(m.missed(v))-1))
		return m, Want{}
	case "up", "k":
		m.at = max(0, m.at-1)
		return m, Want{}
	}
	want, _ := common(k)
	want.Hazard = false
	return m, want
}

func (m marked) Frame(v View) draw.Frame {
	f := m.begin(v)
	f.Right = "YOUR MARK"
	f.Caution = practice.Word + " The log says so too: your supervisor signs it."
	f.Keys = []draw.Key{{Key: "q", Does: "leave, and write the log"}}
	mark := m.run.Mark(true)
	body := []string{""}
	for i, line := range draw.Big(fmt.Sprint(mark.Total)) {
		tail := ""
		if i == 4 {
			tail = "  %"
		}
		word := ""
		if i < len(mark.Parts) {
			p := mark.Parts[i]
			word = fmt.Sprintf("%-10s %4d %%   %d of %d right", p.Part, p.Mark, p.Right, p.Asked)
		}
		body = append(body, "  "+pad(v.Theme.Paint(draw.BigRole, line)+tail, 26)+word)
	}
	body = append(body, "")
	missed := m.missed(v)
	if len(missed) == 0 {
		f.Body = append(body, "  Nothing was missed.")
		return f
	}
	room := f.Room(v.Width, v.Height, v.Theme) - len(body) - 1
	f.Keys = append([]draw.Key{{Key: "up down", Does: "all that was missed"}}, f.Keys...)
	body = append(body, fmt.Sprintf("  Missed, %d in all:", len(m.run.Missed())))
	f.Body = append(body, missed[min(m.at, max(0, len(missed)-room)):]...)
	return f
}

func (m marked) missed(v View) []string {
	var lines []string
	for i, a := range m.run.Missed() {
		text := fmt.Sprintf("%d. %s: %s Answered %s, right was %s. %s", i+1, a.Part, sentence(a.Asked), a.Given, a.Right, a.Why)
		lines = append(lines, indent(draw.Wrap(text, max(20, v.Width-6)), 2)...)
	}
	return lines
}

// sentence ends a text with a full stop where it has no end.
func sentence(s string) string {
	if n := len(s); n > 0 && (s[n-1] == '.' || s[n-1] == '?') {
		return s
	}
	return s + "."
}
