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

// sized is a flange of the tables by its numbers, DN and PN.
type sized struct {
	name    string
	numbers [2]int
}

// sizes are those of the tables.
func sizes() []sized {
	var all []sized
	for _, name := range reference.KindOf("flange").Search("DN", math.MaxInt) {
		if m := namedDN.Made().FindStringSubmatch(name); m != nil {
			all = append(all, sized{name, [2]int{number(m[1]), number(m[2])}})
		}
	}
	return all
}

// dnPN reads a DN and PN.
func dnPN(text string) (asked [2]int, ok bool) {
	m := askedDN.Made().FindStringSubmatch(strings.Join(strings.Fields(text), " "))
	if m == nil {
		return asked, false
	}
	return [2]int{number(m[1] + m[4]), number(m[2] + m[3])}, true
}

// number reads few figures.
func number(figures string) int {
	n, _ := strconv.Atoi(figures)
	return n
}

// byNumber are the flanges of the PN that is asked for, the nearest DN first; of its
// DN by PN where there is no such PN. The place is that of the number that differs.
func byNumber(asked [2]int) (near []sized, place int) {
	all := sizes()
	for place, same := range []int{1, 0} {
		for _, s := range all {
			if s.numbers[same] == asked[same] {
				near = append(near, s)
			}
		}
		if len(near) > 0 {
			away := func(s sized) int { return max(s.numbers[place]-asked[place], asked[place]-s.numbers[place]) }
			slices.SortStableFunc(near, func(a, b sized) int { return cmp.Compare(away(a), away(b)) })
			return near, place
		}
	}
	return nil, 0
}

// noFlange is the error of a flange that is in no table: of a DN and PN how far the
// tables go and what is nearest, of all else what is said.
func noFlange(text string, said error) error {
	asked, ok := dnPN(text)
	if !ok {
		return said
	}
	near, place := byNumber(asked)
	if len(near) == 0 {
		return said
	}
	least, most := near[0].numbers[place], near[0].numbers[place]
	for _, s := range near {
		least, most = min(least, s.numbers[place]), max(most, s.numbers[place])
	}
	words := [2]string{"DN", "PN"}
	return fmt.Errorf("%q is in no table of ours: of %s %d it has %s %d to %d, the nearest is %q",
		text, words[1-place], asked[1-place], words[place], least, most, near[0].name)
}

// nearFlanges are names like what is typed so far. Where none begins with its DN and
// PN, they are the nearest by number.
func nearFlanges(typed string, found []string, most int) []string {
	asked, ok := dnPN(typed)
	if !ok {
		return found
	}
	for _, s := range sizes() {
		if begins(s.numbers[0], asked[0]) && begins(s.numbers[1], asked[1]) {
			return found
		}
	}
	near, _ := byNumber(asked)
	if len(near) == 0 {
		return found
	}
	var names []string
	for _, s := range near[:min(len(near), most, 3)] {
		names = append(names, s.name)
	}
	return names
}

// begins says that the figures of a number begin with those of another.
func begins(whole, part int) bool { return strings.HasPrefix(strconv.Itoa(whole), strconv.Itoa(part)) }
