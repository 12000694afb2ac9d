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
	if k.String() == "down" && m.more(v) {
		m.at++
		return m, Want{}
	}
	if k.String() == "up" && m.at > 0 {
		m.at--
		return m, Want{}
	}
	want, _ := common(k)
	return m, want
}

func (m marked) Frame(v View) draw.Frame {
	f := m.begin(v)
	f.Right = "YOUR MARK"
	f.Caution = practice.Word + " The log says so too: your supervisor signs it."
	f.Keys = []draw.Key{keyHelp, {Key: "q", Does: "leave, and write the log"}}
	body := m.head(v)
	missed := m.missed(v)
	if len(missed) == 0 {
		f.Body = append(body, "  Nothing was missed.")
		return f
	}
	if m.more(v) {
		f.Keys = append([]draw.Key{{Key: "down", Does: "more"}}, f.Keys...)
	}
	if m.at > 0 {
		f.Keys = append([]draw.Key{{Key: "up", Does: "back"}}, f.Keys...)
	}
	body = append(body, fmt.Sprintf("  Missed, %d in all:", len(m.run.Missed())))
	f.Body = append(body, missed[min(m.at, len(missed)-1):]...)
	return f
}

// more says that what was missed goes on below.
func (m marked) more(v View) bool {
	const foot = 6 // head, caution and keys
	return len(m.head(v))+1+len(m.missed(v))-m.at > v.Height-foot && m.at < len(m.missed(v))-1
}

// head is the mark, large, and its parts.
func (m marked) head(v View) []string {
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
	return append(body, "")
}

func (m marked) missed(v View) []string {
	var lines []string
	for i, a := range m.run.Missed() {
		text := fmt.Sprintf("%d. %s: %s", i+1, a.Part, a.Words())
		lines = append(lines, indent(draw.Wrap(text, max(20, v.Width-6)), 2)...)
	}
	return lines
}
