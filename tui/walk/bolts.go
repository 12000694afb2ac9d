package walk

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/sequence"
	"evenload/tui/draw"
)

// ringWidth and rightWidth share the window between the circle and the words.
func ringWidth(v View) int  { return min(72, max(20, (v.Width-2)/2)) }
func rightWidth(v View) int { return max(10, v.Width-ringWidth(v)-4) }

// bodyHeight is what the frame leaves for the body.
func bodyHeight(v View) int { return max(4, v.Height-6) }

// ring draws the flange with a mark at each bolt.
func ring(v View, mark func(sequence.Bolt) draw.Mark) []string {
	p := v.Walk.Plan()
	r := draw.Ring{Bolts: p.Bolts, Mark: func(b int) draw.Mark { return mark(sequence.Bolt(b)) },
		Datum: p.About.Datum, ViewedFrom: p.About.ViewedFrom, Bolt1OnDatum: p.About.Bolt1OnDatum}
	return r.Draw(ringWidth(v), bodyHeight(v)-2, v.Theme)
}

func columns(v View, left, right []string) []string {
	return draw.Columns(left, right, 3, ringWidth(v))
}

// marks gives each bolt its mark, now the one at hand.
func marks(v View, now sequence.Bolt) func(sequence.Bolt) draw.Mark {
	return func(b sequence.Bolt) draw.Mark {
		if b == now {
			return draw.Current
		}
		switch v.Walk.MarkOf(b) {
		case sequence.MarkDone:
			return draw.Done
		case sequence.MarkStill:
			return draw.Still
		case sequence.MarkMoved:
			return draw.Moved
		case sequence.MarkLeft, sequence.MarkReleased:
			return draw.Left
		}
		return draw.Open
	}
}

// bolt draws a bolt to work on: the number large, what comes next, pressure,
// torque and foot force.
func bolt(v View, b sequence.Bolt, then string, w sequence.Work, more []string) draw.Frame {
	f := frame(v)
	right := []string{"BOLT"}
	for _, line := range draw.Big(fmt.Sprint(b)) {
		right = append(right, "   "+v.Theme.Paint(draw.BigRole, line))
	}
	right = append(right, "", then, "",
		pad("gauge", 8)+v.Theme.Paint(draw.Strong, sequence.Gauged(w.Tool, w.Setting.Set))+" "+sequence.State(w.Tool),
		pad("torque", 8)+w.Setting.Delivered.Text(v.System))
	if w.Setting.Foot > 0 {
		right = append(right, pad("foot", 8)+w.Setting.Foot.Text(v.System)+" on its stop")
	}
	right = append(right, more...)
	f.Body = columns(v, ring(v, marks(v, b)), right)
	return f
}

// tighten is one bolt of a pass, the heart of the walk.
type tighten struct{}

func (tighten) Typing() bool { return false }

func (t tighten) Key(k tea.KeyMsg, v View) (Screen, Want) {
	step := v.Step.(sequence.Tighten)
	if isDone(k) {
		return t, Want{Event: sequence.BoltDone{Pass: step.Pass, Bolts: step.Bolts}, Marks: true}
	}
	return boltKeys(t, k, v, step.Bolts[0])
}

// boltKeys are the keys of a pass and of a check round alike.
func boltKeys(s Screen, k tea.KeyMsg, v View, b sequence.Bolt) (Screen, Want) {
	if want, ok := common(k); ok {
		return s, want
	}
	switch k.String() {
	case "u":
		if last := v.Walk.Last(1); len(last) > 0 {
			return s, Want{Event: sequence.Undone{Bolt: last[0]}, Notice: fmt.Sprintf("Bolt %d is open again.", last[0])}
		}
		return s, Want{Notice: "Nothing of this pass to take back. What is closed stays; n writes a note."}
	case "p":
		return newProblem(s, b), Want{}
	case "n":
		return newNote(s), Want{}
	}
	return s, Want{}
}

func (tighten) Frame(v View) draw.Frame {
	step := v.Step.(sequence.Tighten)
	f := bolt(v, step.Bolts[0], sequence.ThenWords(step.Then), step.Work, nil)
	f.Body = append(f.Body, "", legend("# done   > now   x left", step.Work))
	f.Caution = sequence.TightenHint
	f.Keys = []draw.Key{{Key: "SPACE", Does: "done"}, keyUndo, keyWrong, keyNote, keyHelp, keyQuit}
	return f
}

func legend(shapes string, w sequence.Work) string {
	return "   " + pad(shapes, 34) + w.LeftWords()
}

// check is one bolt of a check round.
type check struct{}

func (check) Typing() bool { return false }

func (c check) Key(k tea.KeyMsg, v View) (Screen, Want) {
	step := v.Step.(sequence.Check)
	switch {
	case isDone(k):
		return c, Want{Event: sequence.NutStill{Round: step.Round, Bolt: step.Bolt}, Marks: true}
	case k.String() == "m":
		return c, Want{Event: sequence.NutMoved{Round: step.Round, Bolt: step.Bolt}, Marks: true}
	}
	return boltKeys(c, k, v, step.Bolt)
}

func (check) Frame(v View) draw.Frame {
	step := v.Step.(sequence.Check)
	more := []string{""}
	for i, moved := range step.Moved {
		text := fmt.Sprintf("round %d  %d moved", i+1, moved)
		if i == len(step.Moved)-1 {
			text += " so far"
		}
		more = append(more, text)
	}
	f := bolt(v, step.Bolt, "clockwise, "+sequence.ThenWords(step.Then), step.Work, more)
	f.Body = append(f.Body, "", legend("= still   m moved   > now", step.Work), "   "+sequence.StillWord)
	f.Caution = sequence.CheckHint
	f.Keys = []draw.Key{{Key: "SPACE", Does: "still"}, {Key: "m", Does: "moved"}, keyUndo, keyWrong, keyNote, keyHelp, keyQuit}
	return f
}

// indent puts lines in from the edge.
func indent(lines []string, n int) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = strings.Repeat(" ", n) + l
	}
	return out
}
