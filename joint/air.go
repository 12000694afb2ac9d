package joint

import (
	"fmt"
	"math"

	"evenload/joint/unit"
)

// Air is what feeds the tool on this job; 0 is not given.
type Air struct {
	Supply     unit.Pressure
	HoseBore   unit.Length
	HoseLength unit.Length
}

// What is usual of air (common practice): the supply stays a bar above the
// setting while the tool runs; a hose of 13 mm (1/2 in) serves one tool up to
// 10 m, beyond it 19 mm (3/4 in) is taken.
const (
	leastHeadroom = unit.Pressure(1 * unit.Bar)
	narrowBore    = unit.Length(12.5 * unit.Millimetre)
	wideBore      = unit.Length(18.5 * unit.Millimetre)
	shortHose     = unit.Length(33 * 12 * unit.Inch) // 10 m in feet
)

// SteadyStall is the lowest pressure at which a tool of this kind stalls
// steadily: 1.5 to 2 bar (common practice).
const SteadyStall = unit.Pressure(1.5 * unit.Bar)

// cutOffBore is the bore above which a hose needs a device at the supply that
// cuts the air should it fail: 1/2 in (29 CFR 1926.302(b)(7); other countries
// have rules like it).
const cutOffBore = unit.Length(0.5 * unit.Inch)

// airFindings judges supply and hose where they are given.
func (j Joint) airFindings(t Tool, s Setting, system unit.System) []Finding {
	var all []Finding
	say := func(severity Severity, code, key, format string, a ...any) {
		all = append(all, Finding{severity, code, key, fmt.Sprintf(format, a...)})
	}
	a := j.Air
	if s.Set > 0 && a.Supply > 0 && a.Supply < (s.Set+leastHeadroom)*(1-hair) {
		say(Warning, "supply", "air.supply", "the supply has %s and tool %s is set to %s: a regulator needs about 1 bar (15 psi) more than its setting while the tool runs (common practice)",
			t.Typed(a.Supply), t.ID, t.Gauged(s.Set))
	}
	if differ(a.HoseBore, t.HoseBore) || differ(a.HoseLength, t.HoseLength) {
		say(Warning, "hose-differs", "air.hose_bore", "the hose is %s and the chart of tool %s was made with %s: the chart may not fit; use that hose, or have the tool checked with this one",
			hose(a.HoseBore, a.HoseLength, system), t.ID, hose(t.HoseBore, t.HoseLength, system))
	}
	switch {
	case a.HoseBore <= 0:
	case a.HoseBore < narrowBore, a.HoseBore < wideBore && a.HoseLength > shortHose*(1+hair):
		say(Warning, "hose-narrow", "air.hose_bore", "a hose of %s is narrow for one tool: 1/2 in (12.7 mm) up to 10 m (33 ft), 3/4 in (19 mm) beyond is usual (common practice)",
			hose(a.HoseBore, a.HoseLength, system))
	}
	if a.HoseBore > cutOffBore*(1+hair) {
		say(Note, "hose-cutoff", "air.hose_bore", "a hose above 1/2 in (12.7 mm) bore needs a device at the supply that cuts the air should it fail (29 CFR 1926.302(b)(7), elsewhere the local rules)")
	}
	return all
}

// differ says that two lengths are given and more than a twentieth apart.
func differ(a, b unit.Length) bool {
	return a > 0 && b > 0 && math.Abs(float64(a-b)) > 0.05*float64(max(a, b))
}

// hose says bore and length, what is not given left out.
func hose(bore, length unit.Length, system unit.System) string {
	switch {
	case length <= 0:
		return bore.Text(system) + " bore"
	case bore <= 0:
		return metres(length, system)
	}
	return bore.Text(system) + " bore, " + metres(length, system)
}

// metres prints the length of a hose.
func metres(length unit.Length, system unit.System) string {
	if system == unit.US {
		return fmt.Sprintf("%.3g ft", float64(length)/(12*unit.Inch))
	}
	return fmt.Sprintf("%.3g m", float64(length))
}
