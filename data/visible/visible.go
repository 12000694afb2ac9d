// Package visible makes text that is not ours safe to show: names, notes and
// reasons that somebody typed, and whatever stands in a file.
package visible

import (
	"fmt"
	"strings"
	"unicode"
)

// Text writes what can hide, move or reorder text as \u{...}: control, format,
// direction-changing and invisible characters, and bytes that are no UTF-8.
// Text that has none comes back as it was.
func Text(s string) string {
	if strings.IndexFunc(s, Hides) < 0 && !startsWithMark(s) {
		return s
	}
	var b strings.Builder
	for i, r := range s {
		if Hides(r) || i == 0 && unicode.IsMark(r) {
			fmt.Fprintf(&b, `\u{%x}`, r)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// Cell is Text for a cell of a spreadsheet, which takes what begins with one of
// these signs, blanks before it or not, for a formula.
func Cell(s string) string {
	s = Text(s)
	if first := strings.TrimLeft(s, " "); first != "" && strings.ContainsRune("=+-@＝＋－＠", []rune(first)[0]) {
		return "'" + s
	}
	return s
}

// Hides says that a character can hide, move or reorder text. The tables are
// those of Unicode: default-ignorable characters take no room on the screen.
// U+2800, the empty braille cell, and U+FFFC draw nothing either.
func Hides(r rune) bool {
	if r >= ' ' && r <= '~' {
		return false
	}
	return !unicode.IsGraphic(r) || r == unicode.ReplacementChar || r == '\u2800' || r == '\ufffc' ||
		unicode.In(r, unicode.Bidi_Control, unicode.Other_Default_Ignorable_Code_Point, unicode.Variation_Selector)
}

// startsWithMark: a combining mark at the start would land on our own text.
func startsWithMark(s string) bool {
	for _, r := range s {
		return unicode.IsMark(r)
	}
	return false
}
