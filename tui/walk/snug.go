package walk

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/visible"
	"evenload/joint"
	"evenload/sequence"
	"evenload/tui/draw"
)

// snug is the closing of the joint by hand: one confirmation for all nuts.
type snug struct{}

func (snug) Typing() bool { return false }

func (s snug) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	if want, ok := common(k); ok {
		return s, want
	}
	if isDone(k) {
		return s, Want{Event: sequence.Snugged{}, Marks: true}
	}
	return s, Want{}
}

func (snug) Frame(v *View) draw.Frame {
	f := frame(v)
	step := v.Step.(sequence.Snug)
	f.Caution = sequence.SnugHint
	f.Keys = []draw.Key{{Key: "SPACE", Does: "all snug"}, keyHelp, keyQuit}
	words := func(wide int) []string {
		lines := []string{v.Theme.Paint(draw.Title, "ALL NUTS SNUG, BY HAND"), ""}
		for _, owed := range v.Walk.At(v.Now).OwedWords() {
			lines = append(lines, draw.Wrap(visible.Text(owed), wide)...)
		}
		lines = append(lines, "at most "+v.Theme.Paint(draw.Strong, step.Torque.Text(v.System)), fmt.Sprintf("(%s of the target)", step.Share.Text()),
			"", "in this order:")
		lines = append(append(lines, draw.Wrap(sequence.BoltList(step.Order), wide)...), "")
		return append(lines, draw.Wrap(sequence.SnugWatch, wide)...)
	}
	room := f.Room(v.Width, v.Height, v.Theme)
	if right := words(rightWidth(v)); widest(right) <= rightWidth(v) && max(leastRing, len(right)) <= room {
		f.Body = columns(v, ring(v, room, func(sequence.Bolt) draw.Mark { return draw.Open }), append([]string{""}, right...))
		return f
	}
	for _, line := range words(max(20, v.Width-4)) {
		if line != "" || room > 9 {
			f.Body = append(f.Body, "  "+line)
		}
	}
	return f
}

// boltsText is the bolts in a line: "12 x 7/8-9 UNC, A193 B7".
func boltsText(p *sequence.Plan) string {
	text := fmt.Sprintf("%d x %s", p.Bolts, p.Thread)
	if p.About.Grade != "" {
		text += ", " + p.About.Grade
	}
	return text
}

// approved says who approved the job, or that nobody did.
func approved(p *sequence.Plan) string {
	if p.About.ApprovedBy == "" {
		return "UNAPPROVED: ask the responsible engineer"
	}
	text := p.About.ApprovedBy
	if p.About.ApprovedOn != (joint.Date{}) {
		text += ", " + p.About.ApprovedOn.String()
	}
	return text
}
