package draw

import (
	"fmt"
	"strings"
	"unicode"

	"github.com/charmbracelet/x/ansi"
)

// Clean makes text that is not ours safe for the terminal: control, format and
// direction-changing characters are shown as \u{...}.
func Clean(s string) string {
	ok := func(r rune) bool {
		return unicode.IsGraphic(r) && !unicode.Is(unicode.Bidi_Control, r) && r != unicode.ReplacementChar
	}
	if strings.IndexFunc(s, func(r rune) bool { return !ok(r) }) < 0 {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if ok(r) {
			b.WriteRune(r)
		} else {
			fmt.Fprintf(&b, `\u{%x}`, r)
		}
	}
	return b.String()
}

// Wrap breaks text into lines of at most w cells.
func Wrap(text string, w int) []string {
	if w < 1 {
		return nil
	}
	return strings.Split(ansi.Wrap(text, w, ""), "\n")
}

// cut shortens a line to w cells, with a mark where something is missing.
func cut(s string, w int) string {
	if ansi.StringWidth(s) <= w {
		return s
	}
	if w < 1 {
		return ""
	}
	return ansi.Truncate(s, w, "~")
}

// Clamp holds a frame to the window: no line wider than w, no more lines than h.
func Clamp(s string, w, h int) string {
	if w < 1 || h < 1 {
		return ""
	}
	lines := strings.Split(s, "\n")
	lines = lines[:min(h, len(lines))]
	for i, l := range lines {
		lines[i] = cut(l, w)
	}
	return strings.Join(lines, "\n")
}

// Columns puts right beside left, left made w cells wide.
func Columns(left, right []string, gap, w int) []string {
	out := make([]string, max(len(left), len(right)))
	for i := range out {
		if i < len(left) {
			out[i] = left[i]
		}
		if i < len(right) && right[i] != "" {
			out[i] += strings.Repeat(" ", max(1, w+gap-ansi.StringWidth(out[i]))) + right[i]
		}
	}
	return out
}
