package report

import (
	"fmt"
	"strings"

	"evenload/sequence"
)

// problemSentence says what was found, what became of the bolt, and what is at
// risk.
func problemSentence(w sequence.Walk, d sequence.ProblemFound) string {
	t, known := sequence.TroubleOf(d.What)
	batch := ""
	if d.Batch != "" {
		batch = ", batch " + d.Batch
	}
	slot := w.SlotAt(d.Bolt)
	if d.What == sequence.WrongBolt {
		slot = d.Tool
	}
	tool := ofTool(w, slot)
	with := ""
	if tool != "" {
		with = " (" + strings.TrimPrefix(tool, " of ") + ")"
	}
	switch {
	case d.Bolt == 0:
		return "WORK STOPPED: " + d.Words()
	case d.Now:
		return fmt.Sprintf("bolt %d: %s, put right at once%s", d.Bolt, d.Words(), with)
	case known && t.Takes():
		return fmt.Sprintf("bolt %d out: %s%s%s", d.Bolt, d.Words(), batch, with)
	case d.What == sequence.WrongPressure:
		in, _ := w.ToolIn(slot)
		return fmt.Sprintf("WORK HELD at bolt %d: %s, the gauge%s reads %s. %s", d.Bolt, d.Words(), tool, in.Typed(d.Read), strings.Join(w.RiskWords(slot, d.Read), " "))
	case known && !t.Leaves() && !t.Chooses():
		return fmt.Sprintf("WORK HELD at bolt %d: %s%s", d.Bolt, d.Words(), with)
	case known && t.Chooses():
		return fmt.Sprintf("%s: bolt %d%s", d.Words(), d.Bolt, with)
	}
	return fmt.Sprintf("bolt %d left undone: %s%s", d.Bolt, d.Words(), with)
}

// toolSentence says which tool came, and what it is set to.
func toolSentence(w sequence.Walk, d sequence.ToolChanged) string {
	before, _ := w.ToolIn(d.Slot)
	letter := ""
	if w.Plan().Several() {
		letter = sequence.Letter(d.Slot) + " "
	}
	words := []string{fmt.Sprintf("tool %s%s, in place of %s: %s", letter, toolText(d.Tool), besides(before, d.Tool), d.Reason)}
	words = append(words, w.SettingWords(d, w.Plan().System)...)
	for _, n := range []struct {
		what string
		who  *sequence.Named
	}{{"the pass went on", d.GoOn}, {"out of date and allowed", d.Overdue}} {
		if n.who != nil {
			words = append(words, fmt.Sprintf("%s by %s, %s: %s", n.what, n.who.Name, n.who.Role, n.who.Reason))
		}
	}
	return strings.Join(words, "; ")
}
