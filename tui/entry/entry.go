// Package entry is what every field to type into has in common: which keys are
// text, and which part of a long text shows.
package entry

import (
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenload/data/visible"
)

// Typed filters what is typed or pasted: one line, no characters that
// hide, move or reorder text, and none of the keys that reach the clipboard.
func Typed(k tea.KeyMsg) (tea.KeyMsg, bool) {
	switch k.Type {
	case tea.KeyRunes, tea.KeySpace:
	case tea.KeyBackspace, tea.KeyDelete, tea.KeyLeft, tea.KeyRight, tea.KeyHome, tea.KeyEnd, tea.KeyCtrlU: // the last clears the field
		return k, true
	default:
		return k, k.String() == "ctrl+h"
	}
	if k.Alt {
		return k, false
	}
	var keep []rune
	for _, r := range k.Runes {
		if !visible.Hides(r) {
			keep = append(keep, r)
		}
	}
	k.Runes = keep
	return k, len(keep) > 0
}

// Into puts what is typed or pasted into a field, letter by letter; false for what is
// no text.
func Into(in textinput.Model, k tea.KeyMsg) (textinput.Model, bool) {
	k, ok := Typed(k)
	if !ok {
		return in, false
	}
	if k.Type != tea.KeyRunes {
		in, _ = in.Update(k)
		return in, true
	}
	for _, r := range k.Runes {
		in, _ = in.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
	}
	return in, true
}

// About cuts a text to wide cells, so that the cursor stays in sight.
func About(text string, cursor, wide int) string {
	if ansi.StringWidth(text) <= wide {
		return text
	}
	runes := []rune(text)
	before := string(runes[:min(cursor+1, len(runes))])
	if over := ansi.StringWidth(before) - wide + 1; over > 0 {
		return ansi.Truncate(ansi.TruncateLeft(text, over, "~"), wide, "~")
	}
	return ansi.Truncate(text, wide, "~")
}
