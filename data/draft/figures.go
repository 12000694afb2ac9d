package draft

import (
	"fmt"
	"strings"

	"evenload/joint/pattern"
)

var (
	signedNumber = pattern.Lazy{Text: `\d+(?:[.,'’]\d+)+`}
	oneSign      = pattern.Lazy{Text: `^(\d+)[.,](\d+)$`}
	thousands    = pattern.Lazy{Text: `^(\d{1,3}(?:[.,'’]\d{3})*)([.,'’])(\d+)$`}
	inInches     = pattern.Lazy{Text: `(?i)\d ?in$`} // not in·lbf
	// Behind a letter or a sign the figures end a name: "B7 720 MPa", "8.8 640 MPa".
	spaced = pattern.Lazy{Text: `(?:^|[\s,;])(\d{1,3}(?:[ \x{a0}\x{202f}]\d{3})+(?:[.,]\d+)?)(?:[^\d.,]|$)`}
)

// figures reads the numbers in an answer that may hold some. Passes read their own.
func figures(name Name, text string) (string, error) {
	switch name {
	case Grade, Lubricant, Gasket, Target:
		if err := unspaced(text); err != nil {
			return "", err
		}
		return pointed(text)
	case Flange, Rest: // 16 300# are two numbers
		return pointed(text)
	}
	return text, nil
}

// pointed writes the numbers of an answer as job files have them, with a decimal
// point. A number that may be two, or has signs between its thousands, is refused
// with what to write: points and commas are used for both.
func pointed(text string) (string, error) {
	inches := inInches.Made().MatchString(text)
	var refused error
	text = signedNumber.Made().ReplaceAllStringFunc(text, func(number string) string {
		plain, err := pointedNumber(number, inches)
		if refused == nil {
			refused = err
		}
		return plain
	})
	return text, refused
}

func pointedNumber(number string, inches bool) (string, error) {
	if m := oneSign.Made().FindStringSubmatch(number); m != nil {
		whole, decimals := m[1], m[2]
		// Nobody writes thousands of inches, nor a nought before thousands.
		if len(decimals) != 3 || len(whole) > 3 || whole[0] == '0' || inches {
			return whole + "." + decimals, nil
		}
		fewer := strings.TrimRight(decimals, "0")
		if len(fewer) == 3 {
			fewer += "0" // four decimals are no thousands
		}
		return "", fmt.Errorf("%q may be %s or %s: write the one that is meant", number, whole+decimals, strings.TrimSuffix(whole+"."+fewer, "."))
	}
	m := thousands.Made().FindStringSubmatch(number)
	if m == nil {
		return "", fmt.Errorf("%q is no number: write it with one decimal point, and a space before the next one", number)
	}
	plain := strings.NewReplacer(".", "", ",", "", "'", "", "’", "").Replace(m[1])
	if decimal := m[2] != "'" && m[2] != "’" && !strings.Contains(m[1], m[2]); decimal {
		plain += "."
	}
	return "", fmt.Errorf("%q has signs between its thousands, write %s", number, plain+m[3])
}

// unspaced refuses figures that stand in groups of three.
func unspaced(text string) error {
	m := spaced.Made().FindStringSubmatch(text)
	if m == nil {
		return nil
	}
	plain := strings.NewReplacer(" ", "", "\u00a0", "", "\u202f", "", ",", ".").Replace(m[1])
	return fmt.Errorf("%q has spaces between its figures: write %s, or a comma and a space where one number ends", m[1], plain)
}
