package sequence

// besides takes what can come besides the next step: another tool or hose
// wherever a tool is set or used, new parts, and what shows at any bolt where none is
// at hand.
func (w *Walk) besides(step Step, e Event) (taken bool, err error) {
	tool := false
	switch s := step.(type) {
	case Set:
		tool = s.MayChange()
	case Tighten, Check:
		tool = true
	}
	switch d := e.Data.(type) {
	case ProblemFound:
		if Shows(step) {
			return true, w.trouble(nil, d, e.At)
		}
	case ToolChanged:
		if tool {
			return true, w.changeTool(d, e.At)
		}
	case AirChanged:
		if tool {
			return true, w.changeAir(d)
		}
	case Replaced:
		if TakesParts(step) {
			return true, w.replaced(d)
		}
	}
	return false, nil
}

// TakesParts says that a bolt that is out can be taken in again at a step.
func TakesParts(step Step) bool {
	switch s := step.(type) {
	case Tighten, Check, Snug, GapCheck, Stretch, LeakTest:
		return true
	case Close:
		return !s.Leaked
	case Ask:
		return s.Question.When == AtEnd
	case Release:
		return s.Of == OfBolt || s.Of == OfRounds
	}
	return false
}

// Shows says that what can be wrong at any bolt is taken at a step where none is at hand:
// at all that come once the gate is passed, but while a pressure that was high waits for
// its release and while several gauges are read at the end. A joint that leaked at its test
// is worked on by another card.
func Shows(step Step) bool {
	switch s := step.(type) {
	case Set:
		return s.MayChange()
	case Snug, GapCheck, Rest, Stretch, LeakTest:
		return true
	case Close:
		return !s.Leaked
	case Ask:
		return s.Begun
	case Release:
		return s.Of != OfQualification && s.Of != OfPressure
	}
	return false
}
