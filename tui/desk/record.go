package desk

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/viewport"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"evenload/data/board"
	"evenload/data/visible"
	"evenload/tui/draw"
)

// opened is the record of a row, read.
type opened struct {
	title, text string
	err         error
}

// part is a table of a record, or lines that are none.
type part struct {
	table  bool
	lines  []string
	widest int // cells
}

// openRow reads the record of a card, or the plan of a job.
func (m *boardModel) openRow(r board.Row) tea.Cmd {
	b, on := m.board, m.now()
	return func() tea.Msg {
		text, err := b.Text(r, on)
		return opened{r.Name(), text, err}
	}
}

func (m *boardModel) open(o opened) {
	m.notice = ""
	if o.err != nil {
		m.notice = visible.Text("NOT SHOWN: " + o.err.Error())
		return
	}
	v := viewport.New(m.width, m.height)
	m.record, m.title, m.text, m.laid, m.aside = &v, o.title, nil, 0, 0
	for l := range strings.SplitSeq(strings.TrimRight(o.text, "\n"), "\n") {
		l = m.theme.Spell(visible.Text(l))
		if n := len(m.text); n == 0 || inTable(l) != m.text[n-1].table {
			m.text = append(m.text, part{table: inTable(l)})
		}
		last := &m.text[len(m.text)-1]
		last.lines, last.widest = append(last.lines, l), max(last.widest, lipgloss.Width(l))
	}
	m.fitRecord()
}

func (m *boardModel) recordFrame() draw.Frame {
	f := draw.Frame{Left: visible.Text(m.title), Right: fmt.Sprintf("READ ONLY   %.0f %%", 100*m.record.ScrollPercent()), Caution: "An overview: evenload verify says whether a card is whole.",
		Keys: []draw.Key{{Key: "up down pgup pgdown", Does: "move"}}}
	if m.mostAside() > 0 {
		f.Keys = append(f.Keys, draw.Key{Key: "left right", Does: "sideways"})
	}
	f.Keys = append(f.Keys, draw.Key{Key: "Esc", Does: "back"}, draw.Key{Key: "ctrl+c", Does: "leave"})
	return f
}

// recordWide is the room of a line of the record.
func (m *boardModel) recordWide() int { return max(20, m.width-3) }

// mostAside is how far the tables can be moved until the widest one ends in sight.
func (m *boardModel) mostAside() int {
	most := 0
	for _, p := range m.text {
		if p.table {
			most = max(most, p.widest-m.recordWide())
		}
	}
	return most
}

func (m *boardModel) fitRecord() {
	f := m.recordFrame()
	m.record.Width, m.record.Height = max(20, m.width-2), f.Room(m.width, m.height, m.theme)
	if m.laid == m.width {
		return
	}
	m.laid, m.aside = m.width, min(m.aside, m.mostAside())
	m.layRecord()
}

// layRecord fits the lines into the window: a paragraph is wrapped, a table keeps its
// columns, and is moved no further than to its own end.
func (m *boardModel) layRecord() {
	wide := m.recordWide()
	var lines []string
	for _, p := range m.text {
		aside := max(0, min(m.aside, p.widest-wide))
		for _, l := range p.lines {
			switch {
			case p.table:
				lines = append(lines, moved(l, aside, wide))
			case lipgloss.Width(l) <= wide:
				lines = append(lines, l)
			default:
				lines = append(lines, draw.Wrap(l, wide)...)
			}
		}
	}
	m.record.SetContent(strings.Join(lines, "\n"))
}

// inTable says that a line has more than one cell.
func inTable(l string) bool { return strings.Contains(strings.TrimSpace(l), "  ") }

// moved is a line of a table, moved so many cells to the left and cut, with a mark at
// each end that is missing. Its first cell stays, since it says what the line is of.
func moved(l string, aside, wide int) string {
	indent := len(l) - len(strings.TrimLeft(l, " "))
	first := indent + strings.Index(l[indent:], "  ")
	rest := strings.TrimLeft(l[first:], " ")
	head := l[:len(l)-len(rest)]
	if lipgloss.Width(head) > wide/2 {
		head, rest = "", l
	}
	if aside > 0 {
		rest = "~" + ansi.Cut(rest, aside+1, max(aside+1, lipgloss.Width(rest)))
	}
	return draw.Cut(head+rest, wide)
}

func (m *boardModel) recordView() string {
	m.fitRecord()
	f := m.recordFrame()
	for _, l := range strings.Split(m.record.View(), "\n") {
		f.Body = append(f.Body, " "+l)
	}
	return draw.Clamp(f.Render(m.width, m.height, m.theme), m.width, m.height)
}

func (m *boardModel) recordKey(k tea.KeyMsg) {
	switch k.String() {
	case "esc", "q", "b":
		m.record = nil
	case "home", "g":
		m.record.GotoTop()
	case "left", "right":
		step := m.recordWide() / 4
		if k.String() == "left" {
			step = -step
		}
		m.aside = max(0, min(m.mostAside(), m.aside+step))
		m.layRecord()
	case "end", "G":
		m.record.GotoBottom()
	default:
		v, _ := m.record.Update(k)
		m.record = &v
	}
}
