package walk

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/tui/draw"
)

// stretch takes the stretch of one stud after the other.
type stretch struct{ form form }

func newStretch(s unit.System) stretch {
	name, _ := shortUnit(s)
	return stretch{form: newForm(input("Stretch", "", name+", or now less before: "+sequence.LengthsExample(s), false))}
}

func (stretch) Typing() bool { return true }

func (s stretch) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	switch k.String() {
	case "ctrl+c":
		return s, Want{Leave: true}
	case "esc":
		want, _ := takeBack(v)
		return s, want
	}
	if k.String() == "h" && s.form.empty() { // no reading has the letter
		return newHandover(s), Want{}
	}
	if k.String() == "n" && s.form.empty() {
		return newNote(s), Want{}
	}
	next, complete, missing := s.form.key(k)
	s.form = next
	switch {
	case missing != "":
		return s, Want{Notice: "Measure the stud and type by how much it grew."}
	case !complete:
		return s, Want{}
	}
	name, one := shortUnit(v.System)
	read, err := unit.ParseDifference(s.form.value(0), name)
	if err != nil {
		return s, Want{Notice: err.Error()}
	}
	return s, Want{Event: v.Walk.StretchOf(v.Step.(sequence.Stretch).Bolt, unit.Length(read.Value*one)).
		Of(unit.Length(read.Less*one), unit.Length(read.More*one))}
}

func (s stretch) Frame(v *View) draw.Frame {
	f := frame(v)
	step := v.Step.(sequence.Stretch)
	f.Caution = sequence.StretchHint
	f.Keys = []draw.Key{s.form.enter("type, Enter", "take the reading")}
	if k, ok := keyTakeBack(v, "Esc"); ok {
		f.Keys = append(f.Keys, k)
	}
	if s.form.empty() {
		f.Keys = append(f.Keys, keyHand, keyNote)
	}
	f.Keys = append(f.Keys, keyCtrlC)
	words := func(wide int, large bool) []string {
		measured := fmt.Sprintf("   %d of %d measured", v.Walk.Plan().Bolts-step.Left, v.Walk.Plan().Bolts)
		lines := []string{v.Theme.Paint(draw.Title, fmt.Sprintf("STUD OF BOLT %d", step.Bolt)) + measured}
		if large {
			lines = []string{v.Theme.Paint(draw.Title, "STUD OF BOLT") + measured}
			for _, line := range draw.Big(fmt.Sprint(step.Bolt)) {
				lines = append(lines, "  "+v.Theme.Paint(draw.BigRole, line))
			}
		}
		lines = append(lines, draw.Wrap(step.BandWords(v.System), wide)...)
		lines = append(append(lines, ""), draw.Wrap(sequence.StretchWord, wide)...)
		if step.Last != nil {
			lines = append(append(lines, ""), draw.Wrap(step.Last.Words(v.Walk.Plan()), wide)...)
		}
		return lines
	}
	f.Fields = s.form.lines(v)
	room := f.Room(v.Width, v.Height, v.Theme) - len(f.Fields)
	if right := words(rightWidth(v), true); widest(right) <= rightWidth(v) && max(leastRing, len(right)) <= room {
		f.Body = columns(v, ring(v, room, marks(v, step.Bolt)), right)
		return f
	}
	f.Body = indent(words(max(20, v.Width-4), false), 2)
	return f
}
