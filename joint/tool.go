package joint

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenload/joint/unit"
)

// Reading is the state in which the gauge is read.
type Reading string

// The states of a chart.
const (
	Running Reading = "running" // the tool runs free
	Static  Reading = "static"  // the tool stands still
)

// GaugePlace says where the gauge sits.
type GaugePlace string

// The places of a gauge.
const (
	AtRegulator GaugePlace = "regulator"
	AtTool      GaugePlace = "tool"
)

// UnmarshalText refuses a place that is none, so that a card cannot bring
// anything else to the screen.
func (p *GaugePlace) UnmarshalText(text []byte) error {
	switch v := GaugePlace(text); v {
	case "", AtRegulator, AtTool:
		*p = v
		return nil
	}
	return fmt.Errorf("%q is no place of a gauge", text)
}

// Tool is a pneumatic torque wrench with its chart and gauge.
type Tool struct {
	ID           string        `json:"id"`
	Certificate  string        `json:"certificate"`
	Calibrated   Date          `json:"calibrated"`
	Due          Date          `json:"due"`
	Accuracy     unit.Share    `json:"accuracy"`
	AccuracyOf   string        `json:"accuracy_of"` // reading, or top of the chart
	Reading      Reading       `json:"reading"`
	MostPressure unit.Pressure `json:"most_pressure_Pa"` // 0: not given
	ReactionArm  unit.Length   `json:"reaction_arm_m"`   // 0: not given
	GaugeAt      GaugePlace    `json:"gauge_at"`
	HoseBore     unit.Length   `json:"hose_bore_m"`
	HoseLength   unit.Length   `json:"hose_length_m"`
	Chart        Chart         `json:"chart"`
	Gauge        Gauge         `json:"gauge"`
}

// Setting is what a tool must be set to for one torque.
type Setting struct {
	Torque    unit.Torque   `json:"torque_Nm"`
	Pressure  unit.Pressure `json:"pressure_Pa"` // exact, from the chart
	Least     unit.Pressure `json:"least_Pa"`    // the read-back band
	Most      unit.Pressure `json:"most_Pa"`
	Set       unit.Pressure `json:"set_Pa"`       // the gauge division nearest to exact, inside the band
	Delivered unit.Torque   `json:"delivered_Nm"` // at Set
	Foot      unit.Force    `json:"foot_N"`       // reaction force at Delivered; 0: arm not given
}

// InBand says whether a reading lies in the read-back band, its ends included.
func (s Setting) InBand(p unit.Pressure) bool {
	return p >= s.Least*(1-hair) && p <= s.Most*(1+hair)
}

// leastBand is the narrowest half width of a read-back band: a gauge is not
// read better (common practice).
const leastBand = unit.Pressure(0.1 * unit.Bar)

// Setting finds the pressure for a torque, the band in which it must read
// back, the nearest gauge division inside the band, and the torque and foot
// force that this division delivers. Errors wrap ErrBelowChart, ErrAboveChart,
// ErrOverRated, ErrGaugeTooCoarse or ErrOffDial.
func (t Tool) Setting(torque unit.Torque, readBack unit.Share) (Setting, error) {
	if err := t.Chart.Check(); err != nil {
		return Setting{}, fmt.Errorf("no setting for tool %s: %w", t.ID, err)
	}
	exact, err := t.Chart.Pressure(torque)
	if err != nil {
		first, last := t.Chart.First(), t.Chart.Last()
		return Setting{}, fmt.Errorf("%s is %w, which goes from %s at %s to %s at %s", torque.Text(t.system()), err,
			first.Torque.Text(t.system()), t.Gauged(first.Pressure), last.Torque.Text(t.system()), t.Gauged(last.Pressure))
	}
	if t.MostPressure > 0 && exact > t.MostPressure*(1+hair) {
		return Setting{}, fmt.Errorf("%s is %w %s", t.Gauged(exact), ErrOverRated, t.Gauged(t.MostPressure))
	}
	s := Setting{Torque: torque, Pressure: exact}
	half := max(leastBand, exact*unit.Pressure(readBack))
	s.Least = max(exact-half, t.Chart.First().Pressure)
	s.Most = min(exact+half, t.Chart.Last().Pressure)
	if t.MostPressure > 0 {
		s.Most = min(s.Most, t.MostPressure)
	}
	set, err := t.nearest(s)
	if err != nil {
		return Setting{}, err
	}
	return t.setTo(s, set)
}

// setTo is a setting at a division of the dial, with the torque and the foot
// force that it delivers.
func (t Tool) setTo(s Setting, set unit.Pressure) (Setting, error) {
	delivered, err := t.Chart.Torque(set)
	if err != nil {
		return Setting{}, fmt.Errorf("%s is %w", t.Gauged(set), err)
	}
	s.Set, s.Delivered = set, delivered
	if t.ReactionArm > 0 {
		s.Foot = unit.Force(float64(delivered) / float64(t.ReactionArm))
	}
	return s, nil
}

// Setting is the tool's setting for this joint: where the nearest division of
// the dial is the higher one and passes a limit that the one below keeps, the
// one below is taken, unless that loses a least; lowered says so. Errors are those of Tool.Setting.
func (j Joint) Setting(t Tool, torque unit.Torque, readBack unit.Share) (s Setting, lowered bool, err error) {
	if s, err = t.Setting(torque, readBack); err != nil {
		return s, false, err
	}
	s, lowered = t.keeping(s, func(s Setting) bool { return j.keepsMost(t, s) }, func(higher, lower Setting) bool { return j.loses(t, higher, lower) })
	return s, lowered, nil
}

// keeping is a setting, or one division lower where only that keeps the most
// and loses no least.
func (t Tool) keeping(s Setting, keeps func(Setting) bool, loses func(higher, lower Setting) bool) (kept Setting, lowered bool) {
	if s.Set <= s.Pressure || keeps(s) {
		return s, false
	}
	below := s.Set - t.Gauge.Division
	if !s.InBand(below) || !t.Gauge.onDial(below) {
		return s, false
	}
	if lower, err := t.setTo(s, below); err == nil && keeps(lower) && !loses(s, lower) {
		return lower, true
	}
	return s, false
}

// loses says that the lower of two settings no longer reaches a limit that the
// higher one reaches.
func (j Joint) loses(t Tool, higher, lower Setting) bool {
	over, under := j.Scatter(t, higher).Nominal, j.Scatter(t, lower).Nominal
	return slices.ContainsFunc(j.Bounds(t, lower), func(b Bound) bool { return b.Least > 0 && over >= b.Least*(1-hair) && under < b.Least*(1-hair) })
}

// keepsMost says that no bolt passes the most of a limit at a setting.
func (j Joint) keepsMost(t Tool, s Setting) bool {
	scatter := j.Scatter(t, s)
	for _, b := range j.Bounds(t, s) {
		if !b.keeps(scatter) {
			return false
		}
	}
	return true
}

// nearest finds the division of the dial that is nearest to the exact pressure
// and inside the band. Only the divisions on either side of the exact pressure
// come into question: others lie further out on the same side.
func (t Tool) nearest(s Setting) (unit.Pressure, error) {
	g := t.Gauge
	if !g.onDial(s.Pressure) {
		return 0, fmt.Errorf("%s is %w, %s to %s", t.Fine(s.Pressure), ErrOffDial, t.Gauged(g.Low), t.Gauged(g.High))
	}
	steps := float64((s.Pressure - g.Low) / g.Division)
	near, other := math.Floor(steps), math.Ceil(steps)
	if other-steps < steps-near {
		near, other = other, near
	}
	for _, n := range []float64{near, other} {
		if at := g.Low + unit.Pressure(n)*g.Division; s.InBand(at) && g.onDial(at) {
			return at, nil
		}
	}
	return 0, fmt.Errorf("%w: %s to %s, a division is %s", ErrGaugeTooCoarse, t.Fine(s.Least), t.Fine(s.Most), t.Gauged(g.Division))
}

// dueSoon is how many days ahead a due date is announced (a rule of ours).
const dueSoon = 30

// DueFindings says whether tool and gauge may be used on the day. The due day
// itself is still good; from 30 days ahead it is announced, and a silent one
// is asked for. key is the tool's key in the job.
func (t Tool) DueFindings(on Date, key string) []Finding {
	var findings []Finding
	late := func(code, what string, due Date, key string) {
		switch days := on.DaysUntil(due); {
		case due.IsZero():
			findings = append(findings, Finding{Severity: Warning, Code: "no-due", Key: key,
				Text: what + " has no due date: whether it is calibrated is not judged; read it off the certificate"})
		case due.Before(on):
			findings = append(findings, Finding{Severity: Error, Code: code, Key: key,
				Text: fmt.Sprintf("%s was due for calibration on %s (days ago: %d): have it calibrated or take another", what, due, due.DaysUntil(on))})
		case days <= dueSoon:
			findings = append(findings, Finding{Severity: Warning, Code: "due-soon", Key: key,
				Text: fmt.Sprintf("%s is due for calibration on %s (days left: %d)", what, due, days)})
		}
	}
	late("tool-due", strings.TrimSpace("tool "+t.ID), t.Due, key+".due")
	late("gauge-due", strings.TrimSpace("gauge "+t.Gauge.ID), t.Gauge.Due, key+".gauge.due")
	return findings
}

// system is the unit system that goes with the gauge, for messages.
func (t Tool) system() unit.System {
	if t.Gauge.Unit == unit.InPsi {
		return unit.US
	}
	return unit.SI
}
