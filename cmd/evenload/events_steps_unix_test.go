//go:build !windows

package main

import (
	"fmt"
	"slices"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

var wim = sequence.Named{Name: "Wim", Role: "inspector", Reason: "looked at"}

// plainly answers a step the straight way.
func plainly(w sequence.Walk, step sequence.Step) sequence.Data {
	switch s := step.(type) {
	case sequence.SignOn:
		return sequence.SignedOn{Name: "Ann"}
	case sequence.Ask:
		if s.Question.Measured {
			return w.Aligned(s.Question, sequence.Alignment{})
		}
		return sequence.Answered{Question: s.Question.ID, Answer: sequence.Yes, Typed: s.Question.Typed, Told: tell(s.Question)}
	case sequence.Materials:
		return sequence.MaterialsNoted{}
	case sequence.Snug:
		return sequence.Snugged{}
	case sequence.GapCheck:
		d := sequence.GapsMeasured{Readings: []sequence.Gap{{Bolt: 1, Gap: unit.Millimetre}, {Bolt: 2, Gap: unit.Millimetre}}}
		if s.All {
			d = sequence.GapsMeasured{}
			for _, b := range s.Places {
				d.Readings = append(d.Readings, sequence.Gap{Bolt: b, Gap: unit.Millimetre})
			}
		}
		return d
	case sequence.Set:
		return sequence.PressureSet{AtEnd: s.AtEnd, Tool: s.Slot, Running: s.Set}
	case sequence.Tighten:
		return sequence.BoltDone{Pass: s.Pass, Bolts: s.Bolts}
	case sequence.Check:
		return sequence.NutStill{Round: s.Round, Bolt: s.Bolt}
	case sequence.Release:
		return sequence.Released{Of: s.Of, Bolt: s.Bolt, Tool: s.Slot, Hold: s.Hold, Named: wim}
	case sequence.Stretch:
		return w.StretchOf(s.Bolt, s.Expected)
	case sequence.LeakTest:
		return sequence.LeakTested{Result: sequence.Tight}
	}
	return sequence.CardClosed{Witness: "Wim", Role: "inspector"}
}

// released are the keys of a release.
var released = []string{"r", "Wim\r", "inspector\r", "looked at\r"}

// typed are the keys that answer a step the straight way; name signs on.
func typed(w sequence.Walk, step sequence.Step, name string) []string {
	reading := func(t joint.Tool, p unit.Pressure) string { return p.Reading(t.Gauge.Unit, t.Gauge.Division) + "\r" }
	switch s := step.(type) {
	case sequence.SignOn:
		return []string{name + "\r", "\r"}
	case sequence.Stop:
		return []string{name + "\r", "\r", "P-2\r"}
	case sequence.Ask:
		switch {
		case s.Question.Measured && s.SaidNo:
			return released
		case s.Question.Measured:
			return []string{"0\r", "0\r", "0\r"}
		case s.SaidNo && s.Question.OnNo == sequence.Override:
			return released
		case s.Question.Typed != "":
			return []string{s.Question.Typed + "\r"}
		}
		keys := []string{"y"}
		for _, text := range tell(s.Question) {
			keys = append(keys, text+"\r")
		}
		return keys
	case sequence.Materials:
		return []string{"\r", "\r", "\r", "\r", "\r"}
	case sequence.Snug, sequence.Tighten, sequence.Check:
		return []string{" "}
	case sequence.GapCheck:
		if s.Over != nil {
			return append([]string{"a"}, released[1:]...)
		}
		if !s.All {
			return []string{"1\r", "1\r", "1\r", "2\r"}
		}
		return slices.Repeat([]string{"1\r"}, len(s.Places))
	case sequence.Set:
		keys := []string{reading(s.Tool, s.Set)}
		if !s.AtEnd {
			keys = append(keys, "\r")
		}
		return keys
	case sequence.Release:
		if s.Out {
			return []string{"x", "N-7\r"}
		}
		return released
	case sequence.Stretch:
		return []string{fmt.Sprintf("%.3f\r", float64(s.Expected/unit.Millimetre))}
	case sequence.LeakTest:
		return []string{"1", "\r"}
	}
	return []string{"Wim\r", "inspector\r"}
}

// tell says something to all that a yes has to tell.
func tell(q sequence.Question) (all []string) {
	for _, a := range q.Asks {
		all = append(all, a.Label+" S-14")
	}
	return all
}
