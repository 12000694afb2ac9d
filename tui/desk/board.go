package desk

import (
	"context"
	"fmt"
	"time"

	"github.com/charmbracelet/bubbles/table"
	"github.com/charmbracelet/bubbles/textinput"
	"github.com/charmbracelet/bubbles/viewport"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"

	"evenload/data/board"
	"evenload/joint"
	"evenload/tui/draw"
	"evenload/tui/window"
)

// lookAgain is how long the board rests between two looks at the folder; more
// where one look takes long.
const lookAgain = 5 * time.Second

// boardModel is the board on the screen.
type boardModel struct {
	ctx    context.Context
	dir    string
	cache  *board.Cache
	query  board.Recall // with a tool: what it touched, in place of the rows
	nobody string       // says that nothing here names that tool
	theme  draw.Theme
	now    func() time.Time

	board   *board.Board // that is shown
	next    *board.Board // that is being read, the same on the first look
	looking bool
	began   time.Time
	err     error

	all    []line // unfiltered
	lines  []line // as shown
	table  table.Model
	order  board.Order
	back   bool // sorted the other way round
	turned bool // as the lines of a query are now
	show   board.Show
	filter textinput.Model
	typing bool
	chose  bool // the person has pressed a key: what is chosen then stays so
	help   bool
	notice string

	record *viewport.Model // of the row that is open
	title  string
	text   []part // of the record, as it was read
	laid   int    // width of the window that it was fitted into
	aside  int    // cells that its tables are moved by

	width, height int
}

// line is one line of the table with the row behind it.
type line struct {
	row board.Row
	hit board.Hit // with a query
}

// Board shows every job and card below a folder until the person leaves.
func Board(dir string, c *board.Cache, q board.Recall, t draw.Theme) error {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	m := newBoard(ctx, dir, c, q, t, time.Now)
	if err := window.Show(m); err != nil {
		return fmt.Errorf("the screen failed: %w", err)
	}
	return m.err
}

func newBoard(ctx context.Context, dir string, c *board.Cache, q board.Recall, t draw.Theme, now func() time.Time) *boardModel {
	m := &boardModel{ctx: ctx, dir: dir, cache: c, query: q, theme: t, now: now, filter: textinput.New()}
	m.filter.Prompt, m.filter.CharLimit = "", 60
	m.board = board.New(dir)
	m.next = m.board
	// The marker is a letter, so that the row is known without any style.
	m.table = table.New(table.WithFocused(true), table.WithStyles(table.Styles{
		Header: lipgloss.NewStyle(), Cell: lipgloss.NewStyle(),
		Selected: lipgloss.NewStyle().Transform(func(s string) string { return t.Paint(draw.Now, ">"+s[min(1, len(s)):]) }),
	}))
	return m
}

func (m *boardModel) Init() tea.Cmd { return m.look() }

// arrived are summaries that were read since the last ones.
type arrived struct {
	some  []board.Summary
	from  <-chan board.Summary
	err   func() error
	ended bool
}

// settled means that the copies of the board that was read are compared.
type settled struct{}

// again means that it is time to look at the folder again.
type again struct{}

// look begins to read the folder.
func (m *boardModel) look() tea.Cmd {
	m.looking, m.began = true, m.now()
	ctx, dir, cache, on := m.ctx, m.dir, m.cache, joint.DateOf(m.now())
	found := make(chan board.Summary, 256)
	var failed error
	read := func() tea.Msg {
		defer close(found)
		failed = board.Scan(ctx, dir, cache, on, func(s board.Summary) {
			select {
			case found <- s:
			case <-ctx.Done():
			}
		})
		return nil
	}
	return tea.Batch(read, collect(found, func() error { return failed }))
}

// collect waits for summaries and gives those that come within a tenth of a second.
func collect(from <-chan board.Summary, err func() error) tea.Cmd {
	return func() tea.Msg {
		a := arrived{from: from, err: err}
		late := time.After(100 * time.Millisecond)
		for {
			select {
			case s, ok := <-from:
				if !ok {
					a.ended = true
					return a
				}
				a.some = append(a.some, s)
			case <-late:
				return a
			}
		}
	}
}

// Update turns messages into state and effects.
func (m *boardModel) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height = msg.Width, msg.Height
		m.layout()
		return m, tea.ClearScreen
	case window.HangUp:
		return m, tea.Quit
	case arrived:
		return m, m.take(msg)
	case settled:
		m.board, m.looking = m.next, false
		m.refresh()
		took := m.now().Sub(m.began)
		return m, tea.Tick(max(lookAgain, 20*took), func(time.Time) tea.Msg { return again{} })
	case again:
		m.next = board.New(m.dir)
		return m, m.look()
	case opened:
		m.open(msg)
		return m, nil
	case tea.KeyMsg:
		return m.key(msg)
	}
	return m, nil
}

// take adds what was read. The first look shows its rows as they come; a later
// one shows nothing until it is complete.
func (m *boardModel) take(a arrived) tea.Cmd {
	for _, s := range a.some {
		m.next.Add(s)
	}
	if !a.ended {
		if m.next == m.board && len(a.some) > 0 {
			m.refresh()
		}
		return collect(a.from, a.err)
	}
	if m.err = a.err(); m.err != nil && m.next == m.board {
		return tea.Quit
	}
	next := m.next
	return func() tea.Msg { next.Settle(); return settled{} }
}

// refresh makes the lines anew and keeps the chosen one.
func (m *boardModel) refresh() {
	rows := m.board.Rows(m.now())
	m.all = m.all[:0]
	if m.query.Tool == "" {
		for _, r := range rows {
			m.all = append(m.all, line{row: r})
		}
	} else {
		hits, unknown := m.query.Find(rows)
		m.nobody = ""
		if !m.looking {
			m.nobody = m.query.UnknownWord(rows)
		}
		for _, h := range hits {
			m.all = append(m.all, line{row: h.Row, hit: h})
		}
		for _, r := range unknown {
			m.all = append(m.all, line{row: r, hit: board.Unknown(r)})
		}
	}
	m.choose()
}

// chosen is the line at hand, nil when there is none.
func (m *boardModel) chosen() *line {
	if i := m.table.Cursor(); i >= 0 && i < len(m.lines) {
		return &m.lines[i]
	}
	return nil
}
