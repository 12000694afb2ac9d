package joint

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"evenload/joint/unit"
)

// Thread is a 60-degree screw thread of one of the series of series.go.
type Thread struct {
	Designation string      // "7/8-9 UNC", "1-1/8-8 UN", "M20", "M24x2"
	Diameter    unit.Length // nominal, d
	Pitch       unit.Length // p
	Inch        bool
}

// PitchDiameter is d2 = d - 0.649519 p (ISO 724, ASME B1.1).
func (t Thread) PitchDiameter() unit.Length { return t.Diameter - 0.649519*t.Pitch }

// MinorDiameter is that of an external thread: metric d3 = d - 1.226869 p
// (ISO 724), inch d3 = D - 1.299038/n (ASME B1.1).
func (t Thread) MinorDiameter() unit.Length {
	if t.Inch {
		return t.Diameter - 1.299038*t.Pitch
	}
	return t.Diameter - 1.226869*t.Pitch
}

// TensileArea is (pi/4)(d - 0.938194 p)² (ISO 898-1), inch (pi/4)(D - 0.9743/n)² (ASME B1.1).
func (t Thread) TensileArea() unit.Area {
	if t.Inch {
		return circleArea(t.Diameter - 0.9743*t.Pitch)
	}
	return circleArea(t.Diameter - 0.938194*t.Pitch)
}

// RootArea is (pi/4)(D - 1.299038 p)², metric and inch (ASME PCC-1 Table H-1).
func (t Thread) RootArea() unit.Area { return circleArea(t.Diameter - 1.299038*t.Pitch) }

func circleArea(d unit.Length) unit.Area { return unit.Area(math.Pi / 4 * float64(d) * float64(d)) }

var (
	metricForm = regexp.MustCompile(`^M(\d{1,3}(?:\.\d)?)(?:[X-](\d(?:\.\d{1,2})?))?$`)
	inchForm   = regexp.MustCompile(`^(?:(\d)[- ]?(?:IN)?[- ])?(?:(\d{1,2})/(\d{1,2})|(\d))(?:IN|")?(?:-(\d{1,2}(?:\.5|-1/2)?))?(UNC|UNF|UN|UNRC|UNRF|UNR)?$`)
	afterWhole = regexp.MustCompile(`^(\d) (\d+/)`)
)

// ParseThread finds a thread by its designation, as people write it: "7/8-9
// UNC", "1-1/8-8 UN", "1 1/8-8UN", "M20", "M20x2.5", "M24x2". A designation
// that is not in a series is an error that names the nearest.
func ParseThread(designation string) (Thread, error) {
	text := strings.ToUpper(strings.Join(strings.Fields(designation), " "))
	text = strings.NewReplacer("×", "X", "*", "X", " X ", "X", " X", "X", "X ", "X", " - ", "-", " -", "-", "- ", "-").Replace(text)
	if strings.HasPrefix(text, "M") {
		return parseMetric(designation, strings.ReplaceAll(text, " ", ""))
	}
	text = afterWhole.ReplaceAllString(text, "$1-$2")
	return parseInch(designation, strings.ReplaceAll(text, " ", ""))
}

func parseMetric(given, text string) (Thread, error) {
	m := metricForm.FindStringSubmatch(text)
	if m == nil {
		return Thread{}, fmt.Errorf("%q is no thread, write one such as \"M20\" or \"M24x2\"", given)
	}
	d, _ := strconv.ParseFloat(m[1], 64)
	i := slices.IndexFunc(metricSeries, func(s metric) bool { return s.d == d })
	if i < 0 {
		return Thread{}, fmt.Errorf("%q is in no metric series, near it are %s", given, nearMetric(d))
	}
	s := metricSeries[i]
	if m[2] == "" {
		if s.coarse == 0 {
			return Thread{}, fmt.Errorf("%q has no coarse pitch, write the pitch: %s", given, s.names())
		}
		return s.thread(s.coarse), nil
	}
	p, _ := strconv.ParseFloat(m[2], 64)
	if p != s.coarse && !slices.Contains(s.fine, p) {
		return Thread{}, fmt.Errorf("%q has a pitch of no series, there is %s", given, s.names())
	}
	return s.thread(p), nil
}

func (s metric) thread(pitch float64) Thread {
	name := "M" + number(s.d)
	if pitch != s.coarse {
		name += "x" + number(pitch)
	}
	return Thread{Designation: name, Diameter: unit.Length(s.d) * unit.Millimetre, Pitch: unit.Length(pitch) * unit.Millimetre}
}

// names lists the threads of a size for a message.
func (s metric) names() string {
	var all []string
	if s.coarse > 0 {
		all = append(all, s.thread(s.coarse).Designation)
	}
	for _, p := range s.fine {
		all = append(all, s.thread(p).Designation)
	}
	return strings.Join(all, ", ")
}

func nearMetric(d float64) string {
	i := slices.IndexFunc(metricSeries, func(s metric) bool { return s.d > d })
	switch {
	case i < 0:
		return metricSeries[len(metricSeries)-1].names()
	case i == 0:
		return metricSeries[0].names()
	}
	return metricSeries[i-1].names() + ", " + metricSeries[i].names()
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func parseInch(given, text string) (Thread, error) {
	m := inchForm.FindStringSubmatch(text)
	if m == nil {
		return Thread{}, fmt.Errorf("%q is no thread, write one such as \"7/8-9 UNC\", \"1-1/8-8 UN\" or \"M20\"", given)
	}
	size := m[4]
	if m[2] != "" {
		size = m[2] + "/" + m[3]
		if m[1] != "" {
			size = m[1] + "-" + size
		}
	} else if m[1] != "" {
		// "1-8UN" reads as whole 1 with a digit after it: the digit is the pitch.
		size, m[5] = m[1], m[4]
	}
	i := slices.IndexFunc(inchSeries, func(s inch) bool { return s.size == size })
	if i < 0 {
		return Thread{}, fmt.Errorf("%q is in no inch series of 1/4 to 4 in", given)
	}
	s := inchSeries[i]
	tpi, _ := strconv.ParseFloat(strings.Replace(m[5], "-1/2", ".5", 1), 64)
	series := strings.Replace(m[6], "UNR", "UN", 1)
	for _, t := range s.threads() {
		if (tpi == 0 || tpi == t.tpi) && (series == "" || series == t.series || series == "UN" && tpi == t.tpi) && (tpi > 0 || series != "") {
			return t.thread(s), nil
		}
	}
	return Thread{}, fmt.Errorf("%q is in no inch series, there is %s", given, s.names())
}

// inchThread is one series' thread of a size.
type inchThread struct {
	series string
	tpi    float64
}

func (s inch) threads() []inchThread {
	var all []inchThread
	for _, t := range []inchThread{{"UNC", s.unc}, {"UN", s.un}, {"UNF", s.unf}} {
		if t.tpi > 0 {
			all = append(all, t)
		}
	}
	return all
}

func (t inchThread) thread(s inch) Thread {
	return Thread{Designation: fmt.Sprintf("%s-%s %s", s.size, number(t.tpi), t.series), Inch: true,
		Diameter: unit.Length(s.d) * unit.Inch, Pitch: unit.Length(unit.Inch / t.tpi)}
}

func (s inch) names() string {
	var all []string
	for _, t := range s.threads() {
		all = append(all, t.thread(s).Designation)
	}
	return strings.Join(all, ", ")
}
