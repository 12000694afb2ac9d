package sequence

import (
	"fmt"
	"strings"

	"evenload/joint"
)

// toolWord names a tool in the middle of a sentence, where the job has several.
func toolWord(letter string) string {
	if letter == "" {
		return ""
	}
	return "tool " + letter + ", "
}

// Text is the bolts of a station as one: "4+10".
func (s Station) Text() string { return strings.ReplaceAll(BoltList(s), ", ", "+") }

// ofTool names a tool at the end of a sentence, where the job has several.
func ofTool(letter string) string {
	if letter == "" {
		return ""
	}
	return ", tool " + letter
}

// spaced joins the parts of a title that are not empty.
func spaced(head, letter, rest string) string {
	if letter != "" {
		head += " " + letter
	}
	return head + "   " + rest
}

// What is common practice with several tools at once.
const (
	TeamSetCaution = "Sockets OFF the nuts, arms clear of hands. Gauges rise at stall: leave them."
	TeamSetWord    = "Turn all up first, look at A again, then type each reading: shared air sags."
	TeamHint       = "Everyone clear, hands off arms. Start on ONE word. Hold to the slowest stall."
	TeamArms       = "No arm on a nut that another tool turns. Each foot on its own stop."
	TeamFewer      = "Fewer tools share the air: look at the gauge, it may read higher."
)

// teamWords are SetWords where the job has several tools: they share the air,
// which sags when all run, so each is set and read while all do. Check rounds
// are for the first tool alone.
func (s Set) teamWords(value string) []string {
	tool := "tool " + s.Letter
	state := "with ALL tools running free"
	switch static := s.Tool.Reading == joint.Static; {
	case s.Round > 0 && static:
		state = "alone and still, others off"
	case s.Round > 0:
		state = "alone, running free, others off"
	case static:
		state = "with it still, ALL others running"
	}
	if s.AtEnd {
		return []string{"Read the gauge of " + tool + " again", state}
	}
	return []string{"Turn " + tool + " UP to " + value, state}
}

// Caution is that of setting and reading a pressure.
func (s Set) Caution() string {
	if len(s.Team) == 0 {
		return SetCaution
	}
	return TeamSetCaution
}

// TeamWords say what all tools are set to and in which order, so that each is
// read with the others at their pressures; nothing for a tool alone.
func (s Set) TeamWords() []string {
	switch {
	case s.Letter == "" || s.AtEnd:
		return nil
	case len(s.Team) == 0:
		return []string{"Check rounds go clockwise with one tool, " + s.Letter + ". Air off all others."}
	}
	var parts []string
	for _, t := range s.Team {
		parts = append(parts, t.Letter+" "+t.Tool.Gauged(t.Setting.Set))
	}
	return []string{"all together   " + strings.Join(parts, "   "), TeamSetWord}
}

// OffWords say which tools stay off, empty when none does.
func (s Tighten) OffWords() string {
	if s.Off == "" {
		return ""
	}
	word := "Tool " + s.Off + " stays off"
	if strings.Contains(s.Off, ",") {
		word = "Tools " + s.Off + " stay off"
	}
	return word + ", air off. " + TeamFewer
}

// MarkedWords name bolts that were marked together, in a pass with their tools.
func (w Walk) MarkedWords(s Station) string {
	if w.phase == phaseCheck || !w.plan.Several() {
		return takeBack(s).Words()
	}
	return TurnWords(w.turns(s))
}

// TurnWords say which tool takes which bolt: "A 1   B 7", or the bolt alone.
func TurnWords(turns []Turn) string {
	var parts []string
	for _, t := range turns {
		parts = append(parts, strings.TrimSpace(fmt.Sprintf("%s %d", t.Letter, t.Bolt)))
	}
	return strings.Join(parts, "   ")
}
