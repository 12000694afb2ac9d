package walk

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenload/tui/draw"
	"evenload/tui/entry"
)

// form is a few fields to type into, one line each.
type form struct {
	fields []field
	at     int
}

type field struct {
	label    string
	hint     string // after the field
	optional bool
	input    textinput.Model
}

func newForm(fields ...field) form {
	f := form{fields: fields}
	for i := range f.fields {
		in := textinput.New()
		in.Prompt = ""
		in.CharLimit = 80
		in.SetValue(f.fields[i].input.Value())
		in.Cursor.SetMode(2) // hidden: the field draws its own, the same on every terminal
		f.fields[i].input = in
	}
	f.focus()
	return f
}

// input makes a field that begins with a value.
func input(label, value, hint string, optional bool) field {
	in := textinput.New()
	in.SetValue(value)
	return field{label: label, hint: hint, optional: optional, input: in}
}

func (f *form) focus() {
	for i := range f.fields {
		if i == f.at {
			f.fields[i].input.Focus()
			f.fields[i].input.CursorEnd()
		} else {
			f.fields[i].input.Blur()
		}
	}
}

// key takes a key. It says true when enter was pressed in the last field and
// all that is needed is there; missing names the first that is not.
func (f form) key(k tea.KeyMsg) (next form, complete bool, missing string) {
	f.fields = append([]field(nil), f.fields...)
	name := k.String()
	if k.Type == tea.KeyRunes && !k.Alt {
		name = "" // a word that came at once is text, even "end" or "down"
	}
	switch name {
	case "enter":
		if f.at < len(f.fields)-1 {
			f.at++
			f.focus()
			return f, false, ""
		}
		for i, fd := range f.fields {
			if !fd.optional && f.value(i) == "" {
				return f.back(i), false, fd.label
			}
		}
		return f, true, ""
	case "tab", "down":
		f.at = (f.at + 1) % len(f.fields)
		f.focus()
	case "shift+tab", "up":
		f.at = (f.at + len(f.fields) - 1) % len(f.fields)
		f.focus()
	default:
		f.fields[f.at].input, _ = entry.Into(f.fields[f.at].input, k)
	}
	return f, false, ""
}

// back is the form with the cursor in the field that was refused.
func (f form) back(i int) form {
	f.fields = append([]field(nil), f.fields...)
	f.at = i
	f.focus()
	return f
}

// empty says that nothing is typed yet: a letter can be a key then.
func (f form) empty() bool {
	return !slices.ContainsFunc(f.fields, func(fd field) bool { return fd.input.Value() != "" })
}

func (f form) value(i int) string { return strings.TrimSpace(f.fields[i].input.Value()) }

// enter is what the enter key does: on to the next field, or from the last one
// what the form is for.
func (f form) enter(key, does string) draw.Key {
	if f.at < len(f.fields)-1 {
		does = "next"
	}
	return draw.Key{Key: key, Does: does}
}

// keys are those of a form that may be left again.
func (f form) keys(does string) []draw.Key {
	return []draw.Key{f.enter("Enter", does), {Key: "Esc", Does: "back"}, keyCtrlC}
}

// leastField is the room of a field for short texts.
const leastField = 16

// lines draws the form: the field that is typed into has the mark >. A field
// with more text than room shows the part about the cursor.
func (f form) lines(v *View) []string {
	wide, long, hint := 0, leastField, 0
	for i, fd := range f.fields {
		wide = max(wide, ansi.StringWidth(fd.label))
		hint = max(hint, ansi.StringWidth(fd.hint))
		long = max(long, ansi.StringWidth(f.shown(i)))
	}
	room := v.Width - 1 - wide - 9
	hinted := room-hint-2 >= leastField
	if hinted {
		room -= hint + 2
	}
	long = max(1, min(long, room))
	var lines []string
	for i, fd := range f.fields {
		mark, role := " ", draw.Plain
		if i == f.at {
			mark, role = ">", draw.Now
		}
		line := " " + mark + " " + pad(fd.label, wide) + "  " + v.Theme.Paint(role, "[ "+pad(entry.About(f.shown(i), f.cursor(i), long), long)+" ]")
		if hinted && fd.hint != "" {
			line += "  " + fd.hint
		}
		lines = append(lines, line)
	}
	return lines
}

// from is lines, begun late enough that the field that is typed into is among
// the first room.
func (f form) from(v *View, room int) []string {
	return f.lines(v)[max(0, f.at-room+1):]
}

// whole says that no field shows a part of its text only.
func (f form) whole(v *View) bool {
	for i, line := range f.lines(v) {
		if !strings.Contains(line, f.shown(i)) {
			return false
		}
	}
	return true
}

// shown is the text of a field, with the cursor in it.
func (f form) shown(i int) string {
	text := []rune(f.fields[i].input.Value())
	if i != f.at {
		return string(text)
	}
	at := f.cursor(i)
	return string(text[:at]) + "_" + string(text[at:])
}

func (f form) cursor(i int) int { return f.fields[i].input.Position() }

// pad fills a text up to n cells.
func pad(s string, n int) string {
	if m := n - ansi.StringWidth(s); m > 0 {
		return s + strings.Repeat(" ", m)
	}
	return s
}

// namedForm asks who decides: name, role and reason.
func namedForm(reason string) form {
	return newForm(input("Name", "", "not the operator", false), input("Role", "", "such as responsible engineer", false), input(reason, "", "", false))
}
