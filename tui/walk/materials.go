package walk

import (
	tea "github.com/charmbracelet/bubbletea"

	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/tui/draw"
)

// materials takes the batches of what goes into the joint.
type materials struct{ form form }

func newMaterials(s unit.System) materials {
	degrees := "°C"
	if s == unit.US {
		degrees = "with its unit, such as 54 F"
	}
	return materials{form: newForm(input("Gasket batch", "", "", true), input("Stud batch", "", "", true), input("Nut batch", "", "", true),
		input("Lubricant batch", "", "", true), input("Temperature here", "", degrees, true))}
}

func (m materials) Typing() bool { return true }

func (m materials) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	if k.String() == "ctrl+c" {
		return m, Want{Leave: true}
	}
	next, complete, _ := m.form.key(k)
	m.form = next
	if !complete {
		return m, Want{}
	}
	d := sequence.MaterialsNoted{Gasket: m.form.value(0), Stud: m.form.value(1), Nut: m.form.value(2), Lubricant: m.form.value(3)}
	if text := m.form.value(4); text != "" {
		t, err := unit.ParseTemperature(text, v.System)
		if err != nil {
			m.form = m.form.back(4)
			return m, Want{Notice: err.Error()}
		}
		d.Ambient = &t
	}
	return m, Want{Event: d}
}

func (m materials) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Body = append(f.Body, "", "  "+v.Theme.Paint(draw.Title, "WHAT GOES INTO THE JOINT"), "")
	f.Body = append(append(f.Body, wrapAll([]string{sequence.MaterialsWord}, v)...), "")
	f.Caution = sequence.SiteFirst
	f.Keys = []draw.Key{m.form.enter("type, Enter", "keep it"), keyCtrlC}
	f.Fields = m.form.from(v, f.Room(v.Width, v.Height, v.Theme))
	return f
}
