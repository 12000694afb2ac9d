package walk

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/sequence"
	"evenload/tui/draw"
)

// problem says that something is wrong at a bolt, over the screen it came from.
type problem struct {
	from   Screen
	bolt   sequence.Bolt
	form   form
	hazard bool
	typing bool
}

// NewHazard says, over any screen, that pressure, heat or a leak at the joint
// stops the work.
func NewHazard(from Screen) Screen {
	p := newProblem(from, 0)
	p.hazard, p.typing = true, true
	return p
}

// IsHazard says that a screen is about what is wrong already.
func IsHazard(s Screen) bool { _, is := s.(problem); return is }

func newProblem(from Screen, b sequence.Bolt) problem {
	return problem{from: from, bolt: b, form: newForm(input("What is wrong", "", "", false))}
}

func (p problem) Typing() bool { return p.typing }

func (p problem) Key(k tea.KeyMsg, _ View) (Screen, Want) {
	if k.String() == "esc" {
		return p.from, Want{}
	}
	if !p.typing {
		if want, ok := common(k); ok {
			return p, want
		}
		switch k.String() {
		case "1", "2":
			p.typing, p.hazard = true, k.String() == "2"
		case "b":
			return p.from, Want{}
		}
		return p, Want{}
	}
	if k.String() == "ctrl+c" {
		return p, Want{Leave: true}
	}
	next, complete, missing := p.form.key(k)
	p.form = next
	switch {
	case missing != "":
		return p, Want{Notice: "Say in a few words what is wrong."}
	case complete && p.hazard:
		return p, Want{Event: sequence.ProblemFound{Reason: p.form.value(0)}}
	case complete:
		return p, Want{Event: sequence.ProblemFound{Bolt: p.bolt, Reason: p.form.value(0)}}
	}
	return p, Want{}
}

func (p problem) Frame(v View) draw.Frame {
	f := frame(v)
	if p.bolt == 0 {
		f.Body = append(f.Body, "", "  "+v.Theme.Paint(draw.Danger, "HAZARD AT THE JOINT"), "")
		f.Body = append(f.Body, wrapAll([]string{"Pressure, heat, a leak or another hazard stops the work for everybody.",
			"Only a new sign-on with a permit number opens it again, and the whole gate is asked again."}, v)...)
	} else {
		f.Body = append(f.Body, "", "  "+v.Theme.Paint(draw.Danger, fmt.Sprintf("SOMETHING IS WRONG   bolt %d", p.bolt)), "",
			"  1   bolt "+fmt.Sprint(p.bolt)+" is left undone; go on with the next",
			"      (the pass stays open until a named person releases it)",
			"  2   pressure, heat, a leak or another hazard at the joint: STOP the work")
	}
	f.Keys = []draw.Key{{Key: "1", Does: "leave the bolt"}, {Key: "2", Does: "stop the work"}, {Key: "b", Does: "back"}, keyHelp, keyQuit}
	if p.typing {
		chosen, does := fmt.Sprintf("  Bolt %d will be left undone.", p.bolt), "leave the bolt"
		if p.hazard {
			chosen, does = "  The work will be stopped.", "stop the work"
		}
		f.Body = append(f.Body, "", chosen, "")
		f.Fields = p.form.lines(v)
		f.Keys = p.form.keys(does)
	}
	f.Caution = sequence.ProblemHint
	if p.hazard {
		f.Caution = sequence.StopHint
	}
	return f
}
