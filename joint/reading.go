package joint

import "evenload/joint/unit"

// Gauged prints a pressure as the tool's gauge shows it, with its unit.
func (t Tool) Gauged(p unit.Pressure) string {
	return p.Reading(t.Gauge.Unit, t.Gauge.Division) + " " + string(t.Gauge.Unit)
}

// Fine prints a pressure with a decimal more than the gauge shows.
func (t Tool) Fine(p unit.Pressure) string {
	return p.Reading(t.Gauge.Unit, t.Gauge.Division/10) + " " + string(t.Gauge.Unit)
}

// Typed prints a reading as it was typed, in the gauge's own unit: it is judged
// as it was read, not rounded to a division.
func (t Tool) Typed(p unit.Pressure) string {
	return p.Exact(t.Gauge.Unit) + " " + string(t.Gauge.Unit)
}

// Band prints the read-back band of a setting in the gauge's own unit, its ends
// rounded inwards: what is printed is in band.
func (t Tool) Band(s Setting) string {
	fine := t.Gauge.Division / 10
	return s.Least.ReadingAbove(t.Gauge.Unit, fine) + " to " + s.Most.ReadingBelow(t.Gauge.Unit, fine) + " " + string(t.Gauge.Unit)
}
