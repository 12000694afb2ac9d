package draft

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"evenload/data/reference"
	"evenload/joint/pattern"
)

var (
	askedDN = pattern.Lazy{Text: `(?i)^(?:EN ?1092-1 )?(?:DN ?(\d{1,5})[ ,/]*PN ?(\d{1,5})|PN ?(\d{1,5})[ ,/]*DN ?(\d{1,5}))$`}
	namedDN = pattern.Lazy{Text: `DN (\d+) PN (\d+)$`}
)

// noFlange is the error of a flange that is in no table. Of a DN and PN it tells the
// nearest by their numbers, and how far the table goes; of all else, what is said.
func noFlange(text string, said error) error {
	m := askedDN.Made().FindStringSubmatch(strings.Join(strings.Fields(text), " "))
	if m == nil {
		return said
	}
	dn, pn := number(m[1]+m[4]), number(m[2]+m[3])
	var names []string
	numbers := map[string][2]int{}
	for _, name := range reference.KindOf("flange").Search("DN", math.MaxInt) {
		if n := namedDN.Made().FindStringSubmatch(name); n != nil {
			names, numbers[name] = append(names, name), [2]int{number(n[1]), number(n[2])}
		}
	}
	of, what, at, asked := 1, fmt.Sprintf("PN %d", pn), 0, dn // those of the PN, by DN
	if !slices.ContainsFunc(names, func(n string) bool { return numbers[n][1] == pn }) {
		of, what, at, asked = 0, fmt.Sprintf("DN %d", dn), 1, pn
	}
	names = slices.DeleteFunc(names, func(n string) bool { return numbers[n][of] != [2]int{dn, pn}[of] })
	if len(names) == 0 {
		return said
	}
	slices.SortStableFunc(names, func(a, b string) int { return cmp.Compare(numbers[a][at], numbers[b][at]) })
	first, last := numbers[names[0]][at], numbers[names[len(names)-1]][at]
	slices.SortStableFunc(names, func(a, b string) int {
		return cmp.Compare(distance(numbers[a][at], asked), distance(numbers[b][at], asked))
	})
	kind := [2]string{"DN", "PN"}[at]
	return fmt.Errorf("%q is in no table of ours: of %s it has %s %d to %d, the nearest is %q", text, what, kind, first, last, names[0])
}

func distance(a, b int) int { return max(a-b, b-a) }

// number reads figures that are few.
func number(figures string) int {
	n, _ := strconv.Atoi(figures)
	return n
}
