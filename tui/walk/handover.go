package walk

import (
	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/visible"
	"evenload/sequence"
	"evenload/tui/draw"
)

// handover is what two people go through when the work changes hands, over the
// screen it came from.
type handover struct {
	from Screen
	form form
}

func newHandover(from Screen) handover {
	return handover{from: from, form: newForm(input("On the flange", "", "", false))}
}

func (h handover) Typing() bool { return true }

func (h handover) Key(k tea.KeyMsg, _ *View) (Screen, Want) {
	switch k.String() {
	case "esc":
		return h.from, Want{}
	case "ctrl+c":
		return h, Want{Leave: true}
	}
	next, complete, missing := h.form.key(k)
	h.form = next
	switch {
	case missing != "":
		return h, Want{Notice: "Say what is on the flange now: tool, hose, air."}
	case complete:
		return h, Want{Event: sequence.HandedOver{State: h.form.value(0)}}
	}
	return h, Want{}
}

func (h handover) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Right = "HAND OVER"
	f.Body = append(f.Body, "")
	if better := v.Walk.BetterLater(v.Now); better != "" {
		for _, line := range draw.Wrap(better, max(20, v.Width-5)) {
			f.Body = append(f.Body, "  "+v.Theme.Paint(draw.Danger, line))
		}
		f.Body = append(f.Body, "")
	}
	f.Body = append(append(f.Body, toldLines(v)...), "", "  "+sequence.OnFlangeWord+"?", "")
	f.Fields = h.form.lines(v)
	f.Caution = sequence.HandHint
	f.Keys = h.form.keys("hand over")
	return f
}

// toldLines are the lines of a handover, each with its label.
func toldLines(v *View) []string {
	var lines []string
	for _, t := range v.Walk.HandoverWords(v.Now) {
		label := t.Label
		for _, line := range draw.Wrap(visible.Text(t.Text), max(20, v.Width-15)) {
			lines = append(lines, "  "+pad(label, 10)+line)
			label = ""
		}
	}
	return lines
}
