package sequence

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"evenload/joint"
	"evenload/joint/unit"
)

// Stretching is what is needed to judge the stretch of studs.
type Stretching struct {
	Give     unit.Compliance `json:"give_m_per_N"` // of one stud
	Expected unit.Length     `json:"expected_m"`   // at the target
	Reading  unit.Length     `json:"reading_m"`    // to which a length is read
	Low      unit.Force      `json:"low_N"`        // the band of the loads that are expected
	High     unit.Force      `json:"high_N"`

	Yield unit.Force `json:"yield_N,omitempty"` // from which on a stretch is not elastic; 0: not known
}

// lengthShare is how well modulus and length under load of a stud are known
// (common practice).
const lengthShare = 0.05

// newStretching judges by the loads that the last pass can give, up to where a
// bolt yields or the gasket is crushed. With several tools it is the widest of
// their bands.
func newStretching(j joint.Joint, p Procedure, target unit.Force, tools []joint.Tool, last []joint.Setting) *Stretching {
	s := &Stretching{Give: p.StudGive, Expected: unit.Length(float64(target) * float64(p.StudGive)), Reading: p.StretchReading}
	for i, setting := range last {
		scatter := j.Scatter(tools[i], setting)
		low, high := scatter.LowLoad(), scatter.HighLoad()
		if i == 0 || low < s.Low {
			s.Low = low
		}
		s.High = max(s.High, high)
	}
	bears := j.Strength(tools[0], last[0])
	s.Yield = bears.Yield
	for _, most := range []unit.Force{bears.Yield, bears.Crush} {
		if most > target {
			s.High = min(s.High, most)
		}
	}
	return s
}

// StretchMeasured: the stretch of a stud, with the load that it stands for. Load
// and its uncertainty were computed when it was measured.
type StretchMeasured struct {
	Bolt    Bolt        `json:"bolt"`
	Stretch unit.Length `json:"stretch_m"`
	Load    unit.Force  `json:"load_N"`
	Within  unit.Force  `json:"within_N"` // the load is known to plus or minus this

	Before unit.Length `json:"before_m,omitempty"` // the stud, where both lengths were read
	After  unit.Length `json:"after_m,omitempty"`  // and Stretch is their difference
}

// Kind of the event, as it stands in the card.
func (StretchMeasured) Kind() Kind { return "stretch" }

// Stretch: measure the stretch of one stud.
type Stretch struct {
	Bolt Bolt
	Left int // studs to measure, this one included
	Stretching
	Last *StretchMeasured // the one before
}

func (Stretch) step() {}

// OfStretch: studs whose load by stretch is outside the band.
const OfStretch ReleaseOf = "stretch"

// Words for the stretch of studs.
const (
	StretchHint = "Air off, tool away. Measure on the marked faces, stud and gauge at one temperature."
	StretchWord = "Stretch is the length now less the length before tightening."
)

// StretchOf computes the load that a stretch stands for, F = stretch/give. Two
// readings of a length make the stretch, and modulus and length under load are
// known to 5 % (common practice): the root of the squares of both.
func (w Walk) StretchOf(b Bolt, stretch unit.Length) StretchMeasured {
	s := w.plan.Stretch
	give := float64(s.Give)
	load := float64(stretch) / give
	return StretchMeasured{Bolt: b, Stretch: stretch, Load: unit.Force(load),
		Within: unit.Force(math.Hypot(math.Sqrt2*float64(s.Reading)/give, lengthShare*load))}
}

// KnownWords say how well a stretch tells the load that is expected, as StretchOf
// has it.
func (s Stretching) KnownWords(system unit.System) string {
	share := math.Hypot(math.Sqrt2*float64(s.Reading/s.Expected), lengthShare)
	return fmt.Sprintf("lengths read to %s, a load known to about %.0f %%", stretchText(s.Reading, system), 100*share)
}

// InBand says that a load is one that the torque can have given.
func (s Stretching) InBand(load unit.Force) bool { return load >= s.Low && load <= s.High }

// startStretch begins the measuring of studs, where the plan has it.
func (w *Walk) startStretch() {
	if w.plan.Stretch == nil {
		w.toFinalGaps()
		return
	}
	w.phase, w.set, w.stretched = phaseStretch, nil, nil
	w.studs = make([]StretchMeasured, w.plan.Bolts+1)
	w.clearMarks()
	for _, b := range w.out {
		w.marks[b] = MarkReleased // it has no stud that could be measured
	}
}

func (w Walk) stretchStep() Step {
	i := slices.Index(w.marks[1:], MarkOpen)
	if i < 0 {
		return Release{Of: OfStretch, Place: w.place(), Studs: w.outside()}
	}
	return Stretch{Bolt: Bolt(i + 1), Left: w.left(), Stretching: *w.plan.Stretch, Last: w.stretched}
}

// outside are the studs whose load is outside the band, as measured last.
func (w Walk) outside() []StretchMeasured {
	if w.phase != phaseStretch {
		return nil // the marks are those of nuts
	}
	var all []StretchMeasured
	for b, m := range w.marks {
		if m == MarkMoved {
			all = append(all, w.studs[b])
		}
	}
	return all
}

// stretchDone says that every stud is measured and none outside the band waits.
func (w Walk) stretchDone() bool {
	return !slices.Contains(w.marks[1:], MarkOpen) && len(w.outside()) == 0
}

func (w *Walk) measureStretch(s Stretch, e Event, d StretchMeasured) error {
	switch {
	case d.Bolt != s.Bolt:
		return fmt.Errorf("the stud of bolt %d is next", s.Bolt)
	case !(d.Stretch >= 0 && d.Stretch <= 5*s.Expected):
		return fmt.Errorf("%s is not believable, about %s is expected: read it again", stretchText(d.Stretch, w.plan.System), stretchText(s.Expected, w.plan.System))
	case !(d.Load >= 0 && d.Within >= 0) || math.IsInf(float64(d.Load), 0):
		return errors.New("the load of a stretch is none")
	case !(d.Before >= 0 && d.After >= d.Before):
		return errors.New("the stud cannot be shorter than before: read it again")
	}
	m := MarkDone
	if !s.InBand(d.Load) {
		m = MarkMoved
	}
	w.mark(Station{d.Bolt}, m, e.At)
	w.paceFrom = e.At
	w.stretched = &d
	w.studs = with(w.studs, int(d.Bolt), d)
	return nil
}

// stretchText prints a stretch to a thousandth of a millimetre, or a ten-thousandth of an inch.
func stretchText(l unit.Length, s unit.System) string {
	if s == unit.US {
		return fmt.Sprintf("%.4f in", float64(l)/unit.Inch)
	}
	return fmt.Sprintf("%.3f mm", float64(l/unit.Millimetre))
}

// Words say what was measured and how it stands to the band.
func (d StretchMeasured) Words(p *Plan) string {
	if p.Stretch != nil && p.Stretch.Beyond(d.Load) {
		return fmt.Sprintf("bolt %d stretched %s%s: BEYOND YIELD, its load is %s and not elastic", d.Bolt, stretchText(d.Stretch, p.System), d.lengths(p.System), p.Stretch.LoadWords(d, p.System))
	}
	text := fmt.Sprintf("bolt %d stretched %s%s, about %s give or take %s", d.Bolt, stretchText(d.Stretch, p.System), d.lengths(p.System), d.Load.Text(p.System), d.Within.Text(p.System))
	if p.Stretch == nil || p.Stretch.InBand(d.Load) {
		return text + ": in the band"
	}
	return text + ": OUTSIDE the band"
}

// lengths are the two of the stud, empty where only the stretch was read.
func (d StretchMeasured) lengths(s unit.System) string {
	if d.After == 0 {
		return ""
	}
	return " (" + stretchText(d.After, s) + " less " + stretchText(d.Before, s) + ")"
}

// BandWords say what is expected of every stud.
func (s Stretching) BandWords(system unit.System) string {
	return fmt.Sprintf("%s expected; in the band from %s to %s", stretchText(s.Expected, system),
		stretchText(unit.Length(float64(s.Low)*float64(s.Give)), system), stretchText(unit.Length(float64(s.High)*float64(s.Give)), system))
}

// checkStretch guards against a card whose plan was written by hand.
func checkStretch(p *Plan) error {
	if s := p.Stretch; s != nil && !(s.Give > 0 && s.Expected > 0 && s.Reading >= 0 && s.Low >= 0 && s.High >= s.Low && s.Yield >= 0) {
		return errors.New("the plan's figures for the stretch of studs are none")
	}
	return nil
}
