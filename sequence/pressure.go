package sequence

import (
	"errors"
	"fmt"

	"evenload/joint"
	"evenload/joint/unit"
)

// ErrStaticLow says that a reading at rest is not above the running one, which
// usually means that the pressure was not set with the tool running. Sent again
// with Sure set, it is accepted (common practice: static reads a little higher).
var ErrStaticLow = errors.New("the reading at rest is not above the running one: was the tool running free when it was set? Look again")

func (w *Walk) setPressure(s Set, d PressureSet) error {
	if d.Tool != s.Slot || d.AtEnd != s.AtEnd {
		return fmt.Errorf("not now: next is %s", stepName(s))
	}
	read := d.Running
	if s.Tool.Reading == joint.Static {
		read = d.Static
	}
	if err := plausible(read, s); err != nil {
		return err
	}
	highest := max(d.Running, d.Static)
	if most := s.Tool.MostPressure; most > 0 && highest > most*(1+1e-9) {
		return fmt.Errorf("%s is above the rated pressure %s: turn it down", w.reading(highest), w.reading(most))
	}
	if d.Running > 0 && d.Static > 0 && d.Static <= d.Running && !d.Sure {
		return ErrStaticLow
	}
	low, high := read < s.Least && !s.InBand(read), read > s.Most && !s.InBand(read)
	switch {
	case !s.AtEnd && low:
		return fmt.Errorf("%s is below the band %s: turn it up while the tool runs as the chart demands", w.reading(read), w.band(s.Setting))
	case !s.AtEnd && high:
		return fmt.Errorf("%s is above the band %s: turn well below, then come up again", w.reading(read), w.band(s.Setting))
	case !s.AtEnd:
		w.set = make([]bool, len(w.plan.Tools))
		w.set[d.Tool] = true
	case low:
		w.clearMarks()
		w.set = nil
		w.repeat++
	default:
		w.ended = true
		if high {
			w.high = read
		}
	}
	return nil
}

// plausible refuses readings that no gauge shows here: none, or ten to twenty
// times off, as when psi is read for bar (1 bar is 14.5 psi).
func plausible(read unit.Pressure, s Set) error {
	if !(read > 0) {
		return fmt.Errorf("the %s reading is needed: the chart was made %s", s.Tool.Reading, madeIn(s.Tool.Reading))
	}
	switch ratio := float64(read / s.Pressure); {
	case ratio >= 10:
		return errors.New("that is ten times the setting or more: was psi read for bar? Read the gauge again")
	case ratio <= 0.1:
		return errors.New("that is a tenth of the setting or less: was bar read for psi? Read the gauge again")
	}
	return nil
}
