package sequence

import (
	"fmt"
	"slices"
	"strings"

	"evenload/joint"
	"evenload/joint/unit"
)

// MostTools is how many tools work at once: their letters are A to D.
const MostTools = 4

// Letter names the tool of a slot where a job has several: A the first.
func Letter(slot int) string { return string(rune('A' + slot)) }

// Several says that more than one tool works at once, so that each has a letter.
func (p *Plan) Several() bool { return len(p.Tools) > 1 }

// SlotOf is the slot of the tool that turns a bolt in the passes, -1 for a bolt
// that no station has.
func (p *Plan) SlotOf(b Bolt) int {
	for _, s := range p.Stations {
		if i := slices.Index(s, b); i >= 0 {
			return i
		}
	}
	return -1
}

// Turn is one bolt of a station, with the tool that turns it.
type Turn struct {
	Slot    int
	Letter  string // of the tool, empty when the job has only one
	Bolt    Bolt
	Tool    joint.Tool
	Setting joint.Setting
}

// letter is that of a slot, empty when the job has only one tool.
func (w *Walk) letter(slot int) string {
	if !w.plan.Several() {
		return ""
	}
	return Letter(slot)
}

// team is all tools with their settings, nothing for a tool alone.
func (w *Walk) team() []Turn {
	if len(w.InUse()) == 1 {
		return nil
	}
	var team []Turn
	for slot := range w.plan.Tools {
		team = append(team, Turn{Slot: slot, Letter: w.letter(slot), Tool: w.tool(slot), Setting: w.setting(slot)})
	}
	return team
}

// turns gives each bolt of a station its tool.
func (w *Walk) turns(s Station) []Turn {
	turns := make([]Turn, len(s))
	for i, b := range s {
		slot := w.plan.SlotOf(b)
		turns[i] = Turn{Slot: slot, Letter: w.letter(slot), Bolt: b, Tool: w.tool(slot), Setting: w.current(slot)}
	}
	return turns
}

// next gives up to n stations that are not done, each with its bolts that have
// no mark yet: a station that lost a bolt to a problem is a smaller one. In a
// check round every bolt is a station, clockwise: common practice is to go
// round with one tool.
func (w *Walk) next(n int) []Station {
	next := make([]Station, 0, n)
	if w.phase == phaseCheck {
		for b := Bolt(1); int(b) <= w.plan.Bolts && len(next) < n; b++ {
			if w.marks[b] == MarkOpen {
				next = append(next, Station{b})
			}
		}
		return next
	}
	done := func(b Bolt) bool { return w.marks[b] != MarkOpen }
	for _, s := range w.plan.Stations {
		if slices.ContainsFunc(s, done) {
			if s = without(s, done); len(s) == 0 {
				continue
			}
		}
		if next = append(next, s); len(next) == n {
			break
		}
	}
	return next
}

// without is a station without some of its bolts; most often nothing is left.
func without(s Station, done func(Bolt) bool) Station {
	var left Station
	for _, b := range s {
		if !done(b) {
			left = append(left, b)
		}
	}
	return left
}

// allMarked says that no bolt of the pass or round under way is without a mark.
func (w *Walk) allMarked() bool { return !slices.Contains(w.marks[1:], MarkOpen) }

// InUse lists the slots of the tools that the work under way needs set: all of
// them in a pass, in a check round the first alone, for a new bolt its own alone.
func (w Walk) InUse() []int {
	switch {
	case w.redo.bolt > 0:
		return []int{w.plan.SlotOf(w.redo.bolt)}
	case w.phase == phaseCheck:
		return []int{0}
	}
	slots := make([]int, len(w.plan.Tools))
	for slot := range slots {
		slots[slot] = slot
	}
	return slots
}

// SlotAt is the slot of the tool that is at a bolt now: in a check round the
// first goes to all.
func (w Walk) SlotAt(b Bolt) int {
	w.advance()
	if w.phase == phaseCheck && w.redo.bolt == 0 {
		return 0
	}
	return w.plan.SlotOf(b)
}

// ToolName is the tool of a slot by its id, with its letter where the job has
// several.
func (w Walk) ToolName(slot int) string {
	return strings.TrimSpace(w.letter(slot) + " " + OrNone(w.tool(slot).ID))
}

// slotIsSet says that the pressure of a tool is set and read back.
func (w *Walk) slotIsSet(slot int) bool { return slot < len(w.set) && w.set[slot] }

// isSet says so of all tools that the work under way needs.
func (w *Walk) isSet() bool { return w.toSet() < 0 }

// toSet is the first slot in use whose pressure is still to be set, -1 for none.
func (w *Walk) toSet() int {
	for _, slot := range w.InUse() {
		if !w.slotIsSet(slot) {
			return slot
		}
	}
	return -1
}

// wasSet keeps that the pressure of a tool is set and read back.
func (w *Walk) wasSet(slot int) {
	set := make([]bool, len(w.plan.Tools))
	copy(set, w.set)
	set[slot] = true
	w.set = set
}

// ending is the end reading of a tool, judged.
type ending struct {
	state endState
	read  unit.Pressure
}

type endState uint8

const (
	endedGood endState = iota + 1
	endedLow
	endedHigh // waits for a release
)

// endOf is how a tool's end reading was judged, 0 when it was not taken.
func (w Walk) endOf(slot int) endState {
	if slot >= len(w.ends) {
		return 0
	}
	return w.ends[slot].state
}

// ended says that all end readings are taken: of all tools after a pass, of the
// first after check rounds.
func (w *Walk) ended() bool {
	if w.phase == phaseCheck {
		return len(w.ends) == 1
	}
	return len(w.ends) == len(w.plan.Tools)
}

// highSlot is the first tool whose end reading waits for a release, -1 for none.
func (w *Walk) highSlot() int {
	return slices.IndexFunc(w.ends, func(e ending) bool { return e.state == endedHigh })
}

// wasRead keeps an end reading. All are taken before they are judged: a low one
// must not hide that another tool was high.
func (w *Walk) wasRead(s Set, e ending) {
	w.ends = and(w.ends, e)
	if e.state == endedLow {
		w.except("pressure low at the end of %s, %s%s: %s done again", s.Place.where(), toolWord(s.Letter), s.Tool.Typed(e.read), s.againWord())
	}
	w.judgeEnd()
}

// wouldWord says what would be done again if an end reading is low.
func (s Set) wouldWord() string {
	if s.Round > 0 {
		return "all check rounds would be made"
	}
	return "the whole pass would be done"
}

// againWord says what is done again when the end reading is low.
func (s Set) againWord() string {
	if s.Round > 0 {
		return "the check rounds were"
	}
	return "the pass was"
}

// judgeEnd begins the pass, or the check rounds, again when a tool was low at its end; what was high
// is released first.
func (w *Walk) judgeEnd() {
	if !w.ended() || w.highSlot() >= 0 {
		return
	}
	if low := w.lowWords(); low != "" {
		if w.phase == phaseCheck {
			w.startCheck("again, the pressure was low at their end")
			w.low = low
			return
		}
		w.clearMarks()
		w.set = nil
		w.repeat++
		w.newTool, w.low = false, low
	}
}

// lowWords name the tools that were low at the end, with what they read; empty where
// none was.
func (w *Walk) lowWords() string {
	var parts []string
	for slot, e := range w.ends {
		if e.state != endedLow {
			continue
		}
		tool, s := w.tool(slot), w.setting(slot)
		parts = append(parts, fmt.Sprintf("%s%s, the band is %s", toolWord(w.letter(slot)), tool.Typed(e.read), tool.Band(s)))
	}
	return strings.Join(parts, "; ")
}

// off lists the letters of the tools that stay off in a station.
func (w *Walk) off(turns []Turn) string {
	var letters []string
	for slot := range w.plan.Tools {
		if !slices.ContainsFunc(turns, func(t Turn) bool { return t.Slot == slot }) {
			letters = append(letters, Letter(slot))
		}
	}
	return strings.Join(letters, ", ")
}
