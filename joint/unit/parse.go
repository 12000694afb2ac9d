package unit

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"evenload/joint/pattern"
)

// ParseLength reads "92 mm", "3.5 in", "1-7/16 in" or "7/8 in".
func ParseLength(s string) (Length, error) { v, _, err := parse(s, length); return Length(v), err }

// ParseForce reads "120 kN" or "27000 lbf".
func ParseForce(s string) (Force, error) { v, _, err := parse(s, force); return Force(v), err }

// ParseStress reads "345 MPa", "345 N/mm²" or "50 ksi".
func ParseStress(s string) (Stress, error) { v, _, err := parse(s, stress); return Stress(v), err }

// ParsePressure reads "3.4 bar" or "49 psi".
func ParsePressure(s string) (Pressure, error) {
	v, _, err := parse(s, pressure)
	return Pressure(v), err
}

// ParseGaugePressure is ParsePressure that also says which unit the text
// used: a gauge is read in its own unit everywhere.
func ParseGaugePressure(s string) (Pressure, PressureUnit, error) {
	v, u, err := parse(s, pressure)
	return Pressure(v), pressureUnits[u], err
}

// ParseTorque reads "187 N·m", "187 N.m", "187 Nm", "138 lbf·ft", "138 ft·lbf" or "138 ft-lb".
func ParseTorque(s string) (Torque, error) { v, _, err := parse(s, torque); return Torque(v), err }

// ParseShare reads "60 %" as 0.6.
func ParseShare(s string) (Share, error) { v, _, err := parse(s, share); return Share(v), err }

// ParseStiffness reads "200 N/mm³" or "200 N/mm3".
func ParseStiffness(s string) (Stiffness, error) {
	v, _, err := parse(s, stiffness)
	return Stiffness(v), err
}

var (
	decimal      = pattern.Lazy{Text: `^[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,3})?`}
	fraction     = pattern.Lazy{Text: `^(?:(\d{1,4})[- ])?(\d{1,4})/(\d{1,4})`}
	decimalComma = pattern.Lazy{Text: `^[+-]?\d+,\d`}
	// 27,000 is twenty-seven in one country and twenty-seven thousand in another.
	thousandsComma = pattern.Lazy{Text: `^[+-]?\d+,\d{3}(\D|$)`}
	notANumber     = pattern.Lazy{Text: `(?i)^[+-]?(nan|inf|infinity)`}
)

// longest is the most bytes that a quantity's text may have.
const longest = 64

// most is the largest value in SI that is read, far above anything in a joint,
// so that no later sum overflows.
const most = 1e18

// parse reads a number and a unit of kind k, and returns the value in SI with
// the squeezed spelling of its unit.
func parse(s string, k kind) (float64, string, error) {
	text := strings.TrimSpace(s)
	want := kinds[k]
	comma := strings.IndexByte(text, ',') >= 0
	switch {
	case text == "":
		return 0, "", fmt.Errorf("nothing was read, %s is wanted, such as %s", want.name, want.example)
	case len(text) > longest:
		return 0, "", fmt.Errorf("%d characters were read, %s is shorter, such as %s", len(text), want.name, want.example)
	case (text[0] < '0' || text[0] > '9') && notANumber.Made().MatchString(text):
		return 0, "", fmt.Errorf("%q is not a number, write %s such as %s", s, want.name, want.example)
	case comma && thousandsComma.Made().MatchString(text):
		// Either reading may be meant, and they are a thousand times apart.
		return 0, "", fmt.Errorf("%q has a comma, write %q or %q, whichever is meant", s, strings.ReplaceAll(text, ",", ""), strings.Replace(text, ",", ".", 1))
	case comma && decimalComma.Made().MatchString(text):
		return 0, "", fmt.Errorf("%q has a decimal comma, write a point: %q", s, strings.Replace(text, ",", ".", 1))
	}
	value, rest, err := number(text)
	if err != nil {
		return 0, "", fmt.Errorf("%q %w, write %s such as %s", s, err, want.name, want.example)
	}
	if more := strings.TrimLeft(rest, " \u00a0\u202f,'’"); more != "" && more[0] >= '0' && more[0] <= '9' {
		return 0, "", fmt.Errorf("%q has signs between its figures, write the number in one, with a point before decimals", s)
	}
	spelt := squeeze(rest)
	if spelt == "" {
		return 0, "", fmt.Errorf("%q has no unit, write %s such as %s", s, want.name, want.example)
	}
	factor, ok := factors[k][spelt]
	if !ok {
		if other, ok := kindOf(spelt); ok {
			return 0, "", fmt.Errorf("%q is %s, %s is wanted, such as %s", s, kinds[other].name, want.name, want.example)
		}
		return 0, "", fmt.Errorf("%q has an unknown unit %q, write %s in %s", s, strings.TrimSpace(rest), want.name, spellings(k))
	}
	v := value * factor
	if !(math.Abs(v) <= most) {
		return 0, "", fmt.Errorf("%q is too large to be %s", s, want.name)
	}
	return v, spelt, nil
}

// number takes a decimal or an inch fraction from the front of s.
func number(s string) (value float64, rest string, err error) {
	var m []string
	if strings.IndexByte(s, '/') > 0 { // looking first is quicker than the pattern
		m = fraction.Made().FindStringSubmatch(s)
	}
	if m != nil {
		whole, _ := strconv.ParseFloat("0"+m[1], 64)
		top, _ := strconv.ParseFloat(m[2], 64)
		bottom, _ := strconv.ParseFloat(m[3], 64)
		if bottom == 0 {
			return 0, "", fmt.Errorf("divides by zero")
		}
		return whole + top/bottom, s[len(m[0]):], nil
	}
	// Digits and a point are quicker to see than the pattern is.
	digits := s[:len(s)-len(strings.TrimLeft(s, "0123456789."))]
	if rest := s[len(digits):]; digits == "" || digits[0] == '.' || strings.Count(digits, ".") > 1 || rest != "" && (rest[0] == 'e' || rest[0] == 'E') {
		digits = decimal.Made().FindString(s)
	}
	if digits == "" {
		return 0, "", fmt.Errorf("does not begin with a number")
	}
	value, err = strconv.ParseFloat(digits, 64)
	if err != nil {
		return 0, "", fmt.Errorf("holds a number that is too large")
	}
	return value, s[len(digits):], nil
}

// squeeze takes out what people put between the parts of a unit.
func squeeze(s string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case '·', '⋅', '∙', '•', '.', '-', '*', '^':
			return -1
		case '²':
			return '2'
		case '³':
			return '3'
		case 'μ':
			return 'µ'
		}
		if unicode.IsSpace(r) {
			return -1
		}
		return r
	}, s)
}

// kindOf finds the kind that a unit of the wrong sort belongs to. The order is
// fixed so that a message never changes between runs.
func kindOf(spelt string) (kind, bool) {
	for k := length; k <= stiffness; k++ {
		if _, ok := factors[k][spelt]; ok {
			return k, true
		}
	}
	return 0, false
}

// spellings lists the units of a kind for a message.
func spellings(k kind) string {
	return strings.Join(slices.Sorted(maps.Keys(factors[k])), ", ")
}

// ParseReading reads what a person types from a gauge that reads in a unit:
// digits with a comma, a point or a space before the decimals, not below zero,
// and the unit behind them or none.
func ParseReading(s, in string) (float64, error) {
	text := strings.TrimSpace(s)
	if n := len(text) - len(in); n >= 0 && strings.EqualFold(text[n:], in) {
		text = strings.TrimSpace(text[:n])
	}
	text = strings.NewReplacer(",", ".", " ", ".").Replace(text)
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || strings.Trim(text, "0123456789.") != "" || // no exponent, no hexadecimal
		!(v >= 0 && v <= most) {
		return 0, fmt.Errorf("%q is no reading, type it such as 3.4 %s", s, in)
	}
	return v, nil
}

// Difference is a reading, or two of which one was taken from the other.
type Difference struct {
	Value      float64
	More, Less float64 // the two readings; both 0 where the difference itself was read
}

// ParseDifference reads one reading as ParseReading does, or two with a minus
// between them, the larger one first.
func ParseDifference(s, in string) (Difference, error) {
	first, second, two := strings.Cut(s, "-")
	more, err := ParseReading(first, in)
	if err != nil {
		return Difference{}, err
	}
	if !two {
		return Difference{Value: more}, nil
	}
	less, err := ParseReading(second, in)
	switch {
	case err != nil:
		return Difference{}, err
	case less > more:
		return Difference{}, fmt.Errorf("%q is less than nothing, type the larger reading first", s)
	}
	// To a billionth, so that 3.2-2.4 is 0.8.
	return Difference{math.Round((more-less)*1e9) / 1e9, more, less}, nil
}
