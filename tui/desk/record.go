package desk

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/viewport"
	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/board"
	"evenload/data/visible"
	"evenload/tui/draw"
)

// opened is the record of a row, read.
type opened struct {
	title, text string
	err         error
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
	m.record, m.title, m.text, m.laid, m.aside = &v, o.title, partsOf(o.text, m.theme), 0, 0
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

// layRecord fits the lines into the window: what is no table is wrapped, a table keeps
// its columns, and is moved no further than to its own end.
func (m *boardModel) layRecord() {
	wide := m.recordWide()
	var lines []string
	for _, p := range m.text {
		lines = append(lines, p.laid(m.aside, wide)...)
	}
	m.record.SetContent(strings.Join(lines, "\n"))
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
