package walk

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/sequence"
	"evenload/tui/draw"
)

// hazard lists what stops the work, over the screen it came from.
type hazard struct {
	from Screen
	no   bool              // a question was answered no: it stops, whichever kind it is
	kind sequence.StopKind // chosen, none at first
	form form
}

// NewHazard says, over any screen, that something at the joint stops the work.
func NewHazard(from Screen) Screen { return hazard{from: from} }

// IsHazard says that a screen is about what is wrong already.
func IsHazard(s Screen) bool { _, is := s.(hazard); return is }

// Unsaid is what somebody has chosen that stops or holds the work and not finished
// to say; nil on every other screen. Whoever leaves there has found it all the same.
func Unsaid(s Screen, v *View) sequence.Data {
	if t, is := s.(trouble); is {
		return t.unsaid(v)
	}
	h, is := s.(hazard)
	switch {
	case !is || h.kind.What == "" && !h.no:
		return nil
	case h.kind.What == "":
		return sequence.ProblemFound{What: sequence.OtherHazard, Reason: sequence.NotSaid}
	}
	d := sequence.ProblemFound{What: h.kind.What, Reason: h.form.value(0)}
	if h.kind.Noted() && d.Reason == "" {
		d.Reason = sequence.NotSaid
	}
	return d
}

// elsewhere says that a problem at a bolt can be told though none is at hand. A question
// that was answered no stops the work.
func (h hazard) elsewhere(v *View) bool { return !h.no && sequence.Shows(v.Step) }

func (h hazard) Typing() bool { return h.kind.What != "" }

func (h hazard) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	if h.kind.What == "" {
		for _, kind := range sequence.StopKinds {
			if k.String() == kind.Key {
				note := input("Note", "", "may stay empty", true)
				if kind.Noted() {
					note = input("What is wrong", "", "", false)
				}
				h.kind, h.form = kind, newForm(note)
				return h, Want{}
			}
		}
		if k.String() == sequence.InjuryKey() && !h.no {
			injury, _ := sequence.TroubleOf(sequence.Injury)
			return newTrouble(problem{from: h.from}, injury, v), Want{}
		}
		if k.String() == sequence.ElsewhereKey && h.elsewhere(v) {
			return problem{from: h.from}, Want{}
		}
		if k.String() == "esc" || k.String() == "b" {
			return h.from, Want{}
		}
		want, _ := common(k)
		return h, want
	}
	switch k.String() {
	case "esc":
		h.kind = sequence.StopKind{}
		return h, Want{}
	case "ctrl+c":
		return h, Want{Leave: true}
	}
	next, complete, missing := h.form.key(k)
	h.form = next
	switch {
	case missing != "":
		return h, Want{Notice: "Say in a few words what is wrong."}
	case complete:
		return h, Want{Event: sequence.ProblemFound{What: h.kind.What, Reason: h.form.value(0)}}
	}
	return h, Want{}
}

func (h hazard) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Caution = sequence.StopHint
	f.Body = append(f.Body, "", "  "+v.Theme.Paint(draw.Danger, "STOP THE WORK"), "")
	if h.kind.What == "" {
		for _, kind := range sequence.StopKinds {
			f.Body = append(f.Body, "  "+kind.Key+"   "+kind.Name)
		}
		keys := sequence.StopKeys(h.elsewhere(v))
		if !h.no {
			f.Body = append(f.Body, "  "+sequence.InjuryKey()+"   injury or near miss: help first")
			keys += ", " + sequence.InjuryKey()
		}
		f.Body = append(f.Body, "")
		f.Body = append(f.Body, wrapAll([]string{"It stops the work for everybody. Only a new sign-on with a permit number opens it again, and the whole gate is asked again."}, v)...)
		if h.elsewhere(v) {
			f.Body = append(f.Body, "", "  "+sequence.ElsewhereKey+"   "+sequence.ElsewhereName)
		}
		var words []string
		for _, kind := range sequence.StopKinds {
			words = append(words, kind.Key+" "+kind.Word)
		}
		if !h.no {
			words = append(words, sequence.InjuryKey()+" injury")
		}
		if h.elsewhere(v) {
			words = append(words, sequence.ElsewhereKey+" "+sequence.ElsewhereWord)
		}
		f.Keys = []draw.Key{{Key: keys, Does: "choose"}, {Key: "b", Does: "back"}, keyHelp, keyQuit}
		if len(f.Body) > f.Room(v.Width, v.Height, v.Theme) {
			f.Caution = ""
			f.Body = indent(draw.Wrap(strings.Join(words, ", "), max(20, v.Width-3)), 1)
		}
		return f
	}
	f.Body = append(f.Body, "  "+h.kind.Name, "")
	f.Body = append(f.Body, stopLines(sequence.Stop{What: h.kind.What}, v)...)
	f.Body = append(f.Body, "", "  The work will be stopped.", "")
	f.Fields = h.form.lines(v)
	f.Keys = h.form.keys("stop the work")
	return f
}

// stopSentences say what to do, without the layout of stopLines.
func stopSentences(v *View) []string {
	var all []string
	for _, told := range v.Step.(sequence.Stop).Words() {
		all = append(all, told.Text)
	}
	return all
}

// stopLines say what to do, why the work stops and whom to ask.
func stopLines(s sequence.Stop, v *View) []string {
	var lines []string
	for _, told := range s.Words() {
		lines = append(lines, labelled(told.Label, told.Text, v)...)
	}
	return lines
}
