package walk

import (
	"errors"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/visible"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/tui/draw"
)

// set is the setting of the pressure and its reading, before a pass and at its end.
type set struct {
	form form
	sure bool // a doubtful reading was asked about
}

// toolKey changes the tool from a text field, where letters are text.
const toolKey = "ctrl+t"

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

func (s set) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	if k.String() == "ctrl+c" {
		return s, Want{Leave: true}
	}
	if k.String() == "esc" {
		want, _ := takeBack(v)
		return s, want
	}
	if k.String() == "h" && s.mayHandOver(v) {
		return newHandover(s), Want{}
	}
	if k.String() == "n" && s.form.empty() {
		return newNote(s), Want{}
	}
	if k.String() == toolKey && v.Step.(sequence.Set).MayChange() {
		return newTool(s, v), Want{}
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
		value, err := unit.ParseReading(s.form.value(i), string(step.Tool.Gauge.Unit))
		if err != nil {
			return s, Want{Notice: err.Error()}
		}
		*fields[i] = step.Tool.Gauge.Unit.Of(value)
	}
	if _, err := v.Walk.Apply(sequence.Event{At: v.Now, By: v.Walk.Operator(), Data: d}); errors.Is(err, sequence.ErrLookAgain) {
		s.sure = true
		return s, Want{Notice: visible.Text(err.Error()) + ". Enter once more keeps it."}
	}
	return s, Want{Event: d, Marks: s.sure}
}

// mayHandOver says that nothing of a pass is done and nothing typed: the best
// place to hand over. No reading has the letter.
func (s set) mayHandOver(v *View) bool {
	return s.form.empty() && !v.Step.(sequence.Set).AtEnd
}

func (s set) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Caution = v.Step.(sequence.Set).Caution()
	f.Keys = []draw.Key{s.form.enter("type, Enter", "take the reading")}
	if k, ok := keyTakeBack(v, "Esc"); ok {
		f.Keys = append(f.Keys, k)
	}
	if s.mayHandOver(v) {
		f.Keys = append(f.Keys, keyHand)
	}
	if s.form.empty() {
		f.Keys = append(f.Keys, keyNote)
	}
	if v.Step.(sequence.Set).MayChange() {
		f.Keys = append(f.Keys, draw.Key{Key: toolKey, Does: "tool"})
	}
	f.Keys = append(f.Keys, keyCtrlC)
	f.Body = s.large(v)
	if len(f.Body) > f.Room(v.Width, v.Height, v.Theme) || widest(f.Body) >= v.Width {
		small := s.small(v)
		f.Body, f.Fields = indent(small, 2), s.form.lines(v)
		if f.Room(v.Width, v.Height, v.Theme) < 2+len(f.Fields) { // the fields that are not typed into go before the pressure does
			f.Fields = f.Fields[s.form.at : s.form.at+1]
		}
		return inSmall(f, v, small, nil, false)
	}
	return f
}

// large has the pressure in large digits.
func (s set) large(v *View) []string {
	step := v.Step.(sequence.Set)
	words := step.SetWords()
	body := []string{""}
	if again := step.RepeatWord(); again != "" && !step.AtEnd {
		body = append(body, indent(draw.Wrap(again, max(20, v.Width-4)), 2)...)
	}
	if step.AtEnd {
		body = append(body, "  "+v.Theme.Paint(draw.Strong, strings.Join(words, " ")), "",
			"  "+step.HeldWords(), "")
	} else {
		for i, line := range draw.Big(step.Set.Reading(step.Tool.Gauge.Unit, step.Tool.Gauge.Division)) {
			label, tail := "", ""
			switch i {
			case 1:
				label = "Turn UP to"
				if step.Letter != "" {
					label = "Turn tool " + step.Letter + " UP to"
				}
			case 3:
				label = words[1]
			case 4:
				tail = "  " + string(step.Tool.Gauge.Unit)
			}
			body = append(body, "  "+pad(label, 34)+v.Theme.Paint(draw.BigRole, line)+tail)
		}
		body = append(body, "")
	}
	made := pad("tool", 10) + letter(step.Letter) + visible.Text(sequence.OrNone(step.Tool.ID)) + ", gauge " + visible.Text(sequence.OrNone(step.Tool.Gauge.ID)) + ", at the " + string(step.Tool.GaugeAt)
	body = append(body, "  "+pad(s.band(step), 46)+"  gives "+step.Delivered.Text(v.System), "  "+pad(made, 46)+"  "+sequence.MadeIn(step.Tool), "")
	body = append(body, s.form.lines(v)...)
	if !step.AtEnd {
		body = append(body, "", "  "+sequence.TooHighWord)
	}
	return append(body, indent(step.TeamWords(), 2)...)
}

// letter is that of a tool before its id, empty where there is only one.
func letter(l string) string {
	if l == "" {
		return ""
	}
	return l + " "
}

// small is what has to be known in a small window.
func (s set) small(v *View) []string {
	step := v.Step.(sequence.Set)
	var body []string
	for _, line := range draw.Wrap(strings.Join(step.SetWords(), " "), max(20, v.Width-4)) {
		body = append(body, v.Theme.Paint(draw.Strong, line))
	}
	body = append(body, s.band(step))
	for _, text := range step.TeamWords() {
		body = append(body, draw.Wrap(text, max(20, v.Width-4))...)
	}
	return body
}

func (s set) band(step sequence.Set) string {
	return pad("in band", 10) + step.Tool.Band(step.Setting)
}
