package draw

import (
	"fmt"
	"strings"
)

// words says in at most h lines of w cells what a circle has no room for: the
// bolts at hand first, then what needs a look, then what is done.
func (r Ring) words(w, h int, t Theme) []string {
	var lines []string
	for _, kind := range []struct {
		mark Mark
		word string
	}{{Current, "now"}, {Left, "left"}, {Moved, "moved"}, {Done, "done"}, {Still, "still"}} {
		bolts := r.ranges(kind.mark)
		if bolts == "" {
			continue
		}
		text := kind.word + " " + bolts
		if kind.mark == Current {
			text += fmt.Sprintf(" of %d", r.Bolts)
		}
		for _, l := range Wrap(text, w) {
			lines = append(lines, t.Paint(inks[kind.mark], l))
		}
	}
	if lines == nil {
		lines = []string{cut(fmt.Sprintf("%d bolts, none done", r.Bolts), w)}
	}
	return first(lines, h, w)
}

// ranges lists the bolts with a mark, such as "1-5, 8".
func (r Ring) ranges(m Mark) string {
	var parts []string
	for b := 1; b <= r.Bolts; b++ {
		if r.mark(b) != m {
			continue
		}
		last := b
		for last < r.Bolts && r.mark(last+1) == m && r.tool(b) == "" {
			last++
		}
		if tool := r.tool(b); tool != "" {
			parts = append(parts, fmt.Sprintf("%s %d", tool, b))
			continue
		}
		switch last {
		case b:
			parts = append(parts, fmt.Sprint(b))
		case b + 1:
			parts = append(parts, fmt.Sprint(b), fmt.Sprint(last))
		default:
			parts = append(parts, fmt.Sprintf("%d-%d", b, last))
		}
		b = last
	}
	return strings.Join(parts, ", ")
}
