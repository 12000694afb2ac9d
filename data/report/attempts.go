package report

import (
	"fmt"
	"slices"
	"strings"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// PassHead heads the columns of PassRows.
var PassHead = []string{"pass", "tool", "wanted", "set to", "gives", "band", "read at start", "read at end", "bolts done"}

// Readings are the columns of PassRows and RoundRows whose cells list what the gauge
// read, one reading after another with ReadingEnd between them.
var Readings = []string{"read at start", "read at end"}

// ReadingEnd stands between two readings.
const ReadingEnd = "; "

// PassRows hold the plan against what was done: each attempt at a pass with each
// tool that was used in it.
func (d *AsDone) PassRows() (rows [][]string) {
	passes, _ := d.Columns()
	for _, c := range passes {
		for slot, s := range d.Plan.Passes[c.Pass-1].Settings {
			name := ""
			if d.Plan.Several() {
				name = sequence.Letter(slot) + " "
			}
			for _, u := range d.uses(c, slot, set{d.Plan.Tools[slot], s}) {
				done, planned := d.doneBy(c, slot, u.tool)
				text := fmt.Sprintf("%d of %d", done, planned)
				if d.State == Damaged && c.Gasket == d.gasket && c.Latest && done < planned {
					text = fmt.Sprintf("%d of %d before the damage", done, planned)
				}
				if c.Rejected != "" {
					text += ". DOES NOT COUNT: " + c.Rejected
				}
				start, end := d.readings(func(e PressureRead) bool { return e.Slot == slot && sameTool(e.Tool, u.tool) && c.Read(e) })
				rows = append(rows, []string{d.Text(c), name + besides(u.tool, d.Plan.Tools[slot]), u.setting.Torque.Text(d.Plan.System), u.tool.Gauged(u.setting.Set),
					orDash(given(u.setting, d.Plan.System)), u.tool.Band(u.setting), start, end, text})
			}
		}
	}
	return rows
}

// given is the torque that a setting gives by the tool's chart, which the operator
// saw: set to a division of the gauge it is not quite the wanted one. Empty where it
// is not known.
func given(s joint.Setting, system unit.System) string {
	if s.Delivered <= 0 {
		return ""
	}
	return s.Delivered.Text(system)
}

// RoundHead heads the columns of RoundRows.
var RoundHead = []string{"check round", "what for", "read at start", "read at end", "nuts moved", "nuts still", "released", "not looked at"}

// RoundRows are the check rounds that were begun, none where none was.
func (d *AsDone) RoundRows() (rows [][]string) {
	_, rounds := d.Columns()
	for _, c := range rounds {
		n := d.Count(c)
		start, end := d.readings(c.Read)
		why := d.setWhy(c.RoundSet)
		if c.Rejected != "" {
			why += ". DOES NOT COUNT: " + c.Rejected
		}
		rows = append(rows, []string{d.Text(c), why, start, end, fmt.Sprint(n.Moved), fmt.Sprint(n.Still), fmt.Sprint(n.Released), fmt.Sprint(n.Open)})
	}
	return rows
}

// uses are the tools that were used in a slot in an attempt, in order; the plan's
// where none was.
func (d *AsDone) uses(c Column, slot int, plan set) []set {
	var all []set
	add := func(u set) {
		if !slices.ContainsFunc(all, func(o set) bool { return sameTool(o.tool, u.tool) }) {
			all = append(all, u)
		}
	}
	for _, e := range d.Reads {
		if e.Slot == slot && c.Read(e) {
			add(set{e.Tool, e.Setting})
		}
	}
	for b := sequence.Bolt(1); int(b) <= d.Plan.Bolts; b++ {
		if t, ok := d.Last(b, c); ok && t.Slot == slot && t.Result == ResultDone {
			add(set{t.Tool, t.Setting})
		}
	}
	if len(all) == 0 {
		return []set{plan}
	}
	return all
}

// doneBy is how many bolts a tool of a slot has done, and how many the slot has.
func (d *AsDone) doneBy(c Column, slot int, tool joint.Tool) (done, planned int) {
	for b := sequence.Bolt(1); int(b) <= d.Plan.Bolts; b++ {
		if d.Plan.SlotOf(b) == slot {
			planned++
		}
		if t, ok := d.Last(b, c); ok && t.Result == ResultDone && t.Slot == slot && sameTool(t.Tool, tool) {
			done++
		}
	}
	return done, planned
}

// readings lists what the gauge read at start and at end, the end judged.
func (d *AsDone) readings(which func(PressureRead) bool) (start, end string) {
	var starts, ends []string
	for _, e := range d.Reads {
		switch {
		case !which(e):
		case e.AtEnd:
			ends = append(ends, strings.TrimSpace(reading(e)+" "+e.judged()))
		default:
			starts = append(starts, reading(e))
		}
	}
	return orDash(strings.Join(starts, ReadingEnd)), orDash(strings.Join(ends, ReadingEnd))
}

func orDash(text string) string {
	if text == "" {
		return "-"
	}
	return text
}

func reading(e PressureRead) string {
	var parts []string
	show := func(v unit.Pressure, word string) {
		if v > 0 {
			parts = append(parts, e.Tool.Typed(v)+" "+word)
		}
	}
	show(e.Running, string(joint.Running))
	show(e.Static, "at rest")
	text := strings.Join(parts, ", ")
	if e.Redo > 0 {
		text += fmt.Sprintf(" (bolt %d)", e.Redo)
	}
	return text
}

// None says that nothing of a kind was done, so far as it can be known.
func (d *AsDone) None(word string) string {
	if d.State == Damaged {
		return "not known: nothing of it stands before the damage"
	}
	return word
}
