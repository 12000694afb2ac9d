package desk

import (
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/tui/draw"
)

func press(m *list, keys ...tea.KeyType) (left bool) {
	for _, k := range keys {
		if _, cmd := m.Update(tea.KeyMsg{Type: k}); cmd != nil {
			left = true
		}
	}
	return left
}

func many(n int) []Item {
	var items []Item
	for i := range n {
		items = append(items, Item{Kind: "job", Name: fmt.Sprintf("job-%02d.toml", i)})
	}
	return items
}

// TestChoosing: the ends hold, enter takes the line at hand, leaving none.
func TestChoosing(t *testing.T) {
	m := newList(many(3), draw.Theme{})
	press(m, tea.KeyUp, tea.KeyDown, tea.KeyDown, tea.KeyDown, tea.KeyDown, tea.KeyUp)
	if !press(m, tea.KeyEnter) || m.chosen != 1 {
		t.Errorf("item %d was chosen, want 1", m.chosen)
	}
	if m = newList(many(3), draw.Theme{}); !press(m, tea.KeyCtrlC) || m.chosen != -1 {
		t.Errorf("leaving chose %d", m.chosen)
	}
	if m = newList(nil, draw.Theme{}); press(m, tea.KeyDown, tea.KeyUp, tea.KeyEnter) || m.chosen != -1 {
		t.Error("an item was chosen from an empty list")
	}
}

// TestChosenLineIsInSight in every window, wherever one is in a long list.
func TestChosenLineIsInSight(t *testing.T) {
	m := newList(many(40), draw.Theme{})
	for at := range 40 {
		for h := 10; h <= 50; h++ {
			m.Update(tea.WindowSizeMsg{Width: 60, Height: h})
			frame := m.View()
			if !strings.Contains(frame, fmt.Sprintf("> job        job-%02d.toml", at)) || strings.Contains(frame, "more below") {
				t.Fatalf("item %d at height %d:\n%s", at, h, frame)
			}
		}
		press(m, tea.KeyDown)
	}
}

// TestNoWorkIsSaid where there is only practice to choose, and the chosen line stays
// in sight.
func TestNoWorkIsSaid(t *testing.T) {
	var items []Item
	for i := range 30 {
		items = append(items, Item{Kind: "practice", Name: fmt.Sprintf("level %02d", i)})
	}
	m := newList(items, draw.Theme{})
	for at := range items {
		for h := 10; h <= 50; h += 5 {
			m.Update(tea.WindowSizeMsg{Width: 80, Height: h})
			if frame := m.View(); !strings.Contains(frame, NoWork) || !strings.Contains(frame, fmt.Sprintf("> practice   level %02d", at)) {
				t.Fatalf("item %d at height %d:\n%s", at, h, frame)
			}
		}
		press(m, tea.KeyDown)
	}
	m = newList(append(many(1), items...), draw.Theme{})
	m.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	if frame := m.View(); strings.Contains(frame, NoWork) {
		t.Errorf("with a job:\n%s", frame)
	}
}
