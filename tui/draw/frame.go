package draw

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"evenload/data/visible"
)

// Smallest window in which the walk is shown.
const (
	leastWidth  = 40
	leastHeight = 10
)

// mostNotice is how many lines a message may take: it leaves the work in sight.
const mostNotice = 4

// These stand for the lines of a body that found no room.
const (
	moreBelow = " more below: PgDn, or a higher window"
	moreAbove = " more above: PgUp"
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
	From        int      // the first line of the body that is shown, where not all are
	Fields      []string // of a form, below the body: kept where the body is cut
	Notice      string   // a message: why a key was not taken
	Caution     string
	Keys        []Key // only those that work now
}

// Render draws the frame for a window, one column short of its width. Where
// room is short, the body is cut from its end, before the caution and the keys.
// A window without size gets nothing.
func (f Frame) Render(w, h int, t Theme) string {
	if w < 1 || h < 1 {
		return ""
	}
	w--
	if TooSmall(w+1, h) {
		return cut(fmt.Sprintf("window too small: %d x %d or more", leastWidth, leastHeight), w)
	}
	foot := f.foot(w, h-2, t)
	lines := append(make([]string, 0, h), f.head(w, t), strings.Repeat("-", w))
	room := h - len(lines) - len(foot)
	fields := f.Fields[:min(len(f.Fields), room)]
	lines = append(append(lines, fit(f.Body, room-len(fields), f.From)...), fields...)
	for len(lines) < h-len(foot) {
		lines = append(lines, "")
	}
	lines = append(lines, foot...)
	for i, l := range lines {
		lines[i] = cut(t.Spell(oneLine.Replace(l)), w)
	}
	return strings.Join(lines, "\n")
}

// Pages is by how many lines the body moves at a key, 0 where all of it is shown, and
// the last line that can be the first.
func (f Frame) Pages(w, h int, t Theme) (page, last int) {
	room := h - 2 - len(f.foot(w-1, h-2, t))
	room -= min(len(f.Fields), room)
	all := len(compact(f.Body, room))
	if TooSmall(w, h) || all <= room {
		return 0, 0
	}
	return max(1, room-2), max(0, all-room+1)
}

// Room is how many lines a window leaves for the body beside a message of two
// lines, so that a message coming up pushes nothing off.
func (f Frame) Room(w, h int, t Theme) int {
	f.Notice = ""
	return max(1, h-2-len(f.foot(w-1, h-2, t))-2)
}

// fit brings a body into the room there is: without empty lines, then from a line on, and
// a line says what is not shown; of one line its end does.
func fit(body []string, room, from int) []string {
	body = compact(body, room)
	switch {
	case len(body) <= room:
		return body
	case room < 1:
		return nil
	}
	from = max(0, min(from, len(body)-room+1)) // the end fills the room
	rest := body[from:]
	switch {
	case room == 1:
		return []string{rest[0] + " ~"}
	case from == 0 || room == 2:
		return append(slices.Clone(rest[:room-1]), moreBelow)
	case len(rest) < room:
		return append([]string{moreAbove}, rest...)
	}
	return append(append([]string{moreAbove}, rest[:room-2]...), moreBelow)
}

// compact leaves out empty lines where there is no room for them: one at either end
// first, then all.
func compact(body []string, room int) []string {
	for len(body) > room && blank(body[len(body)-1]) {
		body = body[:len(body)-1]
	}
	if len(body) > room && blank(body[0]) {
		body = body[1:]
	}
	if len(body) > room {
		body = slices.DeleteFunc(slices.Clone(body), blank)
	}
	return body
}

func blank(s string) bool { return strings.TrimSpace(ansi.Strip(s)) == "" }

// head keeps the right side whole, which says where in the job one is.
func (f Frame) head(w int, t Theme) string {
	right := cut(t.Spell(f.Right), w-2) + " "
	left := cut(" "+t.Spell(f.Left), w-width(right)-1)
	gap := max(0, w-width(left)-width(right))
	return t.Paint(Title, left) + strings.Repeat(" ", gap) + t.Paint(Strong, right)
}

// foot is notice, caution and keys in at most h-2 lines: two lines are left for
// the body. The keys get their lines first, then the caution, then the notice.
func (f Frame) foot(w, h int, t Theme) []string {
	keys := first(f.keys(w, t), h-3, w)
	room := h - 2 - len(keys)
	notice := Wrap(t.Spell(visible.Text(f.Notice)), w-2)
	caution := first(Wrap(t.Spell(f.Caution), w-2), room-min(1, len(notice)), w-2)
	notice = first(notice, min(mostNotice, room-len(caution)), w-2)
	var lines []string
	for _, l := range notice {
		lines = append(lines, " "+t.Paint(Now, l))
	}
	for _, l := range caution {
		lines = append(lines, " "+t.Paint(Danger, l))
	}
	return append(lines, keys...)
}

// keys goes to the next line between two keys, never within one. Narrower gaps
// are taken where they save a line.
func (f Frame) keys(w int, t Theme) []string {
	wide, narrow := f.keysApart(3, w, t), f.keysApart(2, w, t)
	if len(narrow) < len(wide) {
		return narrow
	}
	return wide
}

// keysApart has the keys with gaps of some columns.
func (f Frame) keysApart(gap, w int, t Theme) []string {
	var lines []string
	line, wide := "", 0
	for _, k := range f.Keys {
		need := width(k.Key) + 1 + width(k.Does)
		if wide > 0 && wide+gap+need > w {
			lines, line, wide = append(lines, line), "", 0
		}
		before := gap
		if wide == 0 {
			before = 1
		}
		line += strings.Repeat(" ", before) + t.Paint(KeyRole, k.Key) + " " + k.Does
		wide += before + need
	}
	return append(lines, line)
}
