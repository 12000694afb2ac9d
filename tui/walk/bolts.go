package walk

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenload/sequence"
	"evenload/tui/draw"
)

// ringWidth and rightWidth share the window between the circle and the words.
func ringWidth(v *View) int  { return min(72, max(20, (v.Width-2)/2)) }
func rightWidth(v *View) int { return max(10, v.Width-ringWidth(v)-4) }

// ring draws the flange with a mark at each bolt, in at most height lines.
func ring(v *View, height int, mark func(sequence.Bolt) draw.Mark) []string {
	p := v.Walk.Plan()
	r := drawing(p)
	r.Mark = func(b int) draw.Mark { return mark(sequence.Bolt(b)) }
	return r.Draw(ringWidth(v), height, v.Theme)
}

// drawing is that of a plan's bolts: on a circle, or where they have positions.
func drawing(p *sequence.Plan) draw.Ring {
	return draw.Ring{Bolts: p.Bolts, At: p.Positions, Datum: p.About.Datum, ViewedFrom: p.About.ViewedFrom, Bolt1OnDatum: p.About.Bolt1OnDatum}
}

func columns(v *View, left, right []string) []string {
	return draw.Columns(left, right, 3, ringWidth(v))
}

// marks gives each bolt its mark, now those at hand.
func marks(v *View, now ...sequence.Bolt) func(sequence.Bolt) draw.Mark {
	at := v.Walk.At(v.Now) // a new round begins without the marks of the one before
	return func(b sequence.Bolt) draw.Mark {
		if slices.Contains(now, b) {
			return draw.Current
		}
		switch at.MarkOf(b) {
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

// boltWords are what a screen says about the bolt at hand.
type boltWords struct {
	bolt   sequence.Bolt
	then   string // what comes next
	work   sequence.Work
	moved  string   // nuts moved in check rounds
	tool   string   // letter of the tool that goes round alone, empty when the job has only one
	legend string   // of the circle's shapes
	last   []string // below all
}

// body draws a bolt to work on. Where the window is too small for the circle
// and the large number, they go before any word does.
func (b boltWords) body(v *View, room int) []string {
	large := []string{"BOLT"}
	for _, line := range draw.Big(fmt.Sprint(b.bolt)) {
		large = append(large, "   "+v.Theme.Paint(draw.BigRole, line))
	}
	large = append(append(large, "", b.then, ""), b.values(v)...)
	small := append([]string{b.number(v), b.then, ""}, b.values(v)...)
	below := []string{"", "   " + pad(b.legend, 34) + b.work.LeftWords()}
	for _, l := range b.last {
		below = append(below, indent(draw.Wrap(l, max(20, v.Width-5)), 3)...)
	}
	for _, words := range [][]string{large, small} {
		height := room - len(below)
		if height >= max(leastRing, len(words)) && widest(words) <= rightWidth(v) && widest(below) < v.Width {
			return append(columns(v, ring(v, height, marks(v, b.bolt)), words), below...)
		}
	}
	left := append([]string{""}, draw.Wrap(b.work.LeftWords(), max(20, v.Width-3))...)
	for _, words := range [][]string{append(large, left...), append(small, left...)} {
		if len(words) <= room {
			return indent(words, 1)
		}
	}
	return indent(b.tight(v), 1)
}

// leastRing is how many lines a circle takes at least.
const leastRing = 9

func (b boltWords) number(v *View) string {
	return "BOLT " + v.Theme.Paint(draw.BigRole, fmt.Sprint(b.bolt))
}

func (b boltWords) gauge(v *View) string {
	return pad("gauge", 8) + v.Theme.Paint(draw.Strong, b.work.Tool.Gauged(b.work.Setting.Set)) + " " + sequence.State(b.work.Tool)
}

// values are pressure, torque and foot force, and the nuts that moved.
func (b boltWords) values(v *View) []string {
	lines := []string{b.gauge(v), pad("torque", 8) + b.work.Setting.Delivered.Text(v.System)}
	if b.tool != "" {
		lines[0] += ", " + b.tool + " alone"
	}
	if b.work.Setting.Foot > 0 {
		lines = append(lines, pad("foot", 8)+b.work.Setting.Foot.Text(v.System)+" on its stop")
	}
	if b.moved != "" {
		lines = append(lines, pad("moved", 8)+b.moved)
	}
	return lines
}

// tight is for the smallest windows: what matters most stands first.
func (b boltWords) tight(v *View) []string {
	values := b.values(v)
	lines := []string{b.number(v) + "   " + strings.Replace(b.gauge(v), pad("gauge", 8), "gauge ", 1), b.then, strings.Join(strings.Fields(values[1]), " ")}
	if b.work.Setting.Foot > 0 {
		lines[2] += ", foot " + b.work.Setting.Foot.Text(v.System)
	}
	if b.tool != "" {
		lines = append(lines, "tool "+b.tool+" alone")
	}
	lines = append(lines, draw.Wrap(b.work.LeftWords(), max(20, v.Width-3))...)
	if b.moved != "" {
		lines = append(lines, "moved "+b.moved)
	}
	return lines
}

// widest is the width of the widest line.
func widest(lines []string) int {
	w := 0
	for _, l := range lines {
		w = max(w, ansi.StringWidth(l))
	}
	return w
}

// tighten is one bolt of a pass, the heart of the walk.
type tighten struct{}

func (tighten) Typing() bool { return false }

func (t tighten) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	step := v.Step.(sequence.Tighten)
	if isDone(k) {
		return t, Want{Event: sequence.BoltDone{Pass: step.Pass, Bolts: step.Bolts}, Marks: true}
	}
	if k.String() == "p" && len(step.Turns) > 1 {
		return whichBolt{from: t, turns: step.Turns}, Want{}
	}
	return boltKeys(t, k, v, step.Bolts[0])
}

// boltKeys are the keys of a pass and of a check round alike.
func boltKeys(s Screen, k tea.KeyMsg, v *View, b sequence.Bolt) (Screen, Want) {
	if k.String() == "p" {
		return problem{s, b}, Want{}
	}
	if want, ok := common(k); ok {
		return s, want
	}
	switch k.String() {
	case "u":
		if want, ok := takeBack(v); ok {
			return s, want
		}
		return s, Want{Notice: "Nothing of this pass to take back. What is closed stays; n writes a note."}
	case "n":
		return newNote(s), Want{}
	case "h":
		return newHandover(s), Want{}
	case "t":
		return newTool(s, v), Want{}
	}
	return s, Want{}
}

// boltBar shows the keys of boltKeys behind those that mark the bolt.
func boltBar(v *View, marks ...draw.Key) []draw.Key {
	if _, can := v.Walk.Undoable(); can {
		marks = append(marks, keyUndo)
	}
	wrong := keyWrong
	if len(v.Walk.Out()) > 0 {
		wrong.Does = "problem, new parts"
	}
	return append(marks, wrong, keyHand, keyNote, keyTool, keyHelp, keyQuit)
}

// takeBack takes back the bolt marked last. A held key takes back one.
func takeBack(v *View) (Want, bool) {
	last, ok := v.Walk.Undoable()
	if !ok {
		return Want{}, false
	}
	are := " is open again."
	if len(last.Bolts) > 0 {
		are = " are open again."
	}
	words := v.Walk.TakesBack()
	return Want{Event: last, Marks: true, Notice: strings.ToUpper(words[:1]) + words[1:] + are}, true
}

// keyTakeBack is the key for it on a screen that comes after the last bolt.
func keyTakeBack(v *View, key string) (draw.Key, bool) {
	_, ok := v.Walk.Undoable()
	return draw.Key{Key: key, Does: "take back " + v.Walk.TakesBack()}, ok
}

func (tighten) Frame(v *View) draw.Frame {
	step := v.Step.(sequence.Tighten)
	if v.Walk.Plan().Several() {
		return stationFrame(step, v)
	}
	f := frame(v)
	f.Caution = sequence.TightenHint
	f.Keys = boltBar(v, draw.Key{Key: "SPACE", Does: "done"})
	b := boltWords{bolt: step.Bolts[0], then: step.ThenWords(), work: step.Work, legend: "# done   > now   x left",
		last: v.Walk.At(v.Now).OwedWords()}
	f.Body = b.body(v, f.Room(v.Width, v.Height, v.Theme))
	return f
}

// check is one bolt of a check round.
type check struct{}

func (check) Typing() bool { return false }

func (c check) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	step := v.Step.(sequence.Check)
	switch {
	case isDone(k):
		return c, Want{Event: sequence.NutStill{Round: step.Round, Bolt: step.Bolt}, Marks: true}
	case k.String() == "m":
		return c, Want{Event: sequence.NutMoved{Round: step.Round, Bolt: step.Bolt}, Marks: true}
	}
	return boltKeys(c, k, v, step.Bolt)
}

func (check) Frame(v *View) draw.Frame {
	step := v.Step.(sequence.Check)
	f := frame(v)
	f.Caution = sequence.CheckHint
	f.Keys = boltBar(v, draw.Key{Key: "SPACE", Does: "still"}, draw.Key{Key: "m", Does: "moved"})
	b := boltWords{bolt: step.Bolt, then: v.Walk.Plan().RoundWord() + ", " + sequence.ThenWords(step.Then), work: step.Work,
		moved: movedWords(step.Moved), tool: step.Letter, legend: "= still   m moved   > now", last: checkNotes(v)}
	f.Body = b.body(v, f.Room(v.Width, v.Height, v.Theme))
	return f
}

// checkNotes stand below the circle of a check round.
func checkNotes(v *View) []string {
	notes := []string{sequence.StillWord}
	if v.Rounds != "" {
		notes = append(notes, v.Rounds)
	}
	return append(notes, v.Walk.At(v.Now).OwedWords()...)
}

// movedWords says how many nuts moved, round by round, the one under way last.
func movedWords(rounds []int) string {
	text := ""
	for i, moved := range rounds {
		if i == len(rounds)-1 {
			return text + fmt.Sprintf("%d this round", moved)
		}
		text += fmt.Sprintf("%d, ", moved)
	}
	return text
}

// indent puts lines in from the edge.
func indent(lines []string, n int) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = strings.Repeat(" ", n) + l
	}
	return out
}
