package sequence

import (
	"errors"
	"fmt"

	"evenload/joint/unit"
)

// ErrLookAgain marks a reading that may be a slip or mean trouble: sent again
// with Sure set it is believed.
var ErrLookAgain = errors.New("look again")

// widestStatic is how far the reading at rest may lie above the running one
// before something chokes the air (common practice).
const widestStatic = unit.Pressure(1 * unit.Bar)

func (w *Walk) setPressure(s Set, d PressureSet) error {
	if d.Tool != s.Slot || d.AtEnd != s.AtEnd {
		return fmt.Errorf("not now: next is %s", stepName(s))
	}
	read := d.ByChart(s.Tool)
	low, high := read < s.Least && !s.InBand(read), read > s.Most && !s.InBand(read)
	// At the end of a pass the air may be gone: any low reading counts there,
	// once it was looked at again.
	if !d.AtEnd || !low {
		if err := plausible(read, s); err != nil {
			return err
		}
	}
	highest := max(d.Running, d.Static)
	if most := s.Tool.MostPressure; !d.AtEnd && most > 0 && highest > most*(1+1e-9) {
		return fmt.Errorf("%s is above the rated pressure %s: turn it down", s.Tool.Typed(highest), s.Tool.Typed(most))
	}
	if err := w.doubtful(s, d, read, low, high); err != nil && !d.Sure {
		return err
	}
	switch {
	case !s.AtEnd && low:
		return fmt.Errorf("%s is below the band %s: turn it up while the tool runs as the chart demands", s.Tool.Typed(read), s.Tool.Band(s.Setting))
	case !s.AtEnd && high:
		return fmt.Errorf("%s is above the band %s: turn well below, then come up again", s.Tool.Typed(read), s.Tool.Band(s.Setting))
	case !s.AtEnd:
		w.wasSet(d.Tool)
		w.good(d.Tool)
	case low:
		w.good(d.Tool) // its bolts are done again
		w.wasRead(s, ending{endedLow, read})
	case high:
		w.wasRead(s, ending{endedHigh, read})
	default:
		w.good(d.Tool)
		w.wasRead(s, ending{endedGood, read})
	}
	return nil
}

// doubtful says why a reading wants a second look.
func (w *Walk) doubtful(s Set, d PressureSet, read unit.Pressure, low, high bool) error {
	switch both := d.Running > 0 && d.Static > 0; {
	case both && d.Static <= d.Running:
		return fmt.Errorf("the reading at rest is not above the running one, was the tool running free when it was set: %w", ErrLookAgain)
	case both && d.Static > d.Running+widestStatic:
		return fmt.Errorf("the reading at rest is far above the running one, hose, filter or regulator may be choked: %w", ErrLookAgain)
	case s.AtEnd && low:
		return fmt.Errorf("%s is below the band %s, %s again: %w", s.Tool.Typed(read), s.Tool.Band(s.Setting), s.wouldWord(), ErrLookAgain)
	case s.AtEnd && high:
		return fmt.Errorf("%s is above the band %s, the work would be held for the engineer: %w", s.Tool.Typed(read), s.Tool.Band(s.Setting), ErrLookAgain)
	}
	return nil
}

// plausible refuses readings that no gauge shows here: none, or ten to twenty
// times off, as when psi is read for bar (1 bar is 14.5 psi).
func plausible(read unit.Pressure, s Set) error {
	if !(read > 0) {
		return fmt.Errorf("the %s reading is needed: the chart was made %s", s.Tool.Reading, State(s.Tool))
	}
	switch ratio := float64(read / s.Pressure); {
	case ratio >= 10:
		return errors.New("that is ten times the setting or more: was psi read for bar? Read the gauge again")
	case ratio <= 0.1:
		return errors.New("that is a tenth of the setting or less: was bar read for psi? Read the gauge again")
	}
	return nil
}
