// Package desk has the foreman's screens.
package desk

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenload/data/visible"
	"evenload/tui/draw"
	"evenload/tui/window"
)

// Item is a line of the list: a job file, an open card or a practice joint.
type Item struct {
	Kind string // job, card, practice
	Name string
	Text string
}

// NoWork is said where a folder has neither a job nor an open card.
const NoWork = "No job and no open card in this folder; evenload board DIR looks below one."

// HasWork says that some item is more than practice.
func HasWork(items []Item) bool {
	return slices.ContainsFunc(items, func(it Item) bool { return it.Kind != "practice" })
}

// list lets a person choose.
type list struct {
	items         []Item
	theme         draw.Theme
	at            int
	chosen        int
	width, height int
}

// New is the list as a model.
func New(items []Item, t draw.Theme) tea.Model { return newList(items, t) }

func newList(items []Item, t draw.Theme) *list { return &list{items: items, theme: t, chosen: -1} }

// Choose shows the list and gives the place of the chosen item, -1 for none.
func Choose(items []Item, t draw.Theme) (int, error) {
	m := newList(items, t)
	if err := window.Show(m); err != nil {
		return -1, fmt.Errorf("the screen failed: %w", err)
	}
	return m.chosen, nil
}

func (l *list) Init() tea.Cmd { return nil }

func (l *list) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch m := msg.(type) {
	case tea.WindowSizeMsg:
		l.width, l.height = m.Width, m.Height
		return l, tea.ClearScreen
	case window.HangUp:
		return l, tea.Quit
	case tea.KeyMsg:
		switch m.String() {
		case "q", "ctrl+c":
			return l, tea.Quit
		case "up", "k":
			l.at = max(0, l.at-1)
		case "down", "j":
			l.at = min(len(l.items)-1, l.at+1)
		case "enter":
			if len(l.items) > 0 {
				l.chosen = l.at
				return l, tea.Quit
			}
		}
	}
	return l, nil
}

func (l *list) View() string {
	if l.width == 0 || l.height == 0 {
		return "evenload"
	}
	f := draw.Frame{Left: "evenload", Right: fmt.Sprintf("JOBS AND OPEN CARDS   %d of %d", l.at+1, len(l.items)), Caution: "Site procedure and permit come first.",
		Keys: []draw.Key{{Key: "up down", Does: "choose"}, {Key: "Enter", Does: "open"}, {Key: "q", Does: "leave"}}}
	room := f.Room(l.width, l.height, l.theme)
	if !HasWork(l.items) {
		f.Body = append(draw.Wrap(NoWork, max(20, l.width-5)), "")
		for i := range f.Body {
			f.Body[i] = "  " + f.Body[i]
		}
		room = max(1, room-len(f.Body))
	}
	from := max(0, l.at-room+1)
	named := 0
	for _, it := range l.items {
		named = max(named, ansi.StringWidth(visible.Text(it.Name)))
	}
	for i := from; i < min(len(l.items), from+room); i++ {
		it := l.items[i]
		line := fmt.Sprintf("%-9s  %s  %s", it.Kind, pad(visible.Text(it.Name), named), visible.Text(it.Text))
		if i != l.at {
			f.Body = append(f.Body, "   "+line)
			continue
		}
		f.Body = append(f.Body, " "+l.theme.Paint(draw.Now, "> "+line))
		if ansi.StringWidth(line)+4 > l.width {
			f.Notice = it.Name + "   " + it.Text // whole, where the line is cut
		}
	}
	return draw.Clamp(f.Render(l.width, l.height, l.theme), l.width, l.height)
}
