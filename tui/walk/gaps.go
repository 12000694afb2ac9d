package walk

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/visible"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/tui/draw"
)

// gaps takes the gaps between the flanges: at all places, or the widest and
// the narrowest. Beyond the limit they are measured again or accepted.
type gaps struct {
	step sequence.GapCheck
	form form
	mode gapMode
}

type gapMode int

const (
	gapMeasure gapMode = iota
	gapJudged
	gapAccept
)

// shortUnit is the unit that gaps are typed in.
func shortUnit(s unit.System) (name string, factor float64) {
	if s == unit.US {
		return "in", unit.Inch
	}
	return "mm", unit.Millimetre
}

func newGaps(s sequence.GapCheck, system unit.System) gaps {
	g := gaps{step: s}
	g.measure(system)
	if s.Over != nil {
		g.mode = gapJudged
	}
	return g
}

func (g *gaps) measure(system unit.System) {
	name, _ := shortUnit(system)
	g.mode = gapMeasure
	var fields []field
	if g.step.All {
		for _, b := range g.step.Places {
			fields = append(fields, input(fmt.Sprintf("bolt %d", b), "", name, false))
		}
	} else {
		fields = []field{input("widest, "+name, "", "", false), input("  at bolt", "", "", false),
			input("narrowest, "+name, "", "", false), input("  at bolt", "", "", false)}
	}
	g.form = newForm(fields...)
}

func (g gaps) Typing() bool { return g.mode != gapJudged }

func (g gaps) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	if g.mode == gapJudged {
		if want, ok := common(k); ok {
			return g, want
		}
		switch k.String() {
		case "m":
			g.measure(v.System)
		case "a":
			g.mode, g.form = gapAccept, namedForm("Reason")
		case "h":
			return newHandover(g), Want{}
		case "n":
			return newNote(g), Want{}
		}
		return g, Want{}
	}
	if k.String() == "h" && g.mayHandOver() {
		return newHandover(g), Want{}
	}
	if k.String() == "n" && g.mayHandOver() {
		return newNote(g), Want{}
	}
	switch k.String() {
	case "ctrl+c":
		return g, Want{Leave: true}
	case "esc":
		if g.step.Over != nil {
			g.mode = gapJudged
			return g, Want{}
		}
		want, _ := takeBack(v)
		return g, want
	}
	next, complete, missing := g.form.key(k)
	g.form = next
	switch {
	case missing != "":
		return g, Want{Notice: "Missing: " + missing}
	case !complete:
		return g, Want{}
	case g.mode == gapAccept:
		return g, Want{Event: sequence.GapsAccepted{Named: named(g.form)}}
	}
	readings, at, err := g.readings(v.System)
	if err != nil {
		g.form = g.form.back(at)
		return g, Want{Notice: err.Error()}
	}
	return g, Want{Event: sequence.GapsMeasured{Readings: readings}}
}

// mayHandOver says that nothing is typed: no gap has the letter.
func (g gaps) mayHandOver() bool { return g.mode == gapMeasure && g.form.empty() }

// readings are what was typed, or an error and the field that has it.
func (g gaps) readings(system unit.System) (out []sequence.Gap, at int, err error) {
	name, factor := shortUnit(system)
	if g.step.All {
		for i, b := range g.step.Places {
			value, err := unit.ParseReading(g.form.value(i), name)
			if err != nil {
				return nil, i, err
			}
			out = append(out, sequence.Gap{Bolt: b, Gap: unit.Length(value * factor)})
		}
		return out, 0, nil
	}
	for i := 0; i < 4; i += 2 {
		value, err := unit.ParseReading(g.form.value(i), name)
		if err != nil {
			return nil, i, err
		}
		b, err := strconv.Atoi(g.form.value(i + 1))
		if err != nil {
			return nil, i + 1, fmt.Errorf("%q is no bolt number", visible.Text(g.form.value(i+1)))
		}
		out = append(out, sequence.Gap{Bolt: sequence.Bolt(b), Gap: unit.Length(value * factor)})
	}
	if out[0].Gap < out[1].Gap {
		return nil, 0, fmt.Errorf("the widest gap is smaller than the narrowest: read them again")
	}
	return out, 0, nil
}

func (g gaps) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Caution = sequence.GapHint
	switch g.mode {
	case gapJudged:
		f.Keys = []draw.Key{{Key: "m", Does: "measure again"}, {Key: "a", Does: "accept by a named person"}, keyHand, keyNote, keyHelp, keyQuit}
	case gapAccept:
		f.Keys = g.form.keys("accept")
	default:
		f.Keys = []draw.Key{g.form.enter("type, Enter", "take the gaps"), keyCtrlC}
		if k, ok := keyTakeBack(v, "Esc"); ok {
			f.Keys = slices.Insert(f.Keys, 1, k)
		}
		if g.step.Over != nil {
			f.Keys = append([]draw.Key{f.Keys[0], {Key: "Esc", Does: "back"}}, keyCtrlC)
		}
		if g.mayHandOver() {
			f.Keys = slices.Insert(f.Keys, len(f.Keys)-1, keyHand, keyNote)
		}
	}
	room := f.Room(v.Width, v.Height, v.Theme)
	if g.mode == gapAccept {
		room -= len(g.form.fields) + 3
	}
	narrow := *v
	narrow.Width = rightWidth(v) + 1
	words := g.words(&narrow)
	drawn := true
	if g.mode == gapMeasure {
		drawn = rightWidth(v) >= leastForm && g.form.whole(&narrow)
		words = append(append(words, g.form.lines(&narrow)...), g.soFar(&narrow)...)
	}
	drawn = drawn && max(leastRing, len(words)) <= room && widest(words) <= rightWidth(v)
	if drawn {
		f.Body = columns(v, g.drawing(v, room), words)
	} else {
		f.Body = append([]string{""}, indent(g.words(v), 2)...)
	}
	if g.mode == gapJudged && !drawn {
		return inSmall(f, v, wrapped(v, v.Walk.GapWords(g.step, v.System)...), nil, false)
	}
	switch {
	case g.mode == gapAccept:
		f.Body = append(f.Body, "", "  Who accepts these gaps?", "")
		f.Fields = g.form.lines(v)
	case g.mode == gapMeasure && !drawn:
		f.Body = append(append(f.Body, indent(g.soFar(v), 2)...), "")
		f.Fields = g.form.from(v, room)
	}
	return f
}

// leastForm is the width in which the fields stand beside the drawing.
const leastForm = 36

// words say what is to be measured, or how it was judged.
func (g gaps) words(v *View) []string {
	if g.mode != gapMeasure {
		return append([]string{v.Theme.Paint(draw.Danger, "NOT EVEN"), ""}, paragraphs(v.Walk.GapWords(g.step, v.System), v)...)
	}
	return append(paragraphs(append(v.Walk.At(v.Now).OwedWords(), g.step.TakeWords(), g.step.LimitWords(v.System)), v), "")
}

// soFar judges what is typed so far, as it will be judged when it is taken.
func (g gaps) soFar(v *View) []string {
	typed := g.typed(v)
	if len(typed) < 2 {
		if text := g.step.BeforeWords(v.System); text != "" {
			return append([]string{""}, paragraphs([]string{text}, v)...)
		}
		return nil
	}
	r := v.Walk.JudgeGaps(g.step, typed)
	words := v.Walk.SpreadWords(g.step, r, v.System)
	words[0] = strings.Replace(words[0], "Spread", "Spread so far:", 1)
	return append([]string{""}, paragraphs(words, v)...)
}

// typed is what of the form can be read already. A place that is no bolt yet,
// or a bolt twice, is left out.
func (g gaps) typed(v *View) []sequence.Gap {
	if g.mode != gapMeasure {
		return g.step.Over.Readings
	}
	name, factor := shortUnit(v.System)
	var all []sequence.Gap
	take := func(value string, b sequence.Bolt) {
		read, err := unit.ParseReading(value, name)
		again := slices.ContainsFunc(all, func(other sequence.Gap) bool { return other.Bolt == b })
		if err == nil && b >= 1 && int(b) <= v.Walk.Plan().Bolts && !again {
			all = append(all, sequence.Gap{Bolt: b, Gap: unit.Length(read * factor)})
		}
	}
	if g.step.All {
		for i, b := range g.step.Places {
			take(g.form.value(i), b)
		}
		return all
	}
	for i := 0; i < 4; i += 2 {
		b, _ := strconv.Atoi(g.form.value(i + 1))
		take(g.form.value(i), sequence.Bolt(b))
	}
	return all
}

// drawing is the joint with the readings at their places.
func (g gaps) drawing(v *View, height int) []string {
	typed := g.typed(v)
	var r sequence.GapResult
	if len(typed) > 1 {
		r = v.Walk.JudgeGaps(g.step, typed)
	}
	name, _ := shortUnit(v.System)
	var all []draw.Reading
	for _, t := range typed {
		all = append(all, draw.Reading{Bolt: int(t.Bolt), Text: strings.TrimSuffix(t.Gap.Text(v.System), " "+name),
			Widest: r.Spread > 0 && t == r.Widest, Narrowest: r.Spread > 0 && t == r.Narrowest})
	}
	if g.mode == gapMeasure && g.step.All {
		for _, b := range g.step.Places {
			if !slices.ContainsFunc(typed, func(t sequence.Gap) bool { return t.Bolt == b }) {
				all = append(all, draw.Reading{Bolt: int(b)})
			}
		}
	}
	return drawing(v.Walk.Plan()).Readings(ringWidth(v), height, all, v.Theme)
}

// paragraphs wraps sentences to the window.
func paragraphs(sentences []string, v *View) []string {
	var lines []string
	for _, s := range sentences {
		lines = append(lines, draw.Wrap(visible.Text(s), max(20, v.Width-5))...)
	}
	return lines
}

// wrapAll wraps sentences to the window, a little in from the edge.
func wrapAll(sentences []string, v *View) []string {
	return indent(paragraphs(sentences, v), 2)
}
