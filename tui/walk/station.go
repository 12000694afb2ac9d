package walk

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/visible"
	"evenload/sequence"
	"evenload/tui/draw"
)

// The words beside the circle need more room with several tools.
const teamRoom = 4

// stationFrame is a station of several tools: which takes which bolt, large, with
// the pressure of each beside it. Where the window is too small for the circle and the
// large numbers, they go before any word does.
func stationFrame(step sequence.Tighten, v *View) draw.Frame {
	f := frame(v)
	f.Caution = step.Caution()
	done := "all done"
	if step.Redo > 0 {
		done = "done"
	}
	f.Keys = boltBar(v, draw.Key{Key: "SPACE", Does: done})
	room := f.Room(v.Width, v.Height, v.Theme)
	notes := v.Walk.At(v.Now).OwedWords()
	if step.Redo == 0 {
		notes = append([]string{sequence.TeamArms}, notes...)
	}
	below := []string{"", "   " + pad("# done   "+step.Turns[0].Letter+"> tool "+step.Turns[0].Letter+" now   x left", 34) + step.LeftWords()}
	for _, n := range notes {
		below = append(below, indent(draw.Wrap(n, max(20, v.Width-5)), 3)...)
	}
	right := rightWidth(v) + teamRoom
	for _, turns := range [][]string{largeTurns(step.Turns, v, right), smallTurns(step.Turns, v)} {
		words := append(turns, draw.Wrap(step.OffWords(), right)...)
		words = append(append(words, step.ThenWords()), teamValues(step.Turns, v)...)
		height := room - len(below)
		if len(words) < height {
			words = slices.Insert(words, len(turns), "")
		}
		if height >= max(leastRing, len(words)) && widest(words) <= right && widest(below) < v.Width {
			f.Body = append(draw.Columns(teamRing(step, v, height), words, 3, ringWidth(v)-teamRoom), below...)
			return f
		}
	}
	turns := smallTurns(step.Turns, v)
	if len(turns)+1 > room { // the keys of second rank go before any tool does; they work all the same
		f.Keys = slices.DeleteFunc(f.Keys, func(k draw.Key) bool { return k == keyHand || k == keyNote || k == keyTool })
		turns = tightTurns(step.Turns, v)
	}
	lines := append(turns, draw.Wrap(step.OffWords(), max(20, v.Width-3))...)
	lines = append(append(lines, draw.Wrap(step.LeftWords(), max(20, v.Width-3))...), step.ThenWords())
	lines = append(lines, teamValues(step.Turns, v)...)
	for _, n := range notes {
		lines = append(lines, draw.Wrap(n, max(20, v.Width-3))...)
	}
	f.Body = indent(lines, 1)
	return f
}

// teamRing draws the flange with the letter of its tool at each bolt at hand.
func teamRing(step sequence.Tighten, v *View, height int) []string {
	p := v.Walk.Plan()
	mark := marks(v, step.Bolts...)
	r := drawing(p)
	r.Mark = func(b int) draw.Mark { return mark(sequence.Bolt(b)) }
	r.Tool = func(b int) string { return sequence.Letter(p.SlotOf(sequence.Bolt(b))) }
	return r.Draw(ringWidth(v)-teamRoom, height, v.Theme)
}

// turnGauge is a tool's letter, of one byte, with the pressure that its gauge has to show.
func turnGauge(t sequence.Turn) string {
	return t.Letter + "  " + t.Tool.Gauged(t.Setting.Set) + " " + sequence.State(t.Tool)
}

// largeTurns draws each tool's pressure over its bolt in large digits, two or more beside
// each other where there is room. The letter stands in every line, to be seen from afar;
// a large B or D would be taken for an 8 or a 0.
func largeTurns(turns []sequence.Turn, v *View, room int) []string {
	const gap = 3
	wide := 0
	var cells [][]string
	for _, t := range turns {
		cell := []string{turnGauge(t)}
		for _, line := range draw.Big(fmt.Sprint(t.Bolt)) {
			cell = append(cell, t.Letter+"   "+line)
		}
		cells, wide = append(cells, cell), max(wide, widest(cell))
	}
	beside := max(1, min(len(cells), (room+gap)/(wide+gap)))
	if beside == 3 {
		beside = 2
	}
	var lines []string
	for len(cells) > 0 {
		row := cells[:min(beside, len(cells))]
		cells = cells[len(row):]
		for i := range row[0] {
			line := ""
			for j, cell := range row {
				text := cell[i]
				if j < len(row)-1 {
					text = pad(text, wide+gap)
				}
				if i == 0 {
					line += v.Theme.Paint(draw.BigRole, text[:1]) + v.Theme.Paint(draw.Strong, text[1:])
					continue
				}
				line += v.Theme.Paint(draw.BigRole, text)
			}
			lines = append(lines, line)
		}
	}
	return lines
}

// smallTurns is a line for each tool: its letter, bolt and pressure.
func smallTurns(turns []sequence.Turn, v *View) []string {
	var lines []string
	for _, t := range turns {
		lines = append(lines, v.Theme.Paint(draw.BigRole, pad(fmt.Sprintf("%s %d", t.Letter, t.Bolt), 6))+"  "+
			v.Theme.Paint(draw.Strong, t.Tool.Gauged(t.Setting.Set))+" "+sequence.State(t.Tool))
	}
	return lines
}

// tightTurns is two tools a line, for the smallest windows.
func tightTurns(turns []sequence.Turn, v *View) []string {
	var lines []string
	for pair := range slices.Chunk(turns, 2) {
		line := ""
		for _, t := range pair {
			line += v.Theme.Paint(draw.BigRole, fmt.Sprintf("%s %d", t.Letter, t.Bolt)) + " " + pad(t.Tool.Gauged(t.Setting.Set), 10)
		}
		lines = append(lines, strings.TrimRight(line, " "))
	}
	return lines
}

// teamValues are torque and foot force: each tool's own gauge division gives its own.
func teamValues(turns []sequence.Turn, v *View) []string {
	first := turns[0].Setting
	least, most, light, heavy := first.Delivered, first.Delivered, first.Foot, first.Foot
	for _, t := range turns {
		least, most = min(least, t.Setting.Delivered), max(most, t.Setting.Delivered)
		light, heavy = min(light, t.Setting.Foot), max(heavy, t.Setting.Foot)
	}
	lines := []string{pad("torque", 8) + between(least.Text(v.System), most.Text(v.System))}
	if heavy > 0 {
		lines = append(lines, pad("foot", 8)+between(light.Text(v.System), heavy.Text(v.System))+" on its stop")
	}
	return lines
}

// between is a range, one value where both ends read the same.
func between(low, high string) string {
	if low == high {
		return low
	}
	return low + " to " + high
}

// whichBolt asks which bolt of a station something is wrong at.
type whichBolt struct {
	from  Screen
	turns []sequence.Turn
}

func (whichBolt) Typing() bool { return false }

func (w whichBolt) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	for _, t := range w.turns {
		if k.String() == strings.ToLower(t.Letter) {
			return problem{w, t.Bolt}, Want{}
		}
	}
	if k.String() == "esc" {
		return w.from, Want{}
	}
	want, _ := common(k)
	return w, want
}

func (w whichBolt) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Caution = sequence.ProblemHint
	f.Body = []string{"", "  " + v.Theme.Paint(draw.Danger, "SOMETHING IS WRONG   ALL tools off"), "", "  Which bolt is it about? The others of the station stay open.", ""}
	for _, t := range w.turns {
		key := strings.ToLower(t.Letter)
		f.Body = append(f.Body, fmt.Sprintf("  %s   bolt %d, tool %s %s", key, t.Bolt, t.Letter, visible.Text(sequence.OrNone(t.Tool.ID))))
		f.Keys = append(f.Keys, draw.Key{Key: key, Does: fmt.Sprintf("bolt %d", t.Bolt)})
	}
	f.Body = append(f.Body, "", "  p   pressure, heat, a leak or another hazard at the joint: STOP the work")
	f.Keys = append(f.Keys, draw.Key{Key: "Esc", Does: "back"}, keyHelp, keyQuit)
	return f
}

// whichTool asks which of several tools is changed.
type whichTool struct {
	from  Screen
	slots []int
}

func (whichTool) Typing() bool { return false }

func (w whichTool) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	for _, slot := range w.slots {
		if k.String() == strings.ToLower(sequence.Letter(slot)) {
			return tool{from: w, slot: slot}, Want{}
		}
	}
	if k.String() == "esc" {
		return w.from, Want{}
	}
	want, _ := common(k)
	return w, want
}

func (w whichTool) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Caution = sequence.ToolHint
	f.Body = []string{"", "  " + v.Theme.Paint(draw.Title, "ANOTHER TOOL, HOSE OR REGULATOR"), "", "  Which tool is it about?", ""}
	for _, slot := range w.slots {
		key := strings.ToLower(sequence.Letter(slot))
		f.Body = append(f.Body, "  "+key+"   "+visible.Text(sequence.ToolWords(v.Walk.Tools()[slot])))
		f.Keys = append(f.Keys, draw.Key{Key: key, Does: visible.Text(v.Walk.ToolName(slot))})
	}
	f.Keys = append(f.Keys, draw.Key{Key: "Esc", Does: "back"}, keyHelp, keyQuit)
	return f
}
