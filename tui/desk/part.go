package desk

import (
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"evenload/data/visible"
	"evenload/tui/draw"
)

// part is a table of a record, words with what they say, or a paragraph.
type part struct {
	table  bool
	lines  []said
	widest int // cells
}

// said is a line: of facts a word and what it says, else nothing and the whole of it.
type said struct{ word, text string }

// partsOf takes a text apart. What stands below each other in more columns than two is
// a table.
func partsOf(text string, t draw.Theme) (all []part) {
	var lines [][]rune // one below the other, each with a gap in it or none of them
	end := func() {
		if len(lines) > 0 {
			all = append(all, partOf(lines, t))
		}
		lines = nil
	}
	for l := range strings.SplitSeq(strings.TrimRight(text, "\n"), "\n") {
		line := []rune(strings.TrimRight(visible.Text(l), " "))
		if len(lines) > 0 && hasGap(line) != hasGap(lines[0]) {
			end()
		}
		lines = append(lines, line)
	}
	end()
	return all
}

// hasGap says that a line has more than one cell, or begins behind its first one.
func hasGap(line []rune) bool { return strings.Contains(string(line), "  ") }

func partOf(lines [][]rune, t draw.Theme) part {
	cols := columnsOf(lines)
	p := part{table: len(cols) > 1}
	for _, l := range lines {
		one := said{text: t.Spell(string(l))}
		if len(cols) == 1 {
			at := min(cols[0], len(l))
			one = said{t.Spell(string(l[:at])), t.Spell(string(l[at:]))}
		}
		p.lines = append(p.lines, one)
		p.widest = max(p.widest, lipgloss.Width(one.word+one.text))
	}
	return p
}

// columnsOf are the places where something begins behind a gap that all lines have which
// are so long, two of them at least. The table writer counts signs, not cells.
func columnsOf(lines [][]rune) (all []int) {
	longest := 0
	for _, l := range lines {
		longest = max(longest, len(l))
	}
next:
	for at := 2; at < longest; at++ {
		begun := 0
		for _, l := range lines {
			switch {
			case len(l) <= at:
			case l[at-1] != ' ' || l[at-2] != ' ':
				continue next
			case l[at] != ' ':
				begun++
			}
		}
		if begun > 1 {
			all = append(all, at)
		}
	}
	return all
}

// laid are the lines of a part in so many cells, a table moved aside.
func (p part) laid(aside, wide int) (lines []string) {
	aside = max(0, min(aside, p.widest-wide))
	for _, l := range p.lines {
		switch hang := lipgloss.Width(l.word); {
		case p.table:
			lines = append(lines, moved(l.text, aside, wide))
		case lipgloss.Width(l.word+l.text) <= wide:
			lines = append(lines, l.word+l.text)
		case hang > wide/2:
			lines = append(lines, draw.Wrap(l.word+l.text, wide)...)
		default:
			for i, text := range draw.Wrap(l.text, wide-hang) {
				if i > 0 {
					l.word = strings.Repeat(" ", hang)
				}
				lines = append(lines, l.word+text)
			}
		}
	}
	return lines
}

// moved is a line of a table, moved so many cells to the left and cut, with a mark at
// each end that is missing. Its first cell stays, since it says what the line is of.
func moved(l string, aside, wide int) string {
	indent := len(l) - len(strings.TrimLeft(l, " "))
	first := indent + strings.Index(l[indent:], "  ")
	rest := strings.TrimLeft(l[first:], " ")
	head := l[:len(l)-len(rest)]
	if lipgloss.Width(head) > wide/2 {
		head, rest = "", l
	}
	if aside > 0 {
		rest = "~" + ansi.Cut(rest, aside+1, max(aside+1, lipgloss.Width(rest)))
	}
	return draw.Cut(head+rest, wide)
}
