package sequence

import (
	"errors"
	"fmt"
	"slices"

	"evenload/joint/unit"
)

// Beyond says that a load by stretch is at yield or above it: then the stretch is
// no longer elastic and tells no load.
func (s Stretching) Beyond(load unit.Force) bool { return s.Yield > 0 && load >= s.Yield }

// high says that a load is above the band.
func (s Stretching) high(load unit.Force) bool { return load > s.High }

// LoadWords say the load that a stretch stands for; beyond yield only what it is
// at least.
func (s Stretching) LoadWords(d StretchMeasured, system unit.System) string {
	if s.Beyond(d.Load) {
		return "at least " + s.Yield.Text(system)
	}
	return d.Load.Text(system)
}

// ToReplace are the studs that get new ones when a named person decides so: those
// beyond yield, and where none is, those above the band.
func (r Release) ToReplace(p *Plan) []Bolt {
	if p.Stretch == nil || p.Rules < 2 {
		return nil
	}
	var high, beyond []Bolt
	for _, s := range r.Studs {
		if p.Stretch.high(s.Load) {
			high = append(high, s.Bolt)
		}
		if p.Stretch.Beyond(s.Load) {
			beyond = append(beyond, s.Bolt)
		}
	}
	if beyond != nil {
		return beyond
	}
	return high
}

// RoundsBy says who decides about check rounds while studs are outside the band: the
// operator alone where all are low, a named person where one is high, and nobody
// where one is beyond yield, since full torque would stretch it further.
func (r Release) RoundsBy(p *Plan) (named, never bool) {
	for _, s := range r.Studs {
		named = named || p.Rules >= 2 && p.Stretch.high(s.Load)
		never = never || p.Rules >= 2 && p.Stretch.Beyond(s.Load)
	}
	return named, never
}

// roundsAllowed refuses check rounds that nobody may decide here.
func (w *Walk) roundsAllowed(s Release, d StudsAgain) error {
	named, never := s.RoundsBy(w.plan)
	switch {
	case never:
		return errors.New("a stud is beyond yield: full torque would stretch it further; a named person decides, mostly a new stud")
	case !named && d.Decided != nil:
		return errors.New("no stud is high: nobody has to decide about check rounds")
	case !named:
		return nil
	case d.Decided == nil:
		return errors.New("a stud is high: a named person decides about check rounds")
	}
	return w.notOperator(*d.Decided)
}

// replaceStuds takes studs out that a named person has replaced: each gets new parts,
// is brought up alone, and all that follows is owed once more.
func (w *Walk) replaceStuds(s Release, d Released) error {
	if !slices.Equal(d.Replace, s.ToReplace(w.plan)) {
		return fmt.Errorf("the studs to replace are those of bolt %s", BoltList(s.ToReplace(w.plan)))
	}
	w.studs, w.stretched, w.series = nil, nil, 1 // the rest is behind, and not wanted twice
	for _, b := range d.Replace {
		w.out = and(w.out, b)
	}
	w.partsFirst = true
	w.startCheck("for studs that were replaced")
	w.except("studs of bolt %s above the band by stretch, replaced as %s decided: %s", BoltList(d.Replace), d.Name, d.Reason)
	return nil
}

// partsStep asks for the new parts of a bolt that is out before the work goes on,
// where a named person let it go on; nil where none is owed.
func (w *Walk) partsStep() Step {
	if !w.partsFirst {
		return nil
	}
	for _, b := range w.out {
		if w.marks[b] == MarkLeft {
			return w.leftRelease(b)
		}
	}
	return nil
}
