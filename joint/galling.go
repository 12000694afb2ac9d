package joint

import (
	"slices"
	"strings"
)

// Austenitic says whether a bolt grade is one of the austenitic ones: those of
// A193 and A320 that begin with B8, A453 660, and ISO 3506 A1 to A5 (A2-70).
func Austenitic(grade string) bool {
	for _, word := range strings.FieldsFunc(strings.ToUpper(grade), func(r rune) bool { return r == ' ' || r == '-' || r == '/' }) {
		if strings.HasPrefix(word, "B8") || word == "660" || len(word) == 2 && word[0] == 'A' && word[1] >= '1' && word[1] <= '5' {
			return true
		}
	}
	return false
}

// gallingFindings warns of materials whose threads seize under load (common
// practice).
func (j Joint) gallingFindings() []Finding {
	if !Austenitic(j.Grade) {
		return nil
	}
	dry := slices.ContainsFunc([]string{"dry", "as-received", "no lubricant", "plated", "black"}, func(word string) bool {
		return strings.Contains(strings.ToLower(j.Lubricant), word)
	})
	if j.Lubricant == "" || dry {
		return []Finding{{Warning, "galling", "friction.lubricant", "bolts of " + j.Grade + " seize easily, and no lubricant for them is named: name an anti-seize that the site approves, nuts of another hardness help (common practice)"}}
	}
	return []Finding{{Note, "galling", "bolts.grade", "bolts of " + j.Grade + " seize easily: lubricate all threads, turn slowly, stop at a squeal or heat (common practice)"}}
}
