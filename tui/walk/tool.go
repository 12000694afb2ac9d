package walk

import (
	"fmt"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/job"
	"evenload/data/visible"
	"evenload/joint"
	"evenload/sequence"
	"evenload/tui/draw"
)

// tool changes the tool of a slot, or what brings it air, over the screen it
// came from.
type tool struct {
	from Screen
	slot int
	at   toolStage
	form form

	change sequence.ToolChanged
	goOn   bool // the bolts done stay, by a named person
}

type toolStage int

const (
	toolList  toolStage = iota
	toolFile            // a path is typed
	toolAir             // hose or regulator
	toolAgain           // whether the pass is begun again
	toolNamed           // reasons and persons
)

// newTool asks first which tool is changed, where several are in use.
func newTool(from Screen, v *View) Screen {
	slots := v.Walk.At(v.Now).InUse()
	if len(slots) > 1 {
		return whichTool{from, slots}
	}
	return tool{from: from, slot: slots[0]}
}

func (t tool) Typing() bool { return t.at == toolFile || t.at == toolAir || t.at == toolNamed }

func (t tool) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	if t.Typing() {
		return t.typed(k, v)
	}
	if k.String() == "b" || k.String() == "esc" {
		if t.at == toolAgain {
			t.at = toolList
			return t, Want{}
		}
		return t.from, Want{}
	}
	if want, ok := common(k); ok {
		return t, want
	}
	if t.at == toolAgain {
		if k.String() == "1" || k.String() == "2" {
			t.goOn = k.String() == "2"
			return t.named(), Want{}
		}
		return t, Want{}
	}
	switch k.String() {
	case "f":
		t.at, t.form = toolFile, newForm(input("Tool file", "", "path, such as tools/w-08.toml", false))
	case "h":
		t.at, t.form = toolAir, newForm(input("What was changed", "", "", false))
	default:
		others := v.Walk.OtherTools()
		if n, err := strconv.Atoi(k.String()); err == nil && n >= 1 && n <= len(others) {
			return t.take(others[n-1], v)
		}
	}
	return t, Want{}
}

// take judges a tool before anything changes.
func (t tool) take(other joint.Tool, v *View) (Screen, Want) {
	d, err := v.Walk.ToolChange(t.slot, other, onDay(v))
	if err != nil {
		return t, Want{Notice: "NOT TAKEN: " + visible.Text(err.Error())}
	}
	t.change = d
	if v.Walk.At(v.Now).UnderWay() {
		t.at = toolAgain
		return t, Want{}
	}
	return t.named(), Want{}
}

// named asks for the reason, and for who decides what the operator may not.
func (t tool) named() tool {
	fields := []field{input("Why it is changed", "", "", false)}
	if t.goOn {
		fields = append(fields, namedFields("Pass goes on by")...)
	}
	if len(t.change.OverdueWords()) > 0 {
		fields = append(fields, namedFields("Date allowed by")...)
	}
	t.at, t.form = toolNamed, newForm(fields...)
	return t
}

func namedFields(label string) []field {
	return []field{input(label, "", "not the operator", false), input("Role", "", "", false), input("Reason", "", "", false)}
}

func (t tool) typed(k tea.KeyMsg, v *View) (Screen, Want) {
	switch k.String() {
	case "esc":
		t.at = toolList
		return t, Want{}
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
	switch t.at {
	case toolFile:
		other, err := job.LoadTool(t.form.value(0))
		if err != nil {
			return t, Want{Notice: "NOT TAKEN: " + strings.ReplaceAll(err.Error(), "\n", "; ")}
		}
		return t.take(other, v)
	case toolAir:
		return t, Want{Event: sequence.AirChanged{Slot: t.slot, Reason: t.form.value(0)}}
	}
	d := t.change
	d.Reason = t.form.value(0)
	n := 1
	who := func() *sequence.Named {
		n += 3
		return &sequence.Named{Name: t.form.value(n - 3), Role: t.form.value(n - 2), Reason: t.form.value(n - 1)}
	}
	if t.goOn {
		d.GoOn = who()
	}
	if len(d.OverdueWords()) > 0 {
		d.Overdue = who()
	}
	return t, Want{Event: d}
}

func (t tool) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Caution = sequence.ToolHint
	in := v.Walk.Tools()[t.slot]
	title := "ANOTHER TOOL"
	if t.at == toolAir {
		title = "ANOTHER HOSE OR REGULATOR"
	}
	if v.Walk.Plan().Several() {
		title += "   tool " + sequence.Letter(t.slot)
	}
	f.Body = append(f.Body, "", "  "+v.Theme.Paint(draw.Title, title), "", "  "+pad("in use", 10)+visible.Text(sequence.ToolWords(in)))
	if t.at == toolAgain || t.at == toolNamed {
		f.Body = append(f.Body, "  "+pad("new", 10)+v.Theme.Paint(draw.Strong, visible.Text(sequence.ToolWords(t.change.Tool))))
		for _, w := range v.Walk.SettingWords(t.change, v.System) {
			f.Body = append(f.Body, "  "+pad("", 10)+w)
		}
		for _, w := range t.change.OverdueWords() {
			f.Body = append(f.Body, "  "+v.Theme.Paint(draw.Danger, "OUT OF DATE"))
			f.Body = append(f.Body, wrapAll([]string{w}, v)...)
		}
	}
	f.Body = append(f.Body, "")
	switch t.at {
	case toolList:
		return t.list(f, v)
	case toolFile:
		f.Body = append(append(f.Body, wrapAll([]string{sequence.ToolWord, "The path counts from the folder where evenload was started."}, v)...), "")
	case toolAir:
		f.Body = append(append(f.Body, wrapAll([]string{v.Walk.AirWords()}, v)...), "")
	case toolAgain:
		f.Body = append(f.Body, wrapAll([]string{sequence.ToolWord + " " + v.Walk.AskedWords()}, v)...)
		f.Body = append(f.Body, "")
		for i, w := range []string{v.Walk.RepeatWords(), sequence.GoOnPass} {
			f.Body = append(f.Body, labelled(fmt.Sprint(i+1), w, v)...)
		}
		f.Keys = []draw.Key{{Key: "1", Does: "begin again"}, {Key: "2", Does: "go on by a named person"}, {Key: "b", Does: "back"}, keyHelp, keyQuit}
		return f
	case toolNamed:
		f.Body = append(append(f.Body, wrapAll([]string{v.Walk.AskedWords()}, v)...), "")
	}
	f.Fields = t.form.lines(v)
	f.Keys = t.form.keys(map[toolStage]string{toolFile: "read it", toolAir: "ask again", toolNamed: "take this tool"}[t.at])
	return f
}

// list shows what there is to choose from.
func (t tool) list(f draw.Frame, v *View) draw.Frame {
	others := v.Walk.OtherTools()
	for i, o := range others {
		f.Body = append(f.Body, fmt.Sprintf("  %d   %s", i+1, visible.Text(sequence.ToolWords(o))))
		f.Keys = append(f.Keys, draw.Key{Key: fmt.Sprint(i + 1), Does: visible.Text(sequence.OrNone(o.ID))})
	}
	if len(others) == 0 {
		f.Body = append(f.Body, "  The job has no other tool.")
	}
	f.Body = append(f.Body, "  f   a tool of a file", "  h   the same tool: hose or regulator was changed", "")
	f.Body = append(f.Body, wrapAll([]string{sequence.ToolWord}, v)...)
	f.Keys = append(f.Keys, draw.Key{Key: "f", Does: "tool file"}, draw.Key{Key: "h", Does: "hose"}, draw.Key{Key: "b", Does: "back"}, keyHelp, keyQuit)
	return f
}
