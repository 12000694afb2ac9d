package walk

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/visible"
	"evenload/sequence"
	"evenload/tui/draw"
)

// ask puts one question. Its text field is for what a question wants typed,
// for the reason why it does not apply, or for who releases it.
type ask struct {
	step sequence.Ask
	form form
	mode askMode
}

type askMode int

const (
	askPlain askMode = iota
	askTyped
	askReason
	askRelease
	askMeasured
	askTold // with a yes
)

func newAsk(s sequence.Ask, v *View) ask {
	a := ask{step: s}
	if s.Question.Measured && !s.SaidNo {
		a = a.measuring(v)
	}
	if s.Question.Typed != "" {
		a.mode = askTyped
		a.form = newForm(input("Last characters of the tag", "", "", false))
	}
	return a
}

func (a ask) Typing() bool { return a.mode != askPlain }

func (a ask) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	if a.mode != askPlain {
		return a.typing(k, v)
	}
	if want, ok := common(k); ok {
		return a, want
	}
	q := a.step.Question
	if q.Measured {
		switch k.String() {
		case "y", "n":
			return a, Want{Notice: "It is measured: m, and type the readings."}
		case "m":
			return a.measuring(v), Want{}
		}
	}
	switch k.String() {
	case "y":
		if len(q.Asks) > 0 {
			return a.tells(), Want{}
		}
		return a, Want{Event: sequence.Answered{Question: q.ID, Answer: sequence.Yes}, Gate: true}
	case "n":
		if q.OfWork() {
			return hazard{from: a, no: true}, Want{}
		}
		return a, Want{Event: sequence.Answered{Question: q.ID, Answer: sequence.No}, Gate: true}
	case "a":
		if q.MayNot {
			a.mode, a.form = askReason, newForm(input("Why it does not apply", "", "", false))
			return a, Want{}
		}
		return a, Want{Notice: "This question always applies."}
	case "r":
		if a.mayRelease() {
			a.mode, a.form = askRelease, namedForm("Reason")
		}
	case "u":
		return a, a.undo(v)
	}
	return a, Want{}
}

// undo takes back the bolt marked last, where marks are asked for, else the
// answer before.
func (a ask) undo(v *View) Want {
	if len(a.step.Last) > 0 {
		if want, ok := takeBack(v); ok {
			return want
		}
	}
	if id := v.Walk.LastAnswered(); id != "" {
		return Want{Event: sequence.Undone{Question: id}, Gate: true}
	}
	return Want{}
}

func (a ask) mayRelease() bool { return a.step.SaidNo && a.step.Question.OnNo == sequence.Override }

func (a ask) typing(k tea.KeyMsg, v *View) (Screen, Want) {
	switch k.String() {
	case "ctrl+c":
		return a, Want{Leave: true}
	case "esc":
		if a.mode == askTyped {
			return a, Want{Event: sequence.Answered{Question: a.step.Question.ID, Answer: sequence.No}, Gate: true}
		}
		if a.mode == askMeasured && !a.step.SaidNo {
			return a, a.undo(v)
		}
		a.mode = askPlain
		return a, Want{}
	}
	if a.mode == askTyped && k.Paste {
		return a, Want{Notice: "Read the tag and type it: a paste proves nothing."}
	}
	next, complete, missing := a.form.key(k)
	a.form = next
	if missing != "" {
		return a, Want{Notice: missing + ": needed"}
	}
	if !complete {
		return a, Want{}
	}
	id := a.step.Question.ID
	switch a.mode {
	case askMeasured:
		return a.measured(v)
	case askTyped:
		d := a.step.Question.TypedAnswer(a.form.value(0))
		if d.Answer == sequence.No {
			return a, Want{Event: d, Gate: true, Notice: sequence.OtherTag}
		}
		return a, Want{Event: d, Gate: true}
	case askTold:
		d := sequence.Answered{Question: id, Answer: sequence.Yes}
		for i := range a.form.fields {
			d.Told = append(d.Told, a.form.value(i))
		}
		return a, Want{Event: d, Gate: true}
	case askReason:
		return a, Want{Event: sequence.Answered{Question: id, Answer: sequence.NotApplicable, Reason: a.form.value(0)}, Gate: true}
	}
	return a, Want{Event: sequence.Released{Of: sequence.OfQuestion, Question: id, Named: named(a.form)}}
}

// tells asks for what a yes has to tell.
func (a ask) tells() ask {
	var fields []field
	for _, asked := range a.step.Question.Asks {
		hint := ""
		if asked.Other {
			hint = "not the operator"
		}
		fields = append(fields, input(asked.Label, "", hint, false))
	}
	a.mode, a.form = askTold, newForm(fields...)
	return a
}

// named reads a form of name, role and reason.
func named(f form) sequence.Named {
	return sequence.Named{Name: f.value(0), Role: f.value(1), Reason: f.value(2)}
}

func (a ask) Frame(v *View) draw.Frame {
	f := frame(v)
	q := a.step.Question
	wide := max(20, v.Width-12)
	f.Body = append(f.Body, "", "   "+v.Theme.Paint(draw.Title, q.Heading), "")
	for _, line := range draw.Wrap(visible.Text(q.Text), wide) {
		f.Body = append(f.Body, "   "+v.Theme.Paint(draw.Strong, line))
	}
	f.Body = append(f.Body, "")
	para := func(label, text string) {
		for i, line := range draw.Wrap(visible.Text(text), wide) {
			if i > 0 {
				label = ""
			}
			f.Body = append(f.Body, "   "+pad(label, 8)+line)
		}
	}
	para("Why", q.Why)
	para("If no", q.IfNo)
	if a.step.SaidNo {
		f.Body = append(f.Body, "", "   "+v.Theme.Paint(draw.Danger, "OPEN")+"    "+sequence.SaidNoWord)
	}
	if read := a.step.Read; read != nil {
		for _, w := range read.Words(*v.Walk.Plan().Alignment, v.System) {
			f.Body = append(f.Body, "           "+w)
		}
	}
	if len(a.step.Last) > 0 {
		f.Body = append(f.Body, "", "   Marked last on this screen, the latest first:")
		for _, s := range a.step.Last {
			f.Body = append(f.Body, "      "+pad(v.Walk.MarkedWords(s), 8)+"  "+markWord(v.Walk.MarkOf(s[0])))
		}
	}
	if a.step.Question.When == sequence.AtGate {
		f.Body = append(f.Body, "", "   "+pad("answered", 11)+v.Walk.AnsweredWords())
	}
	if a.mode != askPlain {
		f.Body = append(f.Body, "")
		f.Fields = a.form.lines(v)
	}
	f.Caution = sequence.SiteFirst
	f.Keys = a.keys(v)
	return inSmall(f, v, a.small(v), wrapped(v, "Why: "+q.Why, "If no: "+q.IfNo), true)
}

// small is what has to be read before a question is answered, in few lines.
func (a ask) small(v *View) []string {
	lines := wrapped(v, a.step.Question.Text)
	if len(a.step.Last) > 0 {
		var last []string
		for _, s := range a.step.Last {
			last = append(last, v.Walk.MarkedWords(s))
		}
		lines = append(lines, wrapped(v, "Marked last: "+strings.Join(last, ", "))...)
	}
	if a.step.SaidNo {
		lines = append(lines, wrapped(v, "OPEN: answered no")...)
	}
	if read := a.step.Read; read != nil {
		lines = append(lines, wrapped(v, read.Words(*v.Walk.Plan().Alignment, v.System)...)...)
	}
	return lines
}

func (a ask) keys(v *View) []draw.Key {
	switch a.mode {
	case askTyped:
		return []draw.Key{{Key: "type, Enter", Does: "yes"}, {Key: "Esc", Does: "no, it reads otherwise"}, keyCtrlC}
	case askTold:
		return a.form.keys("yes")
	case askReason:
		return a.form.keys("does not apply")
	case askRelease:
		return a.form.keys("release")
	case askMeasured:
		keys := []draw.Key{a.form.enter("type, Enter", "take the readings")}
		if a.step.SaidNo || v.Walk.LastAnswered() != "" {
			keys = append(keys, draw.Key{Key: "Esc", Does: map[bool]string{true: "back", false: "undo the answer before"}[a.step.SaidNo]})
		}
		return append(keys, keyCtrlC)
	}
	keys := []draw.Key{{Key: "y", Does: "yes"}, {Key: "n", Does: "no"}}
	if a.step.Question.Measured {
		keys = []draw.Key{{Key: "m", Does: "measure again"}}
	}
	if a.step.Question.MayNot {
		keys = append(keys, draw.Key{Key: "a", Does: "does not apply"})
	}
	if a.mayRelease() {
		keys = append(keys, draw.Key{Key: "r", Does: "release by a named person"})
	}
	if _, can := v.Walk.Undoable(); can && len(a.step.Last) > 0 || v.Walk.LastAnswered() != "" {
		keys = append(keys, keyUndo)
	}
	return append(keys, keyHelp, keyQuit)
}

// markWord is what became of a bolt, as a word.
func markWord(m sequence.Mark) string {
	switch m {
	case sequence.MarkDone:
		return "done"
	case sequence.MarkStill:
		return "still"
	case sequence.MarkMoved:
		return "moved"
	case sequence.MarkLeft:
		return "left undone"
	case sequence.MarkReleased:
		return "left undone, released"
	}
	return "open"
}
