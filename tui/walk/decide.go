package walk

import (
	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/visible"
	"evenload/sequence"
	"evenload/tui/draw"
)

// rest waits for the gasket, or has the wait waived.
type rest struct {
	form    form
	waiving bool
}

func newRest() rest { return rest{form: namedForm("Reason")} }

func (r rest) Typing() bool { return r.waiving }

func (r rest) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	if !r.waiving {
		if want, ok := common(k); ok {
			return r, want
		}
		switch {
		case isDone(k) && v.Step.(sequence.Rest).Over:
			return r, Want{Event: sequence.RestOver{}, Marks: true}
		case isDone(k):
			return r, Want{Notice: "The rest is not over."}
		case k.String() == "w" && !v.Step.(sequence.Rest).Over:
			r.waiving = true
		case k.String() == "u" && !v.Step.(sequence.Rest).Over:
			want, _ := takeBack(v)
			return r, want
		case k.String() == "n":
			return newNote(r), Want{}
		case k.String() == "h":
			return newHandover(r), Want{}
		}
		return r, Want{}
	}
	next, d, want := decide(r.form, k)
	r.form = next
	switch {
	case k.String() == "esc":
		r.waiving = false
	case d != nil:
		want.Event = sequence.RestWaived{Named: *d}
	}
	return r, want
}

// decide takes a key of a form of name, role and reason; when it is complete
// it gives the person.
func decide(f form, k tea.KeyMsg) (form, *sequence.Named, Want) {
	if k.String() == "ctrl+c" {
		return f, nil, Want{Leave: true}
	}
	next, complete, missing := f.key(k)
	switch {
	case missing != "":
		return next, nil, Want{Notice: missing + " is needed"}
	case complete:
		n := named(next)
		return next, &n, Want{}
	}
	return next, nil, Want{}
}

func (r rest) Frame(v *View) draw.Frame {
	f := frame(v)
	step := v.Step.(sequence.Rest)
	until := step.Until.Local()
	title := "THE GASKET RESTS"
	if step.Over {
		title = "THE REST IS OVER"
	}
	f.Body = append(f.Body, "", "  "+v.Theme.Paint(draw.Title, title), "")
	if step.Over {
		f.Body = append(f.Body, "  It ended at "+v.Theme.Paint(draw.Strong, until.Format("15:04 on 2006-01-02"))+".", "",
			"  Next: set the pressure again, then check rounds until no nut moves.")
		f.Keys = []draw.Key{{Key: "SPACE", Does: "go on"}}
	} else {
		f.Body = append(f.Body, "  Nothing to do before "+v.Theme.Paint(draw.Strong, until.Format("15:04 on 2006-01-02"))+
			", in "+sequence.AboutTime(step.Until.Sub(v.Now))+".", "",
			"  A gasket creeps after its first load. The end time is on the card:",
			"  leave, switch off, come back.")
	}
	if r.waiving {
		f.Body = append(f.Body, "", "  Without the rest there is no check round after it: the final gaps come next.",
			"  Who does without it?", "")
		f.Fields = r.form.lines(v)
		f.Keys = r.form.keys("waive the rest")
	} else {
		if !step.Over {
			f.Keys = append(f.Keys, draw.Key{Key: "w", Does: "waive by a named person"})
			if k, ok := keyTakeBack(v, "u"); ok {
				f.Keys = append(f.Keys, k)
			}
		}
		f.Keys = append(f.Keys, keyHand, keyNote, keyHelp, keyQuit)
	}
	f.Caution = sequence.RestHint
	return f
}

// release holds the work until a named person lets it go on.
type release struct {
	step     sequence.Release
	form     form
	deciding bool
	restart  bool // with a new gasket
	rounds   bool // check rounds while a stud is high
	replace  bool // studs above their band get new ones
}

func newRelease(s sequence.Release) release { return release{step: s, form: namedForm(s.ReasonWord())} }

func (r release) Typing() bool { return r.deciding }

func (r release) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	if !r.deciding {
		if want, ok := common(k); ok {
			return r, want
		}
		switch k.String() {
		case "r":
			r.deciding = true
		case "s":
			switch r.step.Of {
			case sequence.OfProblem:
				r.deciding, r.restart = true, true
			case sequence.OfQualification:
				return r, Want{Event: sequence.Suspended{}} // the sign-on comes next
			}
		case "x":
			if out := r.out(v); len(out) > 0 {
				return newParts(r, out), Want{}
			}
		case "w":
			if len(r.step.ToReplace(v.Walk.Plan())) > 0 && r.step.Of == sequence.OfStretch {
				r.deciding, r.replace = true, true
			}
		case "t":
			if r.step.Of == sequence.OfBolt && !r.step.Out {
				return r, Want{Event: sequence.Undone{Bolt: r.step.Bolt}}
			}
		case "m", "c":
			if r.step.Of == sequence.OfStretch {
				named, never := r.step.RoundsBy(v.Walk.Plan())
				if k.String() == "c" && named && !never {
					r.deciding, r.rounds = true, true
					return r, Want{}
				}
				return r, Want{Event: sequence.StudsAgain{Rounds: k.String() == "c"}}
			}
		case "u":
			if r.mayTakeBack() {
				want, _ := takeBack(v)
				return r, want
			}
		case "h":
			return newHandover(r), Want{}
		case "n":
			return newNote(r), Want{}
		}
		return r, Want{}
	}
	if k.String() == "esc" {
		r.deciding, r.restart, r.rounds, r.replace = false, false, false, false
		return r, Want{}
	}
	next, d, want := decide(r.form, k)
	r.form = next
	switch {
	case d == nil:
	case r.rounds:
		want.Event = sequence.StudsAgain{Rounds: true, Decided: d}
	case r.replace:
		want.Event = sequence.Released{Of: r.step.Of, Replace: r.step.ToReplace(v.Walk.Plan()), Named: *d}
	default:
		want.Event = sequence.Released{Of: r.step.Of, Bolt: r.step.Bolt, Tool: r.step.Slot, Restart: r.restart, Hold: r.step.Hold, Named: *d}
	}
	return r, want
}

func (r release) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Body = append(f.Body, "", "  "+v.Theme.Paint(draw.Danger, "WORK IS HELD"), "")
	f.Body = append(f.Body, wrapAll(v.Walk.ReleaseWords(r.step), v)...)
	f.Caution = sequence.ReleaseHint
	words := wrapped(v, v.Walk.ReleaseWords(r.step)...)
	if r.deciding {
		who, does := "Who lets the work go on?", "release"
		if r.restart {
			f.Body = append(append(f.Body, ""), wrapAll([]string{sequence.RestartWord}, v)...)
			who, does = "Who decides it?", "start again"
		}
		switch {
		case r.rounds:
			who, does = "Who decides on check rounds with a stud that is high?", "check rounds again"
		case r.replace:
			who, does = "Who decides on a new stud for bolt "+sequence.BoltList(r.step.ToReplace(v.Walk.Plan()))+"?", "replace"
		}
		f.Body = append(f.Body, "", "  "+who, "")
		f.Fields = r.form.lines(v)
		f.Keys = r.form.keys(does)
		return inSmall(f, v, wrapped(v, who), words, false)
	}
	f.Keys = []draw.Key{{Key: "r", Does: r.step.GoOnWord()}}
	if r.step.Of == sequence.OfStretch {
		f.Keys = append(r.stretchKeys(v), draw.Key{Key: "r", Does: "accept by name"})
	}
	switch r.step.Of {
	case sequence.OfProblem:
		f.Keys = append(f.Keys, draw.Key{Key: "s", Does: "start again, new gasket"})
	case sequence.OfQualification:
		f.Keys = append(f.Keys, draw.Key{Key: "s", Does: "sign on anew"})
	}
	if out := r.out(v); len(out) > 0 {
		f.Keys = append(f.Keys, keyParts(out))
	}
	if r.step.Of == sequence.OfBolt && !r.step.Out {
		f.Keys = append([]draw.Key{{Key: "t", Does: "take it back"}}, f.Keys...)
	}
	if k, ok := keyTakeBack(v, "u"); ok && r.mayTakeBack() {
		f.Keys = append(f.Keys, k)
	}
	f.Keys = append(f.Keys, keyHand, keyNote, keyHelp, keyQuit)
	return inSmall(f, v, words[:1], words[1:], true)
}

// mayTakeBack says that what was marked last can be taken back here.
func (r release) mayTakeBack() bool {
	return r.step.Of == sequence.OfHold || r.step.Of == sequence.OfStretch
}

// stretchKeys are those for studs outside the band.
func (r release) stretchKeys(v *View) []draw.Key {
	keys := []draw.Key{{Key: "m", Does: "measure again"}}
	if to := r.step.ToReplace(v.Walk.Plan()); len(to) > 0 {
		keys = append(keys, draw.Key{Key: "w", Does: "new stud, bolt " + sequence.BoltList(to)})
	}
	if named, never := r.step.RoundsBy(v.Walk.Plan()); !never {
		does := "check rounds again"
		if named {
			does += ", by name"
		}
		keys = append(keys, draw.Key{Key: "c", Does: does})
	}
	return keys
}

// out are the bolts whose new parts can come in here.
func (r release) out(v *View) []sequence.Bolt {
	if r.step.Of != sequence.OfBolt && r.step.Of != sequence.OfRounds {
		return nil
	}
	return v.Walk.Out()
}

// note takes a line to be kept on the card, over the screen it came from.
type note struct {
	from Screen
	form form
}

func newNote(from Screen) note { return note{from: from, form: newForm(input("Note", "", "", false))} }

func (n note) Typing() bool { return true }

func (n note) Key(k tea.KeyMsg, _ *View) (Screen, Want) {
	switch k.String() {
	case "esc":
		return n.from, Want{}
	case "ctrl+c":
		return n, Want{Leave: true}
	}
	next, complete, _ := n.form.key(k)
	n.form = next
	if complete {
		return n.from, Want{Event: sequence.NoteMade{Text: n.form.value(0)}, Notice: "Noted."}
	}
	return n, Want{}
}

func (n note) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Body = append(f.Body, "")
	f.Body = append(append(f.Body, wrapAll([]string{"A line for the card: what was seen, or a correction of what stands there.",
		"Nothing is ever removed from the card."}, v)...), "")
	f.Fields = n.form.lines(v)
	f.Caution = sequence.SiteFirst
	f.Keys = n.form.keys("keep it")
	return f
}

// closeCard takes the witness's name; then the card is closed.
type closeCard struct{ form form }

func newCloseCard() closeCard {
	return closeCard{form: newForm(input("Witness", "", "who did not work on it", false), input("Role", "", "", false))}
}

func (c closeCard) Typing() bool { return true }

func (c closeCard) Key(k tea.KeyMsg, _ *View) (Screen, Want) {
	if k.String() == "ctrl+c" {
		return c, Want{Leave: true}
	}
	next, complete, missing := c.form.key(k)
	c.form = next
	switch {
	case missing != "":
		return c, Want{Notice: missing + " is needed"}
	case complete:
		return c, Want{Event: sequence.CardClosed{Witness: c.form.value(0), Role: c.form.value(1)}}
	}
	return c, Want{}
}

func (c closeCard) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Body = append(f.Body, "", "  "+v.Theme.Paint(draw.Title, "READY TO CLOSE"), "", "  "+pad("Operator", 10)+visible.Text(v.Walk.Operator()), "")
	for _, line := range wrapAll(v.Walk.NoStudWords(), v) {
		f.Body = append(f.Body, v.Theme.Paint(draw.Danger, line))
	}
	if except := v.Walk.Exceptions(); len(except) == 0 {
		f.Body = append(f.Body, wrapAll([]string{"Nothing was left, released, accepted or waived."}, v)...)
	} else {
		f.Body = append(f.Body, "  "+v.Theme.Paint(draw.Danger, "NOT AS PLANNED"))
		f.Body = append(f.Body, wrapAll(except, v)...)
	}
	f.Body = append(append(f.Body, ""), wrapAll([]string{"Somebody who did not work on it looks at the joint and closes the card with the operator."}, v)...)
	f.Fields = c.form.lines(v)
	f.Caution = v.Walk.CloseCaution()
	f.Keys = []draw.Key{c.form.enter("Enter", "close the card"), keyCtrlC}
	return f
}

// closed shows the seal of a finished card.
type closed struct{}

func (closed) Typing() bool { return false }

func (c closed) Key(k tea.KeyMsg, _ *View) (Screen, Want) {
	want, _ := common(k)
	return c, want
}

func (closed) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Body = append(f.Body, "", "  "+v.Theme.Paint(draw.Title, "THE CARD IS CLOSED"), "")
	if v.Walk.Leak() == sequence.Leaked {
		f.Body = append(append(f.Body, "  "+v.Theme.Paint(draw.Danger, "IT LEAKED")), wrapAll([]string{sequence.LeakedWords()[2].Text}, v)...)
		f.Body = append(f.Body, "")
	}
	f.Body = append(f.Body,
		"  Seal   "+v.Theme.Paint(draw.Strong, v.Seal), "",
		"  Write the seal on the joint's tag: the record shows the same one.",
		"  evenload record CARD prints what was done; evenload verify CARD checks it.")
	f.Caution = v.Walk.CloseCaution()
	f.Keys = []draw.Key{keyHelp, keyQuit}
	return f
}
