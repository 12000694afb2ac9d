package job

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"evenload/data/visible"
)

// Fault is one thing wrong in a job or tool file: what was read and what would
// be right.
type Fault struct {
	File string
	Line int
	Text string
}

func (f Fault) Error() string { return fmt.Sprintf("%s:%d: %s", visible.Text(f.File), f.Line, f.Text) }

// Faults are all that is wrong: those of the job file by line, then those of
// each tool file.
type Faults []Fault

func (f Faults) Error() string {
	var all []string
	for _, one := range f {
		all = append(all, one.Error())
	}
	return strings.Join(all, "\n")
}

func (f Faults) sorted(first string) Faults {
	slices.SortStableFunc(f, func(a, b Fault) int {
		switch {
		case a.File == b.File:
			return a.Line - b.Line
		case a.File == first:
			return -1
		case b.File == first:
			return 1
		}
		return strings.Compare(a.File, b.File)
	})
	return f
}

// clean makes text of a file fit for a message: visible and not too long.
func clean(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		return visible.Text(string(r[:most])) + "..."
	}
	return visible.Text(s)
}

// hostile are characters that no job file needs, in comments neither: control
// characters, and the invisible ones that format or change direction.
func hostile(r rune) bool {
	return r != '\n' && r != '\t' && r != '\r' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == '\u2028' || r == '\u2029')
}

// nearest finds the known word closest to what was written, empty when none is close.
func nearest(word string, known []string) string {
	best, least := "", max(2, len(word)/3)+1
	for _, k := range known {
		if strings.EqualFold(k, word) {
			return k
		}
		if d := distance(word, k); d < least {
			best, least = k, d
		}
	}
	return best
}

// distance counts the letters to change, add or drop.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		before := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := before
			if a[i] != b[j] {
				cost++
			}
			before = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
