package draw

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// Wrap breaks plain text into lines of at most w cells, between words where it
// can. It never breaks at a hyphen, so that a tag or a range stays whole.
func Wrap(text string, w int) []string {
	if w < 1 {
		return nil
	}
	if fitsOneLine(text, w) {
		return []string{text}
	}
	var lines []string
	line, wide := "", 0
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }) {
		need := width(word)
		if wide > 0 && wide+1+need <= w {
			line, wide = line+" "+word, wide+1+need
			continue
		}
		if wide > 0 {
			lines = append(lines, line)
		}
		for need > w {
			piece := ansi.Truncate(word, w, "")
			if piece == "" { // a character of two cells in one column
				return append(lines, "~")
			}
			lines = append(lines, piece)
			word = word[len(piece):]
			need = width(word)
		}
		line, wide = word, need
	}
	if wide > 0 {
		lines = append(lines, line)
	}
	return lines
}

// fitsOneLine knows the texts that Wrap would give back as they are: most of
// them, and frames are drawn often.
func fitsOneLine(text string, w int) bool {
	return text != "" && len(text) <= w && plainASCII(text) && text[0] != ' ' && text[len(text)-1] != ' ' && !strings.Contains(text, "  ")
}

// width is how many cells a text takes.
func width(s string) int {
	if n, ok := asciiWidth(s); ok {
		return n
	}
	return ansi.StringWidth(s)
}

// asciiWidth counts the cells of ASCII text with the styles of a theme in it;
// false is for anything else.
func asciiWidth(s string) (n int, ok bool) {
	for i := 0; i < len(s); i++ {
		switch {
		case s[i] >= ' ' && s[i] <= '~':
			n++
		case strings.HasPrefix(s[i:], "\x1b["):
			for i += 2; i < len(s) && (s[i] >= '0' && s[i] <= '9' || s[i] == ';'); i++ {
			}
			if i == len(s) || s[i] != 'm' {
				return 0, false
			}
		default:
			return 0, false
		}
	}
	return n, true
}

// plainASCII says that every byte of s is one cell.
func plainASCII(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// Cut shortens a text to some columns; a mark says so.
func Cut(s string, w int) string { return cut(s, w) }

// cut shortens a line to w cells, with a mark where something is missing.
func cut(s string, w int) string {
	switch {
	case w < 1:
		return ""
	case len(s) <= w || width(s) <= w: // no character has more cells than bytes
		return s
	}
	return ansi.Truncate(s, w, "~")
}

// first keeps n of the lines, each at most w cells wide. Where lines are left
// out, the last one says so.
func first(lines []string, n, w int) []string {
	if len(lines) <= n {
		return lines
	}
	if n < 1 {
		return nil
	}
	kept := append([]string(nil), lines[:n]...)
	kept[n-1] = cut(ansi.Truncate(kept[n-1], w-2, "")+" ~", w)
	return kept
}

// oneLine keeps characters out that would move the cursor to another line.
var oneLine = strings.NewReplacer("\n", " ", "\r", " ", "\t", " ", "\v", " ", "\f", " ")

// Clamp holds a frame to the window: no line wider than w, no more lines than h.
func Clamp(s string, w, h int) string {
	if w < 1 || h < 1 {
		return ""
	}
	lines := strings.Split(s, "\n")
	lines = lines[:min(h, len(lines))]
	for i, l := range lines {
		lines[i] = cut(oneLine.Replace(l), w)
	}
	return strings.Join(lines, "\n")
}

// Columns puts right beside left: left takes w cells, then gap cells are empty.
// A left line that is wider pushes its right line on; nothing is written over.
func Columns(left, right []string, gap, w int) []string {
	out := make([]string, max(len(left), len(right)))
	for i := range out {
		if i < len(left) {
			out[i] = left[i]
		}
		if i < len(right) && right[i] != "" {
			out[i] += strings.Repeat(" ", max(1, w+gap-width(out[i]))) + right[i]
		}
	}
	return out
}
