package walk

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/visible"
	"evenload/joint"
	"evenload/sequence"
	"evenload/tui/draw"
)

// signOn asks who works. Behind a stop page it asks for a permit number too.
// What is known of the person beside the name is asked for only with the tab
// key, below the last field: the plain case takes no key more.
type signOn struct {
	form    form
	stopped bool
	more    bool
}

func newSignOn(stopped bool) signOn {
	fields := []field{input("Name", "", "who works the tool", false), input("Second person", "", mayBeEmpty, true)}
	if stopped {
		fields = append(fields, input("Permit", "", "number; it allows the work again", false))
	}
	return signOn{form: newForm(fields...), stopped: stopped}
}

const mayBeEmpty = "may stay empty"

// first is how many fields there are without the further ones.
func (s signOn) first() int {
	if s.stopped {
		return 3
	}
	return 2
}

// open adds the further fields, and goes to the first of them.
func (s signOn) open() signOn {
	var fields []field
	for _, f := range s.form.fields {
		fields = append(fields, input(f.label, f.input.Value(), f.hint, f.optional))
	}
	fields = append(fields, input("Role", "", mayBeEmpty, true), input("Company", "", mayBeEmpty, true), input("Qualification", "", "its number", true),
		input("Valid until", "", "such as 2036-06-02", true), input("Supervisor", "", "of a trainee", true))
	s.form, s.more = newForm(fields...), true
	s.form.at = s.first()
	s.form.focus()
	return s
}

func (s signOn) Typing() bool { return true }

func (s signOn) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	switch k.String() {
	case "ctrl+c":
		return s, Want{Leave: true}
	case "tab", "down":
		if !s.more && s.form.at == s.first()-1 {
			return s.open(), Want{}
		}
	}
	next, complete, missing := s.form.key(k)
	s.form = next
	switch {
	case missing != "":
		return s, Want{Notice: missing + " is needed"}
	case complete:
		d, err := s.signedOn()
		if err != nil {
			s.form = s.form.back(s.first() + 3) // the only one that can be refused
			return s, Want{Notice: err.Error()}
		}
		return s, Want{Event: d}
	}
	return s, Want{}
}

// signedOn is what the form says.
func (s signOn) signedOn() (sequence.SignedOn, error) {
	d := sequence.SignedOn{Name: s.form.value(0), Second: s.form.value(1)}
	if s.stopped {
		d.Permit = s.form.value(2)
	}
	if !s.more {
		return d, nil
	}
	n := s.first()
	d.Role, d.Company, d.Qualification, d.Supervisor = s.form.value(n), s.form.value(n+1), s.form.value(n+2), s.form.value(n+4)
	if text := s.form.value(n + 3); text != "" {
		until, err := joint.ParseDate(text)
		if err != nil {
			return d, fmt.Errorf("valid until: %w", err)
		}
		d.QualifiedUntil = until
	}
	return d, nil
}

func (s signOn) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Caution = sequence.SiteFirst
	f.Keys = []draw.Key{s.form.enter("Enter", "sign on")}
	if !s.more && s.form.at == s.first()-1 {
		f.Keys = append(f.Keys, draw.Key{Key: "Tab", Does: "more: role, company, qualification, trainee"})
	}
	f.Keys = append(f.Keys, keyCtrlC)
	if s.stopped {
		reason := v.Step.(sequence.Stop).Reason
		f.Body = append(f.Body, "", v.Theme.Paint(draw.Danger, "  STOP"), "")
		f.Body = append(append(f.Body, wrapAll([]string{reason}, v)...), "")
		f.Body = append(append(f.Body, stopLines(v.Step.(sequence.Stop), v)...), "")
		f.Body = append(append(f.Body, wrapAll([]string{"No order is shown. Only a new sign-on with a permit number reopens this card; then the whole gate is asked again."}, v)...), "")
		f.Caution = sequence.StopHint
		f.Fields = s.form.from(v, f.Room(v.Width, v.Height, v.Theme))
		return inSmall(f, v, wrapped(v, reason), wrapped(v, stopSentences(v)...), false)
	}
	p := v.Walk.Plan()
	handed := v.Step.(sequence.SignOn).HandedWord()
	f.Body = append(f.Body, "")
	add := func(label, text string) {
		if text != "" {
			f.Body = append(f.Body, "  "+pad(label, 11)+visible.Text(text))
		}
	}
	switch {
	case s.more:
	case handed != "":
		for _, line := range draw.Wrap(visible.Text(handed), max(20, v.Width-5)) {
			f.Body = append(f.Body, "  "+v.Theme.Paint(draw.Strong, line))
		}
		f.Body = append(append(append(f.Body, ""), toldLines(v)...), "")
	default:
		add("Flange", p.About.Flange)
		add("Where", p.About.Where)
		add("Drawing", p.About.Drawing)
		add("Work order", p.About.WorkOrder)
		add("Permit", p.About.Permit)
		add("Procedure", p.About.Procedure)
		add("Bolts", boltsText(p))
		add("Approved", approved(p))
		f.Body = append(f.Body, "")
	}
	f.Body = append(append(f.Body, wrapAll([]string{sequence.OnlyFor}, v)...), "")
	if handed != "" {
		f.Body = append(f.Body, "  Who takes over?", "")
	} else if before := v.Step.(sequence.SignOn).Before; before != "" {
		f.Body = append(f.Body, "  The card is open. Last at work: "+visible.Text(before)+". Who works now?", "")
	} else {
		f.Body = append(f.Body, "  Who works?", "")
	}
	f.Fields = s.form.from(v, f.Room(v.Width, v.Height, v.Theme))
	return f
}
