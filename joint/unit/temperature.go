package unit

import (
	"fmt"
	"strconv"
	"strings"
)

// Temperature in °C: it is written down, and nothing is computed with it.
type Temperature float64

// ParseTemperature reads "12 °C", "54 F" or, where the system is SI, "12".
func ParseTemperature(text string, s System) (Temperature, error) {
	number := strings.TrimSpace(text)
	number, fahrenheit := strings.CutSuffix(number, "F")
	bare := !fahrenheit
	if bare {
		var celsius bool
		number, celsius = strings.CutSuffix(number, "C")
		bare = !celsius
	}
	number = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(number), "°"))
	v, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
	if err != nil || strings.Trim(number, "+-0123456789.,") != "" {
		return 0, fmt.Errorf("%q is no temperature, type one such as 12 °C or 54 °F", text)
	}
	switch {
	case bare && s == US:
		return 0, fmt.Errorf("%q has no unit, type it: 12 C or 54 F", text)
	case fahrenheit:
		v = (v - 32) / 1.8
	}
	return Temperature(v), nil
}

// Text prints the temperature to a tenth of a degree, as far as there is one.
func (t Temperature) Text(s System) string {
	if s == US {
		return trim(float64(t)*1.8+32, 1) + " °F"
	}
	return trim(float64(t), 1) + " °C"
}
