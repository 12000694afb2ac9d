package draw

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// Smallest window in which the walk is shown.
const (
	leastWidth  = 40
	leastHeight = 10
)

// TooSmall says that a window shows too little to work by: no key counts there
// but leaving.
func TooSmall(w, h int) bool { return w < leastWidth || h < leastHeight }

// Key is a key and what it does.
type Key struct{ Key, Does string }

// Frame is one screen: the same places on every one. Line 1 says which joint
// and where in the job; the danger of this step stands just above the keys.
type Frame struct {
	Left, Right string
	Body        []string
	Notice      string // a message: why a key was not taken
	Caution     string
	Keys        []Key // only those that work now
}

// Render draws the frame for a window, one column short of its width. Where
// room is short, the body is cut, never the caution or the keys.
func (f Frame) Render(w, h int, t Theme) string {
	if w < 1 || h < 1 {
		return ""
	}
	if TooSmall(w, h) {
		return cut(t.Spell(fmt.Sprintf("window too small: %d x %d or more", leastWidth, leastHeight)), w)
	}
	w--
	foot := f.foot(w, t)
	top := []string{f.head(w, t), strings.Repeat("-", w)}
	room := h - len(top) - len(foot)
	body := f.Body
	if len(body) > room && len(body) > 0 && strings.TrimSpace(ansi.Strip(body[0])) == "" {
		body = body[1:]
	}
	if len(body) > room {
		body = append(append([]string(nil), body[:max(0, room-1)]...), " more below: make the window higher")
		body = body[:max(0, min(len(body), room))]
	}
	lines := append(top, body...)
	for len(lines) < h-len(foot) {
		lines = append(lines, "")
	}
	lines = append(lines, foot...)
	for i := range lines {
		lines[i] = cut(t.Spell(lines[i]), w)
	}
	return strings.Join(lines[:min(h, len(lines))], "\n")
}

func (f Frame) head(w int, t Theme) string {
	right := f.Right + " "
	left := cut(" "+f.Left, max(0, w-ansi.StringWidth(right)-2))
	gap := max(1, w-ansi.StringWidth(left)-ansi.StringWidth(right))
	return t.Paint(Title, left) + strings.Repeat(" ", gap) + t.Paint(Strong, right)
}

// foot is notice, caution and keys.
func (f Frame) foot(w int, t Theme) []string {
	var lines []string
	if f.Notice != "" {
		for _, l := range first(Wrap(Clean(f.Notice), w-2), 2) {
			lines = append(lines, " "+t.Paint(Now, l))
		}
	}
	if f.Caution != "" {
		for _, l := range first(Wrap(f.Caution, w-2), 2) {
			lines = append(lines, " "+t.Paint(Danger, l))
		}
	}
	return append(lines, first(f.keys(w, t), 3)...)
}

func first(lines []string, n int) []string { return lines[:min(n, len(lines))] }

func (f Frame) keys(w int, t Theme) []string {
	var lines []string
	line, wide := "", 0
	for _, k := range f.Keys {
		need := ansi.StringWidth(k.Key) + 1 + ansi.StringWidth(k.Does) + 3
		if wide > 0 && wide+need > w {
			lines, line, wide = append(lines, line), "", 0
		}
		line += " " + t.Paint(KeyRole, k.Key) + " " + k.Does + "  "
		wide += need + 1
	}
	return append(lines, line)
}
