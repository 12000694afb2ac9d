package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/sequence"
	"evenload/sequence/interaction"
)

// modelled comes back when the simulated joint of a practice was computed.
type modelled struct {
	ring *interaction.Bolts
	err  error
}

func (r *root) model() tea.Msg {
	ring, err := r.opt.Model()
	return modelled{ring, err}
}

// modelled gives the practice its joint. A screen that is typed into stays.
func (r *root) modelled(m modelled) tea.Cmd {
	r.opt.Practice.Model(m.ring, m.err)
	switch r.step.(type) {
	case sequence.SignOn, sequence.Stop:
		return nil
	}
	return r.again("")
}

// again shows what a practice asks or tells next.
func (r *root) again(notice string) tea.Cmd {
	r.show()
	r.notice = notice
	return r.goOn()
}

// goOn does what the model does by itself in a practice.
func (r *root) goOn() tea.Cmd {
	if r.opt.Practice == nil {
		return nil
	}
	if d, ok := r.opt.Practice.Auto(r.session.Walk.At(r.opt.Now()), r.step); ok {
		return r.send(d, "")
	}
	return nil
}

// judged has a practice judge an event, and adds what it says to a note.
func (r *root) judged(d sequence.Data, refused error, note string) string {
	if r.opt.Practice == nil {
		return note
	}
	said := r.opt.Practice.Judge(r.session.Walk.At(r.opt.Now()), r.step, d, refused)
	if note == "" || said == "" {
		return note + said
	}
	if !strings.HasSuffix(note, ".") {
		note += "."
	}
	return note + " " + said
}

// happened does to the simulated joint what was written.
func (r *root) happened(m recorded) {
	if r.opt.Practice == nil || m.data == nil {
		return
	}
	if err := r.opt.Practice.Happened(m.step, m.data); err != nil {
		r.opt.Practice.Model(nil, err)
	}
}
