package job

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"evenload/joint"
	"evenload/joint/pattern"
)

// text reads a string; silent or empty takes the default, where there is one.
func (t *table) text(key, silent string) string {
	v := t.take(key)
	text, ok := v.(string)
	switch {
	case v == nil || v == "":
		if silent != "" {
			t.note(key, silent, "default")
		}
		return silent
	case !ok:
		t.fault(t.at(key), "%s is %s, text in quotes is wanted", t.key(key), typeName(v))
		return silent
	case !oneLine(text) && !t.checkText(t.at(key), t.key(key), text):
		return silent
	}
	t.note(key, text, t.origin)
	return text
}

// oneLine says that a text is plain and short, as nearly all are: a quick look
// before checkText.
func oneLine(v string) bool {
	for i := range len(v) {
		if v[i] < ' ' || v[i] > '~' {
			return false
		}
	}
	return len(v) <= longestText
}

// checkText refuses text that is not one line of visible characters: an escape
// in the file may hide what the file itself must not hold.
func (s *source) checkText(path, name, v string) bool {
	for _, r := range v {
		if !unicode.IsGraphic(r) {
			s.fault(path, "%s holds the character U+%04X, only visible characters on one line are allowed", name, r)
			return false
		}
	}
	if utf8.RuneCountInString(v) > longestText {
		s.fault(path, "%s has more than %d characters", name, longestText)
		return false
	}
	return true
}

// choice reads one of a few words.
func choice[T ~string](t *table, key string, silent T, all ...T) T {
	v := T(t.text(key, string(silent)))
	if v == "" || slices.Contains(all, v) {
		return v
	}
	var words []string
	for _, w := range all {
		words = append(words, string(w))
	}
	t.fault(t.at(key), "%s is %q, it can be %s", t.key(key), clean(string(v)), strings.Join(words, ", "))
	return silent
}

// quantity reads a value with a unit, above zero.
func quantity[T ~float64](t *table, key, silent string, parse func(string) (T, error)) T {
	text := ""
	switch v := t.take(key).(type) {
	case nil:
		if silent == "" {
			return 0
		}
		t.note(key, silent, "default")
		q, _ := parse(silent)
		return q
	case string:
		text = v
	case int64, float64:
		_, err := parse(fmt.Sprint(v))
		t.fault(t.at(key), "%s: %v, in quotes", t.key(key), err)
		return 0
	default:
		t.fault(t.at(key), "%s is %s, a quantity in quotes is wanted", t.key(key), typeName(v))
		return 0
	}
	if !oneLine(text) && !t.checkText(t.at(key), t.key(key), text) {
		return 0
	}
	return positive(t, key, text, parse)
}

// positive parses a quantity above zero and lists it.
func positive[T ~float64](t *table, key, text string, parse func(string) (T, error)) T {
	q, err := parse(text)
	switch {
	case err != nil:
		t.fault(t.at(key), "%s: %v", t.key(key), err)
		return 0
	case !(q > 0):
		t.fault(t.at(key), "%s is %q, it has to be above zero", t.key(key), clean(text))
		return 0
	}
	t.note(key, text, t.origin)
	return q
}

// whole reads a whole number between least and most; silent 0 means none.
func (t *table) whole(key string, silent, least, most int) int {
	switch v := t.take(key).(type) {
	case nil:
		if silent != 0 {
			t.note(key, strconv.Itoa(silent), "default")
		}
		return silent
	case int64:
		if v >= int64(least) && v <= int64(most) {
			t.note(key, strconv.FormatInt(v, 10), t.origin)
			return int(v)
		}
		if least == most {
			t.fault(t.at(key), "%s is %d, this version reads %d only", t.key(key), v, most)
		} else {
			t.fault(t.at(key), "%s is %d, it can be %d to %d", t.key(key), v, least, most)
		}
	default:
		t.fault(t.at(key), "%s is %s, a whole number is wanted", t.key(key), typeName(v))
	}
	return silent
}

// plain reads a number without a unit, above zero and at most most; 0 when silent.
func (t *table) plain(key string, most float64) float64 {
	var f float64
	switch v := t.take(key).(type) {
	case nil:
		return 0
	case int64:
		f = float64(v)
	case float64:
		f = v
	case string:
		if strings.Contains(v, ",") {
			t.fault(t.at(key), "%s is %q, a decimal point and no quotes are wanted: %s", t.key(key), clean(v), clean(strings.ReplaceAll(v, ",", ".")))
			return 0
		}
		t.fault(t.at(key), "%s is text %q, a number without quotes is wanted", t.key(key), clean(v))
		return 0
	default:
		t.fault(t.at(key), "%s is %s, a number is wanted", t.key(key), typeName(v))
		return 0
	}
	if math.IsNaN(f) || math.IsInf(f, 0) || f <= 0 || f > most {
		t.fault(t.at(key), "%s is %v, a number above 0 and at most %v is wanted", t.key(key), f, most)
		return 0
	}
	t.note(key, strconv.FormatFloat(f, 'f', -1, 64), t.origin)
	return f
}

func (t *table) truth(key string) bool {
	switch v := t.take(key).(type) {
	case nil:
		t.note(key, "false", "default")
	case bool:
		t.note(key, strconv.FormatBool(v), t.origin)
		return v
	default:
		t.fault(t.at(key), "%s is %s, true or false is wanted, without quotes", t.key(key), typeName(v))
	}
	return false
}

func (t *table) date(key string) joint.Date {
	switch v := t.take(key).(type) {
	case nil:
	case time.Time:
		d := joint.DateOf(v)
		// The library gives a date alone, a time alone and both together as one
		// type, told apart by the name of the zone.
		if v.Location().String() != "date-local" {
			t.fault(t.at(key), "%s holds a time of day, a date alone is wanted: 2036-06-02", t.key(key))
			return joint.Date{}
		}
		t.note(key, d.String(), t.origin)
		return d
	case string:
		t.fault(t.at(key), "%s is text %q, a date without quotes is wanted: 2036-06-02", t.key(key), clean(v))
	default:
		t.fault(t.at(key), "%s is %s, a date is wanted: 2036-06-02", t.key(key), typeName(v))
	}
	return joint.Date{}
}

var (
	spanPart     = pattern.Lazy{Text: `^(\d{1,4}(?:\.\d{1,3})?) ?(h|min|s)( |$)`}
	commaBetween = pattern.Lazy{Text: `(\d),(\d)`}
)

// span reads a length of time.
func (t *table) span(key, silent string) time.Duration {
	d, err := parseSpan(t.text(key, silent))
	if err != nil {
		t.fault(t.at(key), "%s: %v", t.key(key), err)
	}
	return d
}

// parseSpan reads a length of time such as "4 h", "0.5 h", "30 min" or "1 h 30 min".
func parseSpan(text string) (time.Duration, error) {
	units := map[string]time.Duration{"h": time.Hour, "min": time.Minute, "s": time.Second}
	var d time.Duration
	rest := strings.TrimSpace(text)
	for first := true; first || rest != ""; first = false {
		m := spanPart.Made().FindStringSubmatch(rest)
		if m == nil {
			if pointed := commaBetween.Made().ReplaceAllString(text, "$1.$2"); pointed != text {
				return 0, fmt.Errorf("%q has a decimal comma, write a point: %q", clean(text), clean(pointed))
			}
			return 0, fmt.Errorf("%q is no time, write one with its unit, such as \"4 h\", \"0.5 h\", \"30 min\" or \"1 h 30 min\"", clean(text))
		}
		n, err := strconv.ParseFloat(m[1], 64)
		if err != nil {
			return 0, err
		}
		d += time.Duration(math.Round(n * float64(units[m[2]])))
		rest = strings.TrimSpace(rest[len(m[0]):])
	}
	return d, nil
}
