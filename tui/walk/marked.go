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
	begin func(*View) draw.Frame
}

const markedCaution = practice.Word + " The log says so too: your supervisor signs it."

var (
	markedUp    = draw.Key{Key: "up", Does: "back"}
	markedDown  = draw.Key{Key: "down", Does: "more"}
	markedLeave = draw.Key{Key: "q", Does: "leave, and write the log"}
)

func newMarked(run *practice.Run) Screen { return marked{run: run, begin: frame} }

func (marked) Typing() bool { return false }

func (m marked) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	by := map[string]int{"down": 1, "pgdown": m.rows(v), "up": -1, "pgup": -m.rows(v)}[k.String()]
	if by != 0 {
		m.at = max(0, min(m.from(v)+by, len(m.missed(v))-m.rows(v)))
		return m, Want{}
	}
	want, _ := common(k)
	return m, want
}

func (m marked) Frame(v *View) draw.Frame {
	f := m.begin(v)
	f.Right = "YOUR MARK"
	f.Caution = markedCaution
	f.Keys = []draw.Key{keyHelp, markedLeave}
	body := m.head(v)
	missed, from := m.missed(v), m.from(v)
	if len(missed) == 0 {
		f.Body = append(body, "  Nothing was missed.")
		return f
	}
	if m.more(v) {
		f.Keys = append([]draw.Key{markedDown}, f.Keys...)
	}
	if from > 0 {
		f.Keys = append([]draw.Key{markedUp}, f.Keys...)
	}
	body = append(body, fmt.Sprintf("  Missed, %d in all:", len(m.run.Missed())))
	f.Body = append(body, missed[from:min(from+m.rows(v), len(missed))]...)
	return f
}

// rows is how many lines of what was missed have room, beside the keys that go through them.
func (m marked) rows(v *View) int {
	f := m.begin(v)
	f.Caution, f.Keys = markedCaution, []draw.Key{markedUp, markedDown, keyHelp, markedLeave}
	return max(1, f.Room(v.Width, v.Height, v.Theme)-len(m.head(v))-1)
}

// more says that what was missed goes on below.
func (m marked) more(v *View) bool { return m.from(v)+m.rows(v) < len(m.missed(v)) }

// from is the first line that is shown, also after the window has changed.
func (m marked) from(v *View) int { return max(0, min(m.at, len(m.missed(v))-1)) }

// head is the mark, large, and its parts.
func (m marked) head(v *View) []string {
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

func (m marked) missed(v *View) []string {
	var lines []string
	for i, a := range m.run.Missed() {
		text := fmt.Sprintf("%d. %s: %s", i+1, a.Part, a.Words())
		lines = append(lines, indent(draw.Wrap(text, max(20, v.Width-6)), 2)...)
	}
	return lines
}
