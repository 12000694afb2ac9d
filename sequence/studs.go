package sequence

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"evenload/joint/unit"
)

// StudsAgain: studs outside the band are measured again. With Rounds nuts are
// brought up in check rounds first, and then every stud is measured.
type StudsAgain struct {
	Rounds bool `json:"rounds,omitempty"`

	Decided *Named `json:"decided,omitempty"` // rounds while a stud is high
}

// Kind of the event, as it stands in the card.
func (StudsAgain) Kind() Kind { return "studs_again" }

// Words say what is done again.
func (d StudsAgain) Words() string {
	if d.Decided != nil {
		return fmt.Sprintf("check rounds again while a stud is high, by %s, %s: %s; then every stud is measured again", d.Decided.Name, d.Decided.Role, d.Decided.Reason)
	}
	if d.Rounds {
		return "check rounds again, then every stud is measured again"
	}
	return "studs outside the band are measured again"
}

// studsAgain leaves the decision about studs outside the band.
func (w *Walk) studsAgain(s Release, d StudsAgain) error {
	switch {
	case !d.Rounds && d.Decided != nil:
		return errors.New("nobody has to decide that studs are measured again")
	case d.Rounds:
		if err := w.roundsAllowed(s, d); err != nil {
			return err
		}
	}
	if d.Decided != nil {
		w.except("check rounds while a stud was high, decided by %s: %s", d.Decided.Name, d.Decided.Reason)
	}
	w.stretched = nil
	if !d.Rounds {
		for _, stud := range s.Studs {
			w.open(stud.Bolt)
			w.studs = with(w.studs, int(stud.Bolt), StretchMeasured{})
		}
		w.paceFrom = time.Time{}
		return nil
	}
	w.studs = nil
	w.series = 1 // the rest is behind, and not wanted twice
	w.startCheck("for studs outside the band")
	return nil
}

// boltsOf are the bolts of studs.
func boltsOf(studs []StretchMeasured) []Bolt {
	var all []Bolt
	for _, s := range studs {
		all = append(all, s.Bolt)
	}
	return all
}

// stretchWords say which studs are outside, for who decides.
func (r Release) stretchWords(p *Plan) []string {
	side := func(name string, is func(StretchMeasured) bool) string {
		var each []string
		for _, s := range r.Studs {
			if is(s) {
				each = append(each, fmt.Sprintf("bolt %d %s", s.Bolt, p.Stretch.LoadWords(s, p.System)))
			}
		}
		if each == nil {
			return ""
		}
		return " " + name + ": " + strings.Join(each, ", ") + "."
	}
	low := side("LOW", func(s StretchMeasured) bool { return s.Load < p.Stretch.Low })
	high := side("HIGH", func(s StretchMeasured) bool { return s.Load >= p.Stretch.Low && !p.Stretch.Beyond(s.Load) })
	beyond := side("BEYOND YIELD", func(s StretchMeasured) bool { return p.Stretch.Beyond(s.Load) })
	words := []string{fmt.Sprintf("Loads by stretch outside %s.%s%s%s", p.Stretch.Loads(p.System), low, high, beyond),
		"First measure again: marked faces clean, stud and gauge at one temperature."}
	if low != "" {
		words = append(words, "Check rounds can bring up a stud that is low. Then every stud is measured again.")
	}
	if high != "" {
		words = append(words, "No round takes load off a stud that is high: it may be beyond its yield.")
	}
	if beyond != "" {
		words = append(words, "A stud beyond yield stays long and is not used again: a new one is usual. Nothing is torqued before that is decided.")
	}
	return append(words, "Else the responsible engineer decides whether the joint is good.")
}

// Columns are bolt, stretch, load, its uncertainty, and how it stands to the band.
func (d StretchMeasured) Columns(p *Plan) []string {
	side := "in"
	switch {
	case p.Stretch == nil || p.Stretch.InBand(d.Load):
	case d.Load < p.Stretch.Low:
		side = "LOW"
	case p.Stretch.Beyond(d.Load):
		return []string{fmt.Sprint(d.Bolt), stretchText(d.Stretch, p.System), p.Stretch.LoadWords(d, p.System), "not elastic", "YIELD"}
	default:
		side = "HIGH"
	}
	return []string{fmt.Sprint(d.Bolt), stretchText(d.Stretch, p.System), d.Load.Text(p.System), d.Within.Text(p.System), side}
}

// Loads are the band: "40 kN to 56 kN".
func (s Stretching) Loads(system unit.System) string {
	return s.Low.Text(system) + " to " + s.High.Text(system)
}

// MeasuresStuds says that the stretch of studs is under way: what is taken back
// then is a reading.
func (w Walk) MeasuresStuds() bool { return w.phase == phaseStretch }

// Studs are the readings that count, in order of the bolts: the last one of each
// stud, without those taken back or to be made again.
func (w Walk) Studs() []StretchMeasured {
	return slices.DeleteFunc(slices.Clone(w.studs), func(s StretchMeasured) bool { return s.Bolt == 0 })
}

// Of keeps the two lengths that a stretch was reckoned from; both are 0 where
// only the stretch was read.
func (d StretchMeasured) Of(before, after unit.Length) StretchMeasured {
	d.Before, d.After = before, after
	return d
}

// LengthsExample shows how the length of a stud now and before is typed.
func LengthsExample(s unit.System) string {
	if s == unit.US {
		return "7.188-7.181"
	}
	return "182.57-182.41"
}

// GapsExample shows how the widest and the narrowest gap are typed.
func GapsExample(s unit.System) string {
	if s == unit.US {
		return "0.13-0.11"
	}
	return "3.2-2.6"
}
