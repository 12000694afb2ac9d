package walk

import (
	"fmt"
	"strconv"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/visible"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/tui/draw"
)

// problem lists what can be wrong at a bolt, over the screen it came from.
type problem struct {
	from Screen
	bolt sequence.Bolt // at hand, 0 where none is
}

// slot is that of the tool at the bolt.
func (p problem) slot(v *View) int { return v.Walk.At(v.Now).SlotAt(p.bolt) }

// name is the bolt, with its tool where the job has several.
func (p problem) name(v *View) string {
	if p.bolt == 0 {
		return "at a bolt"
	}
	name := fmt.Sprintf("bolt %d", p.bolt)
	if v.Walk.Plan().Several() {
		name += ", tool " + visible.Text(v.Walk.ToolName(p.slot(v)))
	}
	return name
}

// troubles are those that can be told here.
func (p problem) troubles() []sequence.Trouble {
	if p.bolt > 0 {
		return sequence.Troubles
	}
	return sequence.TroublesAnywhere()
}

// takesBack says that a bolt that was left can be taken back here.
func (p problem) takesBack(v *View) bool { return p.bolt > 0 && !again(v.Step) }

// takesParts says that new parts of a bolt that is out can come in here.
func (p problem) takesParts(v *View) bool {
	return len(v.Walk.Out()) > 0 && sequence.TakesParts(v.Step) && !again(v.Step)
}

func (p problem) Typing() bool { return false }

func (p problem) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	for _, t := range p.troubles() {
		if k.String() == t.Key && t.IsStill(v.Step) {
			return p, Want{Notice: sequence.StalledIsStill}
		}
		if k.String() == t.Key {
			return newTrouble(p, t, v), Want{}
		}
	}
	if want, ok := common(k); ok {
		return p, want
	}
	switch k.String() {
	case "b", "esc":
		return p.from, Want{}
	case "x":
		if out := v.Walk.Out(); p.takesParts(v) {
			return newParts(p, out), Want{}
		}
	case "t":
		if left := v.Walk.At(v.Now).LeftBolts(); len(left) > 0 && p.takesBack(v) {
			return p, Want{Event: sequence.Undone{Bolt: left[0]}}
		}
	}
	return p, Want{}
}

// again says that a new bolt is being brought up.
func again(s sequence.Step) bool {
	t, ok := s.(sequence.Tighten)
	return ok && t.Redo > 0
}

func (p problem) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Caution = sequence.ProblemHint
	f.Body = append(f.Body, "", "  "+v.Theme.Paint(draw.Danger, "SOMETHING IS WRONG   "+p.name(v)), "")
	var entries []string
	for _, t := range p.troubles() {
		entries = append(entries, t.Key+"   "+t.Name)
	}
	entries = append(entries, "p   pressure, heat, a leak: STOP")
	half := (len(entries) + 1) / 2
	wide := widest(entries[:half]) + 4
	for i, e := range entries[:half] {
		line := "  " + pad(e, wide)
		if i+half < len(entries) {
			line += entries[i+half]
		}
		f.Body = append(f.Body, line)
	}
	if widest(f.Body) >= v.Width-1 {
		f.Body = append(f.Body[:3:3], indent(entries, 2)...)
	}
	f.Keys = []draw.Key{{Key: sequence.TroubleKeys(p.troubles()), Does: "choose"}}
	if words := v.Walk.At(v.Now).OwedWords(); len(words) > 0 {
		f.Body = append(f.Body, "")
		f.Body = append(f.Body, wrapAll(words, v)...)
	}
	if out := v.Walk.Out(); p.takesParts(v) {
		f.Keys = append(f.Keys, keyParts(out))
	}
	if left := v.Walk.At(v.Now).LeftBolts(); len(left) > 0 && p.takesBack(v) {
		f.Keys = append(f.Keys, draw.Key{Key: "t", Does: fmt.Sprintf("bolt %d: do it now", left[0])})
	}
	f.Keys = append(f.Keys, draw.Key{Key: "b", Does: "back"}, keyHelp, keyQuit)
	return f
}

// trouble is one problem: first what to do, then what the record needs, then
// what follows.
type trouble struct {
	list   problem
	what   sequence.Trouble
	typing bool // the choice between leaving a bolt and doing it now is made
	now    bool
	form   form
	read   int // which field is the reading, -1 none
}

func newTrouble(p problem, t sequence.Trouble, v *View) trouble {
	var fields []field
	read := -1
	switch {
	case t.Anywhere() && p.bolt > 0:
		fields = append(fields, input("At which bolt", "", fmt.Sprintf("empty: bolt %d", p.bolt), true))
	case t.Anywhere():
		fields = append(fields, input("At which bolt", "", "", false))
	case t.Chooses():
		fields = append(fields, input("Number of the bolt", "", "", false))
	case t.What == sequence.WrongPressure:
		read = 0
		fields = append(fields, input("The gauge reads", "", string(v.Walk.Tools()[p.slot(v)].Gauge.Unit), false))
	}
	if t.Takes() {
		fields = append(fields, input("Batch that failed", "", "may stay empty", true))
	}
	note := input("Note", "", "may stay empty", true)
	if t.Noted() {
		note = input("Note", "", "what is wrong", false)
	}
	alone := again(v.Step) // a new bolt is put right at once, never left
	return trouble{list: p, what: t, typing: !t.Leaves() || alone, now: t.Leaves() && alone, form: newForm(append(fields, note)...), read: read}
}

func (t trouble) Typing() bool { return t.typing }

func (t trouble) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	if !t.typing {
		switch k.String() {
		case "1", "2":
			t.typing, t.now = true, k.String() == "2"
			return t, Want{}
		case "b", "esc":
			return t.list, Want{}
		}
		if want, ok := common(k); ok {
			return t, want
		}
		return t, Want{}
	}
	switch k.String() {
	case "esc":
		return t.list, Want{}
	case "ctrl+c":
		return t, Want{Leave: true}
	}
	next, complete, missing := t.form.key(k)
	t.form = next
	switch {
	case missing != "":
		return t, Want{Notice: missing + " is needed"}
	case !complete:
		return t, Want{}
	}
	d, err := t.event(v)
	if err != "" {
		return t, Want{Notice: err}
	}
	return t, Want{Event: d}
}

// unsaid is the problem as far as it is said, where it stops or holds the work or
// takes the bolt out; nil for any other.
func (t trouble) unsaid(v *View) sequence.Data {
	if !t.what.Grave() {
		return nil
	}
	d := sequence.ProblemFound{Bolt: t.list.bolt, What: t.what.What, Reason: t.form.value(len(t.form.fields) - 1)}
	if t.what.Stops() {
		d.Bolt = 0
	} else if n, err := strconv.Atoi(t.form.value(0)); t.form.at > 0 && err == nil && v.Walk.Plan().SlotOf(sequence.Bolt(n)) >= 0 {
		d.Bolt = sequence.Bolt(n)
	} else if d.Bolt == 0 || t.form.value(0) != "" { // a number half typed is none
		return t.what.UnsaidAt()
	}
	if t.what.Takes() {
		d.Batch = t.form.value(1)
	}
	if t.what.Noted() && d.Reason == "" {
		d.Reason = sequence.NotSaid
	}
	return v.Walk.OrStop(d, v.Now)
}

// event reads the form; the text says what of it is wrong.
func (t trouble) event(v *View) (d sequence.ProblemFound, wrong string) {
	last := len(t.form.fields) - 1
	d = sequence.ProblemFound{Bolt: t.list.bolt, What: t.what.What, Now: t.now, Reason: t.form.value(last)}
	switch {
	case t.what.Stops():
		d.Bolt = 0
	case t.what.Anywhere() && t.list.bolt > 0 && t.form.value(0) == "":
	case t.what.Anywhere() || t.what.Chooses():
		n, err := strconv.Atoi(t.form.value(0))
		if err != nil {
			return d, "That is no bolt number: type digits."
		}
		d.Bolt = sequence.Bolt(n)
		if t.what.What == sequence.WrongBolt {
			d.Tool = t.list.slot(v)
		}
	case t.read == 0:
		in := v.Walk.Tools()[t.list.slot(v)].Gauge.Unit
		value, err := unit.ParseReading(t.form.value(0), string(in))
		if err != nil {
			return d, err.Error()
		}
		d.Read = in.Of(value)
	}
	if t.what.Takes() {
		d.Batch = t.form.value(1)
	}
	return d, ""
}

func (t trouble) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Caution = sequence.ProblemHint
	where := t.list.name(v)
	if t.what.Stops() && t.list.bolt == 0 {
		where = ""
	}
	if t.what.Chooses() || t.what.Anywhere() && t.list.bolt > 0 {
		where = "found at " + where // it may be about another bolt
	}
	f.Body = append(f.Body, "", "  "+v.Theme.Paint(draw.Danger, t.what.Name)+"   "+where, "")
	for _, p := range []struct{ label, text string }{{"First", t.what.First}, {"Record", t.what.Needs}, {"Then", t.what.Rule}} {
		f.Body = append(f.Body, labelled(p.label, p.text, v)...)
	}
	f.Body = append(f.Body, "")
	if !t.typing {
		f.Body = append(f.Body, "  1   "+t.leaveWords(), "  2   It is put right: do it again now.")
		f.Keys = []draw.Key{{Key: "1", Does: "leave it"}, {Key: "2", Does: "do it now"}, {Key: "b", Does: "back"}, keyHelp, keyQuit}
		return f
	}
	does := "record it"
	switch {
	case t.what.Stops():
		does, f.Caution = "stop the work", sequence.StopHint
	case t.now:
		f.Body = append(f.Body, "  It is put right, and the bolt is done again now.", "")
	case t.what.Leaves():
		f.Body = append(f.Body, "  "+t.leaveWords(), "")
	}
	f.Fields = t.form.lines(v)
	f.Keys = t.form.keys(does)
	if page, _ := f.Pages(v.Width, v.Height, v.Theme); page > 0 { // what to do with the hands comes before the rest
		f.Fields = f.Fields[t.form.at : t.form.at+1]
		return inSmall(f, v, wrapped(v, t.what.First), wrapped(v, t.what.Name+"   "+where, t.what.Rule), false)
	}
	return f
}

func (t trouble) leaveWords() string {
	return fmt.Sprintf("Leave bolt %d: at the end it is done, or released by a named person.", t.list.bolt)
}

// labelled wraps a paragraph behind its label.
func labelled(label, text string, v *View) []string {
	var lines []string
	for i, line := range draw.Wrap(visible.Text(text), max(20, v.Width-13)) {
		if i > 0 {
			label = ""
		}
		lines = append(lines, "  "+pad(label, 8)+line)
	}
	return lines
}

// parts takes the batch of a bolt's new parts, over the screen it came from. Where
// several are out, which of them it is has to be said: parts come in any order.
type parts struct {
	from Screen
	out  []sequence.Bolt
	form form
}

func newParts(from Screen, out []sequence.Bolt) parts {
	fields := []field{input("Batch of the new parts", "", "stud and nuts", false)}
	if len(out) > 1 {
		fields = append([]field{input("New parts of bolt", "", sequence.BoltList(out)+" are out", false)}, fields...)
	}
	return parts{from, out, newForm(fields...)}
}

// keyParts is the key for it.
func keyParts(out []sequence.Bolt) draw.Key {
	if len(out) > 1 {
		return draw.Key{Key: "x", Does: "new parts are in"}
	}
	return draw.Key{Key: "x", Does: fmt.Sprintf("bolt %d: new parts are in", out[0])}
}

func (p parts) Typing() bool { return true }

func (p parts) Key(k tea.KeyMsg, _ *View) (Screen, Want) {
	switch k.String() {
	case "esc":
		return p.from, Want{}
	case "ctrl+c":
		return p, Want{Leave: true}
	}
	next, complete, missing := p.form.key(k)
	p.form = next
	switch {
	case missing != "":
		return p, Want{Notice: missing + " is needed"}
	case !complete:
		return p, Want{}
	}
	d := sequence.Replaced{Bolt: p.out[0], Batch: p.form.value(len(p.form.fields) - 1)}
	if len(p.out) > 1 {
		n, err := strconv.Atoi(p.form.value(0))
		if err != nil {
			p.form = p.form.back(0)
			return p, Want{Notice: "That is no bolt number: type digits."}
		}
		d.Bolt = sequence.Bolt(n)
	}
	return p, Want{Event: d}
}

func (p parts) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Caution = sequence.PartsHint
	title := "NEW PARTS   bolt " + sequence.BoltList(p.out)
	if len(p.out) > 1 {
		title = "NEW PARTS   of one of bolts " + sequence.BoltList(p.out)
	}
	f.Body = append(f.Body, "", "  "+v.Theme.Paint(draw.Title, title), "")
	f.Body = append(f.Body, wrapAll([]string{v.Walk.Plan().PartsWords()}, v)...)
	f.Body = append(append(append(f.Body, ""), wrapAll(v.Walk.At(v.Now).OwedWords(), v)...), "")
	f.Fields = p.form.lines(v)
	f.Keys = p.form.keys("they are in")
	return f
}

// onDay is the local day of a view.
func onDay(v *View) joint.Date { return joint.DateOf(v.Now) }
