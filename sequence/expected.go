package sequence

import "fmt"

// Expected is how many check rounds an estimate expects until no nut moves, the
// still one counted. It is handed to the screens from outside and is never
// written down: it says nothing of any one bolt. The zero Expected is none.
type Expected struct {
	Low, High int // the range, 1 or more
	Looked    int // rounds that were looked at: a number above it says that none was still
}

// Known says that there is an estimate.
func (e Expected) Known() bool { return e.Low > 0 && e.High >= e.Low }

// span says it: "3 to 5", "9 to more than 25".
func (e Expected) span() string {
	word := func(n int) string {
		if e.Looked > 0 && n > e.Looked {
			return fmt.Sprintf("more than %d", e.Looked)
		}
		return fmt.Sprint(n)
	}
	if e.Low == e.High {
		return word(e.Low)
	}
	return word(e.Low) + " to " + word(e.High)
}

// ExpectedWords say on a check round how many rounds to expect, empty where there is
// no estimate or it does not hold: after the rest the gasket has given way,
// which the model does not have.
func (w Walk) ExpectedWords(e Expected) string {
	if !e.Known() || w.phase != phaseCheck || w.series > 0 {
		return ""
	}
	return fmt.Sprintf("Rounds to expect: %s in all. An estimate by a model, the nuts decide.", e.span())
}
