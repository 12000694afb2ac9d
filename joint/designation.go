package joint

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"evenload/joint/pattern"
	"evenload/joint/unit"
)

// A tolerance class at the end ("-6g", "-2A") is read and left out: it does not
// change the mechanics.
var (
	metricForm = pattern.Lazy{Text: `^M(\d{1,3}(?:\.\d)?)(?:[X-](\d(?:\.\d{1,2})?))?(?:-(?:\d[EGH]){1,2})?$`}
	inchForm   = pattern.Lazy{Text: `^(\d-\d{1,2}/\d{1,2}|\d{1,2}/\d{1,2}|\d)(?:-(\d{1,2}(?:\.5|-1/2)?))?-?(UNR?[CF]?)?(?:-[123][AB])?$`}
	separators = pattern.Lazy{Text: `[- ]+`}
)

// metricSigns and inchSigns make the ways to write a designation one.
var (
	metricSigns = strings.NewReplacer(" ", "", "×", "X", "*", "X")
	inchSigns   = strings.NewReplacer(`"`, " ", "IN", " ")
)

// ParseThread finds a thread by its designation, as people write it: "7/8-9
// UNC", "1-1/8-8 UN", "1 1/8 8UN", "M20", "M20x2.5", "M24x2", "M14-2". A
// designation that is in no series is an error that names the nearest.
func ParseThread(designation string) (Thread, error) {
	text := strings.ToUpper(strings.TrimSpace(designation))
	if strings.HasPrefix(text, "M") {
		return parseMetric(designation, metricSigns.Replace(text))
	}
	text = inchSigns.Replace(text)
	return parseInch(designation, separators.Made().ReplaceAllString(text, "-"))
}

func parseMetric(given, text string) (Thread, error) {
	m := metricForm.Made().FindStringSubmatch(text)
	if m == nil {
		return Thread{}, fmt.Errorf("%q is no thread, write one such as \"M20\" or \"M24x2\"", given)
	}
	d, _ := strconv.ParseFloat(m[1], 64) // the form lets only numbers through
	i := slices.IndexFunc(metricSeries, func(s metric) bool { return s.d >= d })
	if i < 0 || metricSeries[i].d != d {
		return Thread{}, fmt.Errorf("%q is in no metric series, near it are %s", given, near(metricSeries, i))
	}
	s := metricSeries[i]
	p := s.coarse
	if m[2] != "" {
		p, _ = strconv.ParseFloat(m[2], 64)
	}
	for _, t := range s.threads() {
		if t.Pitch == unit.Length(p)*unit.Millimetre {
			return t, nil
		}
	}
	if m[2] == "" {
		return Thread{}, fmt.Errorf("%q has no coarse thread, write the pitch: %s", given, names(s))
	}
	return Thread{}, fmt.Errorf("%q has a pitch of no series, there is %s", given, names(s))
}

// threads are the threads of a size, the coarse one first and without its pitch.
func (s metric) threads() []Thread {
	var all []Thread
	add := func(name string, pitch float64) {
		all = append(all, Thread{Designation: name, Diameter: unit.Length(s.d) * unit.Millimetre, Pitch: unit.Length(pitch) * unit.Millimetre})
	}
	name := "M" + number(s.d)
	if s.coarse > 0 {
		add(name, s.coarse)
	}
	for _, p := range s.fine {
		add(name+"x"+number(p), p)
	}
	return all
}

func parseInch(given, text string) (Thread, error) {
	m := inchForm.Made().FindStringSubmatch(text)
	if m == nil {
		return Thread{}, fmt.Errorf("%q is no thread, write one such as \"7/8-9 UNC\", \"1-1/8-8 UN\" or \"M20\"", given)
	}
	size, perInch, series := m[1], strings.Replace(m[2], "-1/2", ".5", 1), strings.Replace(m[3], "UNR", "UN", 1)
	i := slices.IndexFunc(inchSeries, func(s inch) bool { return s.size == size })
	if i < 0 {
		i = slices.IndexFunc(inchSeries, func(s inch) bool { return s.d > inches(size) })
		return Thread{}, fmt.Errorf("%q is in no inch series of 1/4 to 4 in, near it are %s", given, near(inchSeries, i))
	}
	s := inchSeries[i]
	if perInch == "" && series == "" {
		return Thread{}, fmt.Errorf("%q is a size, write the thread: %s", given, names(s))
	}
	for _, t := range s.threads() {
		// UN is the family: with the threads an inch it stands for UNC and UNF too.
		rightSeries := series == "" || strings.HasSuffix(t.Designation, " "+series) || series == "UN" && perInch != ""
		rightPitch := perInch == "" || strings.HasPrefix(t.Designation, size+"-"+perInch+" ")
		if rightSeries && rightPitch {
			return t, nil
		}
	}
	return Thread{}, fmt.Errorf("%q is in no inch series, there is %s", given, names(s))
}

// threads are the threads of a size, the coarse one first.
func (s inch) threads() []Thread {
	var all []Thread
	add := func(series string, perInch float64) {
		if perInch > 0 {
			all = append(all, Thread{Designation: fmt.Sprintf("%s-%s %s", s.size, number(perInch), series), Inch: true,
				Diameter: unit.Length(s.d) * unit.Inch, Pitch: unit.Length(unit.Inch / perInch)})
		}
	}
	add("UNC", s.unc)
	add("UN", s.un)
	add("UNF", s.unf)
	return all
}

// inches is the value of a size such as "1-1/8"; the form lets only such through.
func inches(size string) float64 {
	whole, part, mixed := strings.Cut(size, "-")
	if !mixed {
		whole, part = "0", size
	}
	top, bottom, broken := strings.Cut(part, "/")
	if !broken {
		bottom = "1"
	}
	w, _ := strconv.ParseFloat(whole, 64)
	t, _ := strconv.ParseFloat(top, 64)
	b, _ := strconv.ParseFloat(bottom, 64)
	return w + t/b
}

// size is a nominal size of either series.
type size interface{ threads() []Thread }

// names lists the threads of a size for a message.
func names(s size) string {
	var all []string
	for _, t := range s.threads() {
		all = append(all, t.Designation)
	}
	return strings.Join(all, ", ")
}

// near lists the threads of the two sizes around a gap in a series; next is the
// size above the gap, -1 when there is none.
func near[S size](series []S, next int) string {
	switch next {
	case -1:
		return names(series[len(series)-1])
	case 0:
		return names(series[0])
	}
	return names(series[next-1]) + ", " + names(series[next])
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
