package desk

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/table"
	"github.com/charmbracelet/x/ansi"

	"evenload/data/board"
	"evenload/data/visible"
	"evenload/tui/draw"
)

// column of the table: its title, its room with a space behind, what stands in it.
type column struct {
	title string
	width int
	cell  func(line) string
}

// columns are those that the window has room for. The last one takes what is left.
func (m *boardModel) columns() []column {
	wide := m.width >= 110
	cols := []column{{"JOINT", 15, func(l line) string { return l.row.Name() }}, {"STAGE", 11, func(l line) string { return l.row.StageWord() }}}
	switch {
	case m.query.Tool != "":
		cols = append(cols, column{"TOOL", 9, func(l line) string { return l.hit.Tool }}, column{"DAY", 11, func(l line) string { return dayWord(l.hit) }},
			column{"PLACE", 17, func(l line) string { return l.hit.PlaceWord() }}, column{"BOLTS", 0, func(l line) string { return l.hit.BoltsText() }})
	case wide:
		cols = append(cols, column{"PASS", 12, func(l line) string { return l.row.PassWord() }}, column{"BOLTS", 8, func(l line) string { return l.row.BoltsWord() }},
			column{"WHO", 14, func(l line) string { return l.row.Who() }}, column{"LAST, LOCAL TIME", 18, func(l line) string { return l.row.LastWord(m.now()) }})
	default:
		cols = append(cols, column{"PASS", 11, func(l line) string { return l.row.PassWord() }}, column{"BOLTS", 6, func(l line) string { return l.row.BoltsWord() }},
			column{"LAST", 7, func(l line) string { return l.row.AgeWord(m.now()) }})
	}
	if m.query.Tool == "" {
		cols = append(cols, column{"WAITS FOR", 0, func(l line) string { return l.row.WaitWord() }})
	}
	left := m.width - 3
	for _, c := range cols {
		left -= c.width
	}
	cols[len(cols)-1].width = max(8, left)
	return cols
}

func dayWord(h board.Hit) string {
	if h.Day.IsZero() {
		return ""
	}
	return h.Day.String()
}

// titles are the columns for the table, the first for the marker of the chosen row.
func titles(cols []column) []table.Column {
	all := []table.Column{{Width: 2}}
	for _, c := range cols {
		all = append(all, table.Column{Title: c.title, Width: c.width})
	}
	return all
}

func (m *boardModel) frame() draw.Frame {
	what := "BOARD"
	if m.query.Tool != "" {
		what = "TOUCHED BY " + visible.Text(m.query.Tool) + m.query.SinceWord()
	}
	files, practice := m.board.Seen()
	right := fmt.Sprintf("%d of %d", len(m.lines), len(m.all))
	if m.looking && m.next == m.board {
		right = fmt.Sprintf("reading, %d files", files)
	}
	f := draw.Frame{Left: what + "   " + visible.Text(m.dir), Right: right, Caution: "An overview: before you act, look at the joint and its card."}
	f.Notice = cmp.Or(m.notice, visible.Text(m.nobody))
	if m.typing {
		f.Fields = []string{" > Filter  [ " + draw.Cut(visible.Text(m.filter.Value()), 30) + "_ ]"}
		f.Keys = []draw.Key{{Key: "type, Enter", Does: "keep it"}, {Key: "Esc", Does: "all rows"}, {Key: "ctrl+c", Does: "leave"}}
		return f
	}
	if text := m.filter.Value(); text != "" {
		f.Fields = []string{"   Filter  [ " + draw.Cut(visible.Text(text), 30) + " ]  / changes it, Esc shows all rows"}
	}
	f.Keys = []draw.Key{{Key: "up down", Does: "choose"}, {Key: "Enter", Does: "record"}, {Key: "/", Does: "filter"}}
	if m.query.Tool == "" {
		f.Keys = append(f.Keys, draw.Key{Key: "s", Does: "by " + m.order.String()})
	}
	f.Keys = append(f.Keys, draw.Key{Key: "r", Does: "turn round"}, draw.Key{Key: "f", Does: "show " + m.show.String()}, draw.Key{Key: "?", Does: "help"}, draw.Key{Key: "q", Does: "leave"})
	if practice > 0 {
		f.Left += fmt.Sprintf("   %d practice cards left out", practice)
	}
	return f
}

// told is all about the chosen row, what the table cuts and what it has no
// room for, in n lines: the file has two where it needs them, since the names of forks
// differ at their ends, each other text one before any has another.
func (m *boardModel) told(l line, n int) []string {
	r := l.row
	texts := []string{strings.TrimSuffix(r.Name()+"   "+r.Where, "   ")}
	for _, w := range r.Waits {
		texts = append(texts, w.For+": "+w.Why)
	}
	if r.Last != "" {
		texts = append(texts, "last "+r.LastWord(m.now())+" "+r.LastBy+": "+r.Last)
	}
	file := len(texts)
	texts = append(texts, r.Path)
	for _, c := range r.Copies {
		texts = append(texts, "also at "+c)
	}
	wide := max(10, m.width-6)
	wrapped := make([][]string, len(texts))
	room := make([]int, len(texts)) // lines of each
	for i, text := range texts {
		wrapped[i] = draw.Wrap(m.theme.Spell(visible.Text(text)), wide)
	}
	room[file] = min(2, n, len(wrapped[file]))
	n -= room[file]
	for i := range room {
		if i != file && n > 0 {
			room[i], n = 1, n-1
		}
	}
	for i := range room {
		more := min(n, len(wrapped[i])-room[i])
		room[i], n = room[i]+more, n-more
	}
	var lines []string
	for i, parts := range wrapped {
		switch n := room[i]; {
		case len(parts) <= n || n == 0:
		case i == file:
			parts = endOf(parts, n)
		default:
			parts = append(parts[:n-1:n-1], draw.Cut(strings.Join(parts[n-1:], " "), wide))
		}
		for k, part := range parts[:min(len(parts), room[i])] {
			if k > 0 {
				part = "  " + part
			}
			lines = append(lines, "  "+part)
		}
	}
	return lines
}

// endOf are the last n of the lines, with a mark where what stands before is missing.
func endOf(lines []string, n int) []string {
	last := append([]string{}, lines[len(lines)-n:]...)
	last[0] = "~" + ansi.TruncateLeft(last[0], 1, "")
	return last
}

// toldLines is how many lines the chosen row has below the table.
func (m *boardModel) toldLines() int {
	switch {
	case m.height < 16:
		return 0
	case m.height < 32:
		return 5
	}
	return 9
}

// tableHeight is how many lines the table has, its head included. A message of
// two lines pushes nothing of it off.
func (m *boardModel) tableHeight() int {
	f := m.frame()
	room := f.Room(m.width, m.height, m.theme) - len(f.Fields)
	if told := m.toldLines(); told > 0 {
		room -= told + 1
	}
	return max(2, room)
}

func (m *boardModel) View() string {
	switch {
	case m.width == 0 || m.height == 0:
		return "evenload"
	case m.record != nil:
		return m.recordView()
	}
	f := m.frame()
	switch {
	case m.help:
		f = draw.Frame{Left: f.Left, Right: "HELP", Caution: f.Caution, Keys: []draw.Key{{Key: "any key", Does: "back"}}}
		for _, text := range []string{"Every job and card below the folder: where it stands, and what waits for whom. The most urgent stand first.",
			"Enter shows the record of a card, or the plan of a job, to read only.",
			"/ keeps the rows that have a text anywhere: a tag, a name, a tool, a word. f shows all, not closed, waiting, damaged, closed in turn.",
			"s sorts by waits, joint, stage, last event, who in turn; r turns the order round. What is damaged stands first in each.",
			"LAST is how long ago the last line was written, in a wide window when; all times are local to this computer. Below the table stands all about the chosen row.",
			"Copies of one card in several places are one row; a fork is a card that went on in two ways: keep both, ask the foreman.",
			"The folder is read again every few seconds."} {
			f.Body = append(f.Body, "")
			for _, l := range draw.Wrap(text, max(20, m.width-5)) {
				f.Body = append(f.Body, "  "+l)
			}
		}
	case len(m.all) == 0 && !m.looking:
		f.Body = []string{"", "  No job and no card below this folder."}
	case len(m.lines) == 0 && len(m.all) > 0:
		f.Body = []string{"", "  No row is like that. Esc shows all."}
	default:
		f.Body = strings.Split(m.table.View(), "\n")
		f.Body[0] = m.theme.Paint(draw.Strong, strings.TrimRight(f.Body[0], " "))
		if l := m.chosen(); l != nil && m.toldLines() > 0 {
			f.Body = append(append(f.Body, ""), m.told(*l, m.toldLines())...)
		}
	}
	return draw.Clamp(f.Render(m.width, m.height, m.theme), m.width, m.height)
}
