package reference

import (
	"slices"
	"strings"

	"evenload/joint/pattern"
)

// Search gives the names of a kind that a person may mean by what is typed so
// far, most of them: those that hold every word or the beginning of one, in the
// order of the table, else the nearest. Nothing typed gives the first ones.
func (k Kind) Search(typed string, most int) []string {
	names := k.names()
	held := holding(names, typed)
	if len(held) == 0 {
		held = Near(typed, names)
	}
	return held[:min(len(held), most)]
}

// Only is the one name of a kind that holds what is typed so far; empty where
// several do or none does, and where all that is typed may be many things.
func (k Kind) Only(typed string) string {
	held := holding(k.names(), typed)
	if want := counting(typed); len(held) != 1 || len(want) == 0 || holds(vague, want) {
		return ""
	}
	return held[0]
}

// names are those of all tables of a kind, each once.
func (k Kind) names() []string {
	var names []string
	for _, t := range k.tables {
		for _, n := range t.names() {
			if !slices.Contains(names, n) {
				names = append(names, n)
			}
		}
	}
	return names
}

// holding are the names that hold every word that is typed, or the beginning of one.
func holding(names []string, typed string) []string {
	want := slices.DeleteFunc(tokens(glued.Made().ReplaceAllString(strings.ToUpper(typed), "$1 $2")), func(w string) bool { return slices.Contains(inches, w) })
	var held []string
	for _, n := range names {
		if begins(tokens(n), want) {
			held = append(held, n)
		}
	}
	return held
}

// glued are a size or class and its number without a space, inches what people
// write behind a size.
var (
	glued  = pattern.Lazy{Text: `\b(DN|PN|NPS|CLASS|CL)(\d)`}
	inches = []string{"IN", "INCH", "NPS"}
)

// begins says that each word of want is the beginning of another word of has.
func begins(has, want []string) bool {
	used := make([]bool, len(has))
	for _, w := range want {
		i := slices.IndexFunc(has, func(h string) bool { return strings.HasPrefix(h, w) })
		for i >= 0 && used[i] {
			next := slices.IndexFunc(has[i+1:], func(h string) bool { return strings.HasPrefix(h, w) })
			if next < 0 {
				i = -1
				break
			}
			i += 1 + next
		}
		if i < 0 {
			return false
		}
		used[i] = true
	}
	return true
}

// KindOf is the kind that show calls name.
func KindOf(name string) Kind {
	kinds := Kinds()
	return kinds[slices.IndexFunc(kinds, func(k Kind) bool { return k.Name == name })]
}

// GradeName is what the tables call a grade, whatever the size of the bolt.
func GradeName(name string) (string, error) {
	rows, err := words(grades)(astm.Made().ReplaceAllString(name, "A$1 "))
	if err != nil {
		return "", err
	}
	return rows[0].row.Name, nil
}
