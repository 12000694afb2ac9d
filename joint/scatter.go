package joint

import (
	"math"

	"evenload/joint/unit"
)

// Part is one cause of scatter: how far the bolt load may lie below and above
// the nominal one, as shares of it.
type Part struct {
	Name string
	Low  unit.Share
	High unit.Share
}

// Scatter is how far the load of one bolt may lie from the nominal one at a
// setting: an estimate, never a measurement.
type Scatter struct {
	Target  unit.Force // that the pass's torque would give
	Nominal unit.Force // that the torque delivered at the setting gives
	Low     unit.Share // below nominal
	High    unit.Share // above nominal
	MeanLow unit.Share // below nominal, of the mean of all bolts
	Parts   []Part
}

// LowLoad is the load of a low bolt, HighLoad that of a high one.
func (s Scatter) LowLoad() unit.Force { return s.Nominal * unit.Force(1-s.Low) }

// HighLoad is the load of a high bolt.
func (s Scatter) HighLoad() unit.Force { return s.Nominal * unit.Force(1+s.High) }

// part is the high side of one cause, 0 where it is none.
func (s Scatter) part(name string) unit.Share {
	for _, p := range s.Parts {
		if p.Name == name {
			return p.High
		}
	}
	return 0
}

// usualScatter of bolt load at one torque where nothing is known: VDI 2230 has
// 26 % to 43 % for power drivers that are set by torque.
const usualScatter = unit.Share(0.30)

// Scatter of bolt load about the torque that a tool delivers at its setting.
// The parts are independent, so that each side is the root of the sum of their
// squares. Friction: the range of the nut factor, low 1 - K/Kmost and high
// K/Kleast - 1, never below nothing, or the share that the job gives. Tool: its accuracy. Gauge:
// class of span and half a division (EN 837-1). Setting: half the read-back
// band. The mean of n bolts scatters less: its friction part is smaller by
// (1 + 3/sqrt n)/4 (EN 1591-1, from memory).
func (j Joint) Scatter(t Tool, s Setting) Scatter {
	parts := append([]Part{j.Friction.part(j.Thread)}, t.parts(s)...)
	mean := 1.0
	if j.Bolts > 0 {
		mean = (1 + 3/math.Sqrt(float64(j.Bolts))) / 4
	}
	var low, high, meanLow float64
	for i, p := range parts {
		low, high = math.Hypot(low, float64(p.Low)), math.Hypot(high, float64(p.High))
		if i == 0 {
			meanLow = math.Hypot(meanLow, float64(p.Low)*mean)
		} else {
			meanLow = math.Hypot(meanLow, float64(p.Low))
		}
	}
	return Scatter{Target: j.Friction.Load(j.Thread, s.Torque), Nominal: j.Friction.Load(j.Thread, s.Delivered), Low: unit.Share(min(low, 1)), High: unit.Share(high), MeanLow: unit.Share(min(meanLow, 1)), Parts: parts}
}

// parts are the scatter that the tool, its gauge and its setting make.
func (t Tool) parts(s Setting) []Part {
	var parts []Part
	add := func(name string, share float64) {
		if share > 0 {
			parts = append(parts, Part{name, unit.Share(share), unit.Share(share)})
		}
	}
	torque := float64(s.Delivered)
	accuracy := float64(t.Accuracy)
	if t.AccuracyOf == "top" && len(t.Chart) > 0 {
		accuracy *= float64(t.Chart.Last().Torque) / torque
	}
	add("tool", accuracy)
	slope := t.Chart.Slope(s.Set)
	class, division := t.Gauge.Errors()
	add("gauge", float64(class+division)*slope/torque)
	add("setting", float64(s.Most-s.Least)/2*slope/torque)
	return parts
}

// part is the scatter that friction makes.
func (f Friction) part(t Thread) Part {
	k := f.EquivalentNutFactor(t)
	switch {
	case f.Scatter > 0:
		return Part{"friction", f.Scatter, f.Scatter}
	case f.Least > 0 && f.Most > 0:
		return Part{"friction", unit.Share(max(0, 1-k/f.Most)), unit.Share(max(0, k/f.Least-1))}
	}
	return Part{"friction", usualScatter, usualScatter}
}
