package joint

import (
	"slices"
	"strings"
	"unicode"
)

// Austenitic says whether a bolt grade is one of the austenitic ones: those of
// A193 and A320 with B8, A453 660, and ISO 3506 A1 to A5 (A2-70, A4L-80).
func Austenitic(grade string) bool {
	grade = strings.ToUpper(grade)
	words := strings.FieldsFunc(grade, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	return strings.Contains(grade, "B8") || slices.ContainsFunc(words, func(w string) bool {
		w = strings.TrimSuffix(w, "L")
		return w == "660" || len(w) == 2 && w[0] == 'A' && w[1] >= '1' && w[1] <= '5'
	})
}

// dry are words of surfaces that have no lubricant on them.
var dry = []string{"dry", "as-received", "no lubricant", "plated", "galvanised", "black"}

// gallingFindings warns of materials whose threads seize under load (common
// practice).
func (j Joint) gallingFindings() []Finding {
	if !Austenitic(j.Grade) {
		return nil
	}
	lubricant := strings.ToLower(j.Lubricant)
	if lubricant == "" || slices.ContainsFunc(dry, func(word string) bool { return strings.Contains(lubricant, word) }) {
		return []Finding{{Warning, "galling", "friction.lubricant", "bolts of " + j.Grade + " seize easily, and no lubricant for them is named: name an anti-seize that the site approves, nuts of another hardness help (common practice)"}}
	}
	return []Finding{{Note, "galling-lubricated", "bolts.grade", "bolts of " + j.Grade + " seize easily: lubricate all threads, turn slowly, stop at a squeal or heat (common practice)"}}
}
