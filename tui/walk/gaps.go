package walk

import (
	"fmt"
	"slices"
	"strconv"

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

// gapUnit is the unit that gaps are typed in.
func gapUnit(s unit.System) (name string, factor float64) {
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
	name, _ := gapUnit(system)
	g.mode = gapMeasure
	var fields []field
	if g.step.All {
		for _, b := range g.step.Places {
			fields = append(fields, input(fmt.Sprintf("beside bolt %d", b), "", name, false))
		}
	} else {
		fields = []field{input("widest gap", "", name, false), input("  beside bolt", "", "", false),
			input("narrowest gap", "", name, false), input("  beside bolt", "", "", false)}
	}
	g.form = newForm(fields...)
}

func (g gaps) Typing() bool { return g.mode != gapJudged }

func (g gaps) Key(k tea.KeyMsg, v View) (Screen, Want) {
	if g.mode == gapJudged {
		if want, ok := common(k); ok {
			return g, want
		}
		switch k.String() {
		case "m":
			g.measure(v.System)
		case "a":
			g.mode, g.form = gapAccept, namedForm("Reason")
		case "n":
			return newNote(g), Want{}
		}
		return g, Want{}
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
	readings, err := g.readings(v.System)
	if err != nil {
		return g, Want{Notice: err.Error()}
	}
	return g, Want{Event: sequence.GapsMeasured{Readings: readings}}
}

func (g gaps) readings(system unit.System) ([]sequence.Gap, error) {
	_, factor := gapUnit(system)
	var out []sequence.Gap
	if g.step.All {
		for i, b := range g.step.Places {
			value, err := unit.ParseReading(g.form.value(i))
			if err != nil {
				return nil, err
			}
			out = append(out, sequence.Gap{Bolt: b, Gap: unit.Length(value * factor)})
		}
		return out, nil
	}
	for i := 0; i < 4; i += 2 {
		value, err := unit.ParseReading(g.form.value(i))
		if err != nil {
			return nil, err
		}
		b, err := strconv.Atoi(g.form.value(i + 1))
		if err != nil {
			return nil, fmt.Errorf("%q is no bolt number", visible.Text(g.form.value(i+1)))
		}
		out = append(out, sequence.Gap{Bolt: sequence.Bolt(b), Gap: unit.Length(value * factor)})
	}
	if out[0].Gap < out[1].Gap {
		return nil, fmt.Errorf("the widest gap is smaller than the narrowest: read them again")
	}
	return out, nil
}

func (g gaps) Frame(v View) draw.Frame {
	f := frame(v)
	f.Body = append(f.Body, "")
	limit := "Spread at most " + g.step.Limit.Text(v.System) + ": widest less narrowest"
	if g.step.Before >= 0 {
		limit += fmt.Sprintf(", and not above the %s before", g.step.Before.Text(v.System))
	}
	f.Keys = []draw.Key{g.form.enter("type, Enter", "take the gaps"), keyCtrlC}
	if k, ok := keyTakeBack(v, "Esc"); ok {
		f.Keys = slices.Insert(f.Keys, 1, k)
	}
	if g.step.Over != nil {
		f.Keys = append([]draw.Key{f.Keys[0], {Key: "Esc", Does: "back"}}, keyCtrlC)
	}
	switch g.mode {
	case gapMeasure:
		f.Body = append(append(f.Body, wrapAll([]string{g.step.TakeWords(), limit + "."}, v)...), "")
		f.Fields = g.form.lines(v)
	case gapJudged:
		f.Body = append(f.Body, "  "+v.Theme.Paint(draw.Danger, "NOT EVEN"), "")
		f.Body = append(f.Body, wrapAll(g.step.GapWords(v.System), v)...)
		f.Keys = []draw.Key{{Key: "m", Does: "measure again"}, {Key: "a", Does: "accept by a named person"}, keyNote, keyHelp, keyQuit}
	case gapAccept:
		f.Body = append(f.Body, wrapAll(g.step.GapWords(v.System), v)...)
		f.Body = append(f.Body, "", "  Who accepts these gaps?", "")
		f.Fields = g.form.lines(v)
		f.Keys = g.form.keys("accept")
	}
	f.Caution = sequence.GapHint
	return f
}

// wrapAll wraps sentences to the window, a little in from the edge.
func wrapAll(sentences []string, v View) []string {
	var lines []string
	for _, s := range sentences {
		lines = append(lines, indent(draw.Wrap(visible.Text(s), max(20, v.Width-5)), 2)...)
	}
	return lines
}
