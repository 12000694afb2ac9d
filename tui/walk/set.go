package walk

import (
	"errors"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/tui/draw"
)

// set is the setting of the pressure and its reading, before a pass and at its end.
type set struct {
	form form
	sure bool // a reading at rest not above the running one was asked about
}

func newSet(s sequence.Set) set {
	u := string(s.Tool.Gauge.Unit)
	running := input("Reading while it runs", "", u, false)
	static := input("Reading at rest", "", u+"  may stay empty", true)
	if s.Tool.Reading == joint.Static {
		running.optional, running.hint = true, u+"  may stay empty"
		static.optional, static.hint = false, u
		return set{form: newForm(static, running)}
	}
	if s.AtEnd {
		return set{form: newForm(running)}
	}
	return set{form: newForm(running, static)}
}

func (s set) Typing() bool { return true }

func (s set) Key(k tea.KeyMsg, v View) (Screen, Want) {
	if k.String() == "ctrl+c" {
		return s, Want{Leave: true}
	}
	next, complete, missing := s.form.key(k)
	s.form = next
	if missing != "" {
		return s, Want{Notice: "Read the gauge and type what it shows."}
	}
	if !complete {
		s.sure = s.sure && k.String() == "enter"
		return s, Want{}
	}
	step := v.Step.(sequence.Set)
	d := sequence.PressureSet{AtEnd: step.AtEnd, Tool: step.Slot, Sure: s.sure}
	fields := []*unit.Pressure{&d.Running, &d.Static}
	if step.Tool.Reading == joint.Static {
		fields = []*unit.Pressure{&d.Static, &d.Running}
	}
	for i := range s.form.fields {
		if s.form.value(i) == "" {
			continue
		}
		value, err := unit.ParseReading(s.form.value(i))
		if err != nil {
			return s, Want{Notice: err.Error()}
		}
		*fields[i] = step.Tool.Gauge.Unit.Of(value)
	}
	if _, err := v.Walk.Apply(sequence.Event{At: v.Now, By: v.Walk.Operator(), Data: d}); errors.Is(err, sequence.ErrStaticLow) {
		s.sure = true
		return s, Want{Notice: sequence.ErrStaticLow.Error() + ". Enter once more keeps it."}
	}
	return s, Want{Event: d}
}

func (s set) Frame(v View) draw.Frame {
	f := frame(v)
	step := v.Step.(sequence.Set)
	words := step.SetWords()
	f.Body = append(f.Body, "")
	if step.AtEnd {
		f.Body = append(f.Body, "  "+v.Theme.Paint(draw.Strong, strings.Join(words, " ")), "",
			"  The pass counts only if the pressure held to its end.", "")
	} else {
		digits := draw.Big(step.Set.Reading(step.Tool.Gauge.Unit, step.Tool.Gauge.Division))
		for i, line := range digits {
			label := ""
			switch i {
			case 1:
				label = "Turn UP to"
			case 3:
				label = words[1]
			}
			tail := ""
			if i == 4 {
				tail = "  " + string(step.Tool.Gauge.Unit)
			}
			f.Body = append(f.Body, "  "+pad(label, 34)+v.Theme.Paint(draw.BigRole, line)+tail)
		}
		f.Body = append(f.Body, "")
	}
	f.Body = append(f.Body,
		"  "+pad("in band", 10)+pad(sequence.Band(step.Tool, step.Setting), 34)+"gives "+step.Delivered.Text(v.System),
		"  "+pad("tool "+draw.Clean(step.Tool.ID), 10)+pad("gauge "+draw.Clean(step.Tool.Gauge.ID)+", at the "+string(step.Tool.GaugeAt), 34)+sequence.MadeIn(step.Tool), "")
	f.Body = append(f.Body, s.form.lines(v)...)
	if !step.AtEnd {
		f.Body = append(f.Body, "", "  Too high: turn well below, then come up again. Lock the knob, try it twice.")
	}
	f.Caution = sequence.SetCaution
	f.Keys = []draw.Key{{Key: "type, Enter", Does: "next"}, keyCtrlC}
	return f
}
