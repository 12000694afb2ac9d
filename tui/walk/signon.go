package walk

import (
	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/visible"
	"evenload/sequence"
	"evenload/tui/draw"
)

// signOn asks who works. Behind a stop page it asks for a permit number too.
type signOn struct {
	form    form
	stopped bool
}

func newSignOn(stopped bool) signOn {
	fields := []field{input("Name", "", "who works the tool", false), input("Second person", "", "may stay empty", true)}
	if stopped {
		fields = append(fields, input("Permit", "", "number; it allows the work again", false))
	}
	return signOn{form: newForm(fields...), stopped: stopped}
}

func (s signOn) Typing() bool { return true }

func (s signOn) Key(k tea.KeyMsg, v View) (Screen, Want) {
	if k.String() == "ctrl+c" {
		return s, Want{Leave: true}
	}
	next, complete, missing := s.form.key(k)
	s.form = next
	switch {
	case missing != "":
		return s, Want{Notice: missing + " is needed"}
	case complete:
		d := sequence.SignedOn{Name: s.form.value(0), Second: s.form.value(1)}
		if s.stopped {
			d.Permit = s.form.value(2)
		}
		return s, Want{Event: d}
	}
	return s, Want{}
}

func (s signOn) Frame(v View) draw.Frame {
	f := frame(v)
	f.Caution = sequence.SiteFirst
	f.Keys = []draw.Key{s.form.enter("Enter", "sign on"), keyCtrlC}
	if s.stopped {
		reason := v.Step.(sequence.Stop).Reason
		f.Body = append(f.Body, "", v.Theme.Paint(draw.Danger, "  STOP"), "")
		f.Body = append(append(f.Body, wrapAll([]string{reason}, v)...), "")
		f.Body = append(append(f.Body, wrapAll([]string{"No order is shown. Only a new sign-on with a permit number reopens this card; then the whole gate is asked again."}, v)...), "")
		f.Fields = s.form.lines(v)
		f.Caution = sequence.StopHint
		return f
	}
	p := v.Walk.Plan()
	f.Body = append(f.Body, "")
	add := func(label, text string) {
		if text != "" {
			f.Body = append(f.Body, "  "+pad(label, 11)+visible.Text(text))
		}
	}
	add("Flange", p.About.Flange)
	add("Where", p.About.Where)
	add("Drawing", p.About.Drawing)
	add("Work order", p.About.WorkOrder)
	add("Permit", p.About.Permit)
	add("Procedure", p.About.Procedure)
	add("Bolts", boltsText(p))
	add("Approved", approved(p))
	f.Body = append(f.Body, "")
	f.Body = append(append(f.Body, wrapAll([]string{sequence.OnlyFor}, v)...), "")
	if before := v.Step.(sequence.SignOn).Before; before != "" {
		f.Body = append(f.Body, "  The card is open. Last at work: "+visible.Text(before)+". Who works now?", "")
	} else {
		f.Body = append(f.Body, "  Who works?", "")
	}
	f.Fields = s.form.lines(v)
	return f
}
