// Package draw is what every screen is drawn with: theme, large digits, the
// flange as a circle, and the frame with its fixed places. Words and ASCII
// shapes carry the meaning; colour only adds to it.
package draw

import (
	"fmt"
	"strings"
)

// Role is what a piece of text is.
type Role int

// The roles.
const (
	Plain Role = iota
	Title
	Strong
	BigRole // large digits
	Now     // where the person is
	Ready   // done
	Danger
	KeyRole
)

// Theme paints roles. The zero Theme paints nothing.
type Theme struct {
	codes map[Role]string
	ascii bool
}

// NewTheme makes the theme dark, light or mono. Only the sixteen colours of the
// terminal's own palette are used, so that they stay readable everywhere; no
// backgrounds. styles false: no bold either. ascii keeps to plain ASCII.
func NewTheme(name string, ascii, styles bool) (Theme, error) {
	t := Theme{ascii: ascii}
	switch name {
	case "dark": // bright cyan, yellow, green, red on a dark ground
		t.codes = map[Role]string{Title: "1;96", Strong: "1", BigRole: "1;93", Now: "1;93", Ready: "92", Danger: "1;91", KeyRole: "1;96"}
	case "light": // the dark ones of the palette: blue, magenta, red
		t.codes = map[Role]string{Title: "1;34", Strong: "1", BigRole: "1;34", Now: "1;35", Ready: "32", Danger: "1;31", KeyRole: "1;34"}
	case "mono":
		t.codes = map[Role]string{Title: "1", Strong: "1", BigRole: "1", Now: "7", Danger: "1;7", KeyRole: "1"}
	default:
		return t, fmt.Errorf("no theme is called %q: dark, light and mono are", name)
	}
	if !styles {
		t.codes = nil
	}
	return t, nil
}

// Paint gives text its role. Text stays on one line.
func (t Theme) Paint(r Role, s string) string {
	code, ok := t.codes[r]
	if !ok || s == "" {
		return s
	}
	return "\x1b[" + code + "m" + s + "\x1b[0m"
}

// plainer turns what our screens use beyond ASCII into ASCII.
var plainer = strings.NewReplacer("·", ".", "²", "2", "³", "3", "°", " deg", "±", "+/-", "µ", "u", "–", "-", "—", "-", "…", "...", "×", "x", "’", "'", "‘", "'")

// Spell keeps a text to the characters of the theme.
func (t Theme) Spell(s string) string {
	if !t.ascii {
		return s
	}
	return strings.Map(func(r rune) rune {
		if r > 126 {
			return '?'
		}
		return r
	}, plainer.Replace(s))
}
