package plain

import (
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

func (l *liner) signOn(stopped bool) error {
	name, err := l.ask("Name")
	if err != nil {
		return err
	}
	second, err := l.ask("Second person (more: also role, company, qualification, trainee), may stay empty")
	if err != nil {
		return err
	}
	d := sequence.SignedOn{Name: name, Second: second}
	if second == "more" {
		if err := l.more(&d); err != nil {
			return err
		}
	}
	if stopped {
		if d.Permit, err = l.ask("Number of the permit that allows the work again"); err != nil {
			return err
		}
	}
	return l.send(d)
}

// more asks for what is known of the person beside the name.
func (l *liner) more(d *sequence.SignedOn) error {
	for _, f := range []struct {
		label string
		take  func(string) error
	}{
		{"Second person", keep(&d.Second)}, {"Role", keep(&d.Role)}, {"Company", keep(&d.Company)}, {"Qualification, its number", keep(&d.Qualification)},
		{"Valid until, such as 2036-06-02", func(text string) (err error) {
			if text != "" {
				d.QualifiedUntil, err = joint.ParseDate(text)
			}
			return err
		}},
		{"Supervisor, of a trainee", keep(&d.Supervisor)},
	} {
		if err := l.taken(f.label+", may stay empty", f.take); err != nil {
			return err
		}
	}
	return nil
}

// taken asks for one thing until it is taken: what was typed before stays.
func (l *liner) taken(label string, take func(string) error) error {
	for {
		text, err := l.ask(label)
		if err != nil {
			return err
		}
		if err = take(text); err == nil {
			return nil
		}
		l.say("NOT TAKEN: %v", err)
	}
}

// keep takes any text.
func keep(to *string) func(string) error {
	return func(text string) error { *to = text; return nil }
}

// handOver goes through the job with the two people, and gives it to the one
// who signs on next.
func (l *liner) handOver() error {
	for _, t := range l.s.Walk.HandoverWords(l.now()) {
		l.say("HANDOVER: %s: %s", t.Label, t.Text)
	}
	if better := l.s.Walk.BetterLater(l.now()); better != "" {
		l.say("BETTER: %s", better)
	}
	state, err := l.ask(sequence.OnFlangeWord + "; empty goes back")
	if err != nil {
		return err
	}
	if state == "" {
		return errAgain
	}
	return l.send(sequence.HandedOver{State: state})
}

// materials asks for the batches, each of which may stay empty.
func (l *liner) materials() error {
	l.say("%s", sequence.MaterialsWord)
	var d sequence.MaterialsNoted
	for _, f := range []struct {
		label string
		take  func(string) error
	}{
		{"Gasket batch", keep(&d.Gasket)}, {"Stud batch", keep(&d.Stud)}, {"Nut batch", keep(&d.Nut)}, {"Lubricant batch", keep(&d.Lubricant)},
		{"Temperature here, such as 12 C or 54 F", func(text string) error {
			if text == "" {
				return nil
			}
			t, err := unit.ParseTemperature(text, l.system)
			d.Ambient = &t
			return err
		}},
	} {
		if err := l.taken(f.label, f.take); err != nil {
			return err
		}
	}
	return l.send(d)
}
