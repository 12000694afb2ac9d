// Package draw is what every screen is drawn with: theme, large digits, the
// flange as a circle, and the frame with its fixed places. Words and ASCII
// shapes carry the meaning; colour only adds to it.
package draw

import (
	"fmt"
	"strings"
)

// Role is what a piece of text is.
type Role int8

// The roles. Nothing is drawn fainter than Plain: grey on a wet screen in the
// sun cannot be read.
const (
	Plain Role = iota
	Title
	Strong
	BigRole // large digits
	Now     // where the person is
	Ready   // done
	Danger
	KeyRole
	roles // how many there are
)

// palette gives each role its SGR parameters (ECMA-48); "" is the terminal's own.
type palette [roles]string

// Colours are the sixteen of the terminal by number, never a shade that an old
// console would turn into another: amber into red, say. No role has a
// background, because a background smears when the window changes. The light
// theme keeps bold off its colours, because many consoles show bold as bright,
// which is too pale on white. Done and danger differ as blue or cyan from red,
// which is readable without telling red from green.
var palettes = map[string]palette{
	"dark":  {Title: "1;96", Strong: "1", BigRole: "1;93", Now: "1;93", Ready: "96", Danger: "1;91", KeyRole: "1;96"},
	"light": {Title: "34", Strong: "1", BigRole: "34", Now: "35", Ready: "34", Danger: "31", KeyRole: "34"},
	"mono":  {Title: "1", Strong: "1", BigRole: "1", Now: "7", Danger: "1;7", KeyRole: "1"},
}

// Theme paints roles. The zero Theme paints nothing.
type Theme struct {
	codes palette
	ascii bool
}

// NewTheme makes the theme dark, light or mono; any other name is an error.
// mono is bold and reverse only. styles false leaves those out too, for a
// terminal that has none. ascii keeps frames to plain ASCII.
//
// The codes are written by hand: a library would leave bold out with NO_COLOR,
// which asks for no colour only.
func NewTheme(name string, ascii, styles bool) (Theme, error) {
	codes, ok := palettes[name]
	if !ok {
		return Theme{}, fmt.Errorf("no theme is called %q: take dark, light or mono", name)
	}
	if !styles {
		codes = palette{}
	}
	return Theme{codes: codes, ascii: ascii}, nil
}

// Paint gives text of one line its role.
func (t Theme) Paint(r Role, s string) string {
	if s == "" || r < 0 || r >= roles || t.codes[r] == "" {
		return s
	}
	return "\x1b[" + t.codes[r] + "m" + s + "\x1b[0m"
}

// plainer turns what screens use beyond ASCII into ASCII.
var plainer = strings.NewReplacer("·", ".", "²", "2", "³", "3", " °", " deg ", "°", " deg", "±", "+/-", "µ", "u", "μ", "u",
	"–", "-", "—", "-", "−", "-", "…", "...", "×", "x", "’", "'", "‘", "'", "“", `"`, "”", `"`, "\u00a0", " ",
	"≤", "<=", "≥", ">=", "½", "1/2", "¼", "1/4", "¾", "3/4")

// Spell keeps a text to the characters of the theme: in plain ASCII, what has
// no spelling there becomes a question mark.
func (t Theme) Spell(s string) string {
	if !t.ascii || isASCII(s) {
		return s
	}
	return strings.Map(func(r rune) rune {
		if r > '~' {
			return '?'
		}
		return r
	}, plainer.Replace(s))
}

func isASCII(s string) bool {
	for i := range len(s) {
		if s[i] > '~' {
			return false
		}
	}
	return true
}
