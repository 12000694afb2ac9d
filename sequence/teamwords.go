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
	TeamRepeat     = "The bolts done so far are done again, by all tools, from the first station on."
	TeamAsked      = "Tools, hoses, couplings and air are asked about again, and the setting of every tool in use."
	TeamAir        = "Hoses, couplings and air are asked about again, and the setting of every tool in use. The bolts done so far stay."
	teamFewer      = "Fewer tools share the air: look at the gauge, it may read higher."
)

// teamWords are SetWords where the job has several tools: they share the air,
// which sags when all run, so each is set and read while all do. Check rounds
// are for the first tool alone.
func (s Set) teamWords(value string) []string {
	tool := "tool " + s.Letter
	state := "with ALL tools running free"
	switch static := s.Tool.Reading == joint.Static; {
	case (s.Round > 0 || s.Redo > 0) && static:
		state = "alone and still, others off"
	case s.Round > 0 || s.Redo > 0:
		state = "alone, running free, others off"
	case static:
		state = "with it still, ALL others running"
	}
	if s.AtEnd {
		return []string{"Read the gauge of " + tool + " again", state}
	}
	return []string{"Turn " + tool + " UP to " + value, state}
}

// teamHelp is Help where several tools work at once, nothing for every other step.
func teamHelp(s Step) []string {
	switch s := s.(type) {
	case Set:
		if len(s.Team) == 0 {
			return nil
		}
		return []string{"Each tool has its own chart: the same pressure gives each another torque. All run on the same air, so that the pressure of one falls when another starts: set and read each while all run.",
			"Always come up to the pressure from below. At the end of the pass every tool is read again: one that was low has the whole pass done again, for one that was high the engineer decides about its bolts."}
	case Tighten:
		if s.Turns[0].Letter == "" || s.Redo > 0 {
			return nil
		}
		return []string{"The tools stand across from each other, so that the flanges close evenly. All start on one word, and nobody moves on before the slowest has stalled.",
			"Something wrong at one bolt leaves that bolt only: p names it. The others of the station are not done by that and come next, with their own tools."}
	case Check:
		if s.Letter == "" {
			return nil
		}
		return []string{"Check rounds go clockwise with tool " + s.Letter + " alone, at its own setting for the full torque. The other tools stay off.",
			"Each bolt took load off those tightened before it. Rounds bring it back, until no nut moves. Moved is no fault, it is what the round is for."}
	}
	return nil
}

// Caution is that of setting and reading a pressure.
func (s Set) Caution() string {
	if len(s.Team) == 0 {
		return SetCaution
	}
	return TeamSetCaution
}

// Caution is that of tightening; a new bolt is tightened by one tool alone.
func (s Tighten) Caution() string {
	if s.Turns[0].Letter == "" || s.Redo > 0 {
		return TightenHint
	}
	return TeamHint
}

// TeamWords say what all tools are set to and in which order, so that each is
// read with the others at their pressures; nothing for a tool alone.
func (s Set) TeamWords() []string {
	switch {
	case s.Letter == "" || s.AtEnd:
		return nil
	case s.Redo > 0:
		return []string{fmt.Sprintf("Bolt %d is brought up alone with its own tool, %s. Air off all others.", s.Redo, s.Letter)}
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
	if word += ", air off."; s.Redo > 0 {
		return word
	}
	return word + " " + teamFewer
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
