package desk

import (
	"slices"

	"github.com/charmbracelet/bubbles/table"
	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/board"
	"evenload/data/visible"
	"evenload/tui/draw"
	"evenload/tui/entry"
)

func (m *boardModel) key(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	m.notice, m.chose = "", true
	name := k.String()
	if k.Type == tea.KeyRunes && len(k.Runes) > 1 {
		name = "" // a word that came at once is text, even "end" or "down"
	}
	switch {
	case name == "ctrl+c":
		return m, tea.Quit
	case m.help:
		m.help = false
	case m.record != nil:
		m.recordKey(k)
	case m.typing:
		m.typeFilter(k, name)
	case name == "q":
		return m, tea.Quit
	case name == "?":
		m.help = true
	case name == "/":
		m.typing = true
		m.layout()
		return m, m.filter.Focus()
	case name == "esc":
		if m.filter.Value() != "" || m.show != board.ShowAll {
			m.filter.SetValue("")
			m.show = board.ShowAll
			m.choose()
		}
	case name == "s" && m.query.Tool == "":
		m.order, m.back = (m.order+1)%board.Orders, false
		m.choose()
		m.table.GotoTop()
	case name == "r":
		m.back = !m.back
		m.choose()
		m.table.GotoTop()
	case name == "f":
		m.show = (m.show + 1) % board.Shows
		m.choose()
		m.table.GotoTop()
	case name == "enter":
		if l := m.chosen(); l != nil {
			m.notice = "reading " + visible.Text(l.row.Path)
			return m, m.openRow(l.row)
		}
	default:
		m.table, _ = m.table.Update(k)
	}
	return m, nil
}

// typeFilter takes a key while the filter is typed: the rows follow each letter.
func (m *boardModel) typeFilter(k tea.KeyMsg, name string) {
	switch name {
	case "enter":
		m.typing = false
		m.filter.Blur()
		m.layout()
		return
	case "esc":
		m.typing = false
		m.filter.Blur()
		m.filter.SetValue("")
		m.layout()
		m.choose()
		return
	case "up", "down", "pgup", "pgdown":
		m.table, _ = m.table.Update(k)
		return
	}
	before := m.filter.Value()
	m.filter, _ = entry.Into(m.filter, k)
	if m.filter.Value() != before {
		m.choose()
	}
}

// choose sorts and filters the lines, and stays at the same one where it is
// still there.
func (m *boardModel) choose() {
	path := ""
	if l := m.chosen(); l != nil && m.chose {
		path = l.row.Path
	}
	if m.query.Tool == "" {
		rows := make([]board.Row, len(m.all))
		for i, l := range m.all {
			rows[i] = l.row
		}
		m.order.Sort(rows, m.back)
		for i, r := range rows {
			m.all[i].row = r
		}
	} else if m.back != m.turned {
		slices.Reverse(m.all)
		m.turned = m.back
	}
	m.lines = m.lines[:0]
	at := 0
	for _, l := range m.all {
		if !m.show.Takes(l.row) || m.filter.Value() != "" && !l.row.Matches(m.filter.Value()) {
			continue
		}
		if l.row.Path == path {
			at = len(m.lines)
		}
		m.lines = append(m.lines, l)
	}
	m.layout()
	m.table.SetCursor(at)
}

// layout gives the table the room that the window has.
func (m *boardModel) layout() {
	if m.width == 0 {
		return
	}
	cursor := max(0, m.table.Cursor())
	cols := m.columns()
	m.table.SetRows(nil) // bubbles draws rows with the new columns at once
	m.table.SetColumns(titles(cols))
	rows := make([]table.Row, len(m.lines))
	for i, l := range m.lines {
		row := table.Row{""}
		for _, c := range cols {
			row = append(row, draw.Cut(m.theme.Spell(visible.Text(c.cell(l))), c.width-1))
		}
		rows[i] = row
	}
	m.table.SetWidth(m.width - 1)
	m.table.SetHeight(m.tableHeight())
	m.table.SetRows(rows)
	m.table.SetCursor(cursor)
}
