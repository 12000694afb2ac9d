package reference

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// tokens cuts a name into what counts: words and numbers, in capitals. A point
// inside a number stays, other signs part.
func tokens(name string) []string {
	return strings.FieldsFunc(spellings.Replace(strings.ToUpper(name)), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '.' && r != '%'
	})
}

// spellings are other ways to write a word of the tables.
var spellings = strings.NewReplacer("ANTISEIZE", "ANTI-SEIZE", "ANTI SEIZE", "ANTI-SEIZE", "MOLYBDENUM DISULPHIDE", "MOS2", "MOLYBDENUM DISULFIDE", "MOS2", "MOLY ", "MOS2 ")

// idle are words that people add or leave out and that tell no row apart.
var idle = []string{"ASTM", "GRADE", "GR", "CLASS", "CL", "PROPERTY", "STRENGTH", "THE", "WITH", "AND", "OR", "BASED"}

// vague are words that alone name nothing: a store has many greases.
var vague = []string{"GREASE", "PASTE", "OIL", "DRY", "PLATED", "COATING", "LUBRICATED", "LUBRICANT", "STEEL", "SHEET", "NEW", "GRAPHITE", "WAXED"}

// counting leaves the idle words out.
func counting(name string) []string {
	return slices.DeleteFunc(tokens(name), func(w string) bool { return slices.Contains(idle, w) })
}

// words finds the rows of a table whose name holds every word of what is
// asked. Several rows of one name are one thing by size.
func words(t table) func(string) ([]found, error) {
	return func(asked string) ([]found, error) {
		if rows := t.named(asked); rows != nil {
			return rows, nil
		}
		want := counting(asked)
		if len(want) > 0 && holds(vague, want) {
			return nil, said(func() string {
				return fmt.Sprintf("%q may be many things: write more of it, %s is one way", asked, quoted(Near(asked, t.names())[:1]))
			})
		}
		var names, exact []string // exact: nothing is left over
		has := t.words()
		for i, name := range t.names() {
			if len(want) == 0 || !holds(has[i], want) {
				continue
			}
			names = append(names, name)
			if len(has[i]) == len(want) {
				exact = append(exact, name)
			}
		}
		if len(exact) == 1 {
			names = exact
		}
		switch len(names) {
		case 1:
			return t.named(names[0]), nil
		case 0:
			return nil, nowhere(asked, asked, t)
		}
		return nil, fmt.Errorf("%q may be %s: write more of it", asked, quoted(names[:min(len(names), mostNames)]))
	}
}

// said is an error that is worded when somebody reads it: what is near takes long
// to find, and a job that names what no table has asks for nothing.
type said func() string

func (s said) Error() string { return s() }

// nowhere is the error of a name that a table does not have, like what it has.
func nowhere(asked, name string, t table) error {
	return said(func() string {
		return fmt.Sprintf("%q is in no table of ours, near it are %s", asked, quoted(Near(name, t.names())))
	})
}

// mostNames is how many names a message lists.
const mostNames = 6

// holds says that every word of want is in has, as often as it is there.
func holds(has, want []string) bool {
	count := func(all []string, word string) (n int) {
		for _, w := range all {
			if w == word {
				n++
			}
		}
		return n
	}
	return !slices.ContainsFunc(want, func(w string) bool { return count(has, w) < count(want, w) })
}

// named are the rows of one name.
func (t table) named(name string) []found {
	var rows []found
	for _, r := range t.get().Rows {
		if r.Name == name {
			rows = append(rows, found{t, r})
		}
	}
	return rows
}

// Near gives up to three names that share most pairs of letters with what was
// asked, the most like first.
func Near(asked string, names []string) []string {
	want := pairs(asked)
	scores := map[string]float64{}
	for _, name := range names {
		has := pairs(name)
		same := 0
		for p := range want {
			if has[p] {
				same++
			}
		}
		scores[name] = 2 * float64(same) / float64(len(want)+len(has)+1)
	}
	names = slices.Clone(names)
	slices.SortStableFunc(names, func(a, b string) int { return cmp.Compare(scores[b], scores[a]) })
	return names[:min(len(names), 3)]
}

// pairs are the pairs of signs that stand side by side in a name's words, each
// word with its beginning.
func pairs(name string) map[string]bool {
	all := map[string]bool{}
	for _, w := range tokens(name) {
		w := []rune(" " + w)
		for i := range len(w) - 1 {
			all[string(w[i:i+2])] = true
		}
	}
	return all
}

func quoted(names []string) string {
	var all []string
	for _, n := range names {
		all = append(all, fmt.Sprintf("%q", n))
	}
	return strings.Join(all, ", ")
}
