package walk

import (
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/sequence"
	"evenload/tui/draw"
)

// leakTest takes the result of the leak test.
type leakTest struct {
	result sequence.LeakResult // chosen, empty at first
	form   form
}

func (l leakTest) Typing() bool { return l.result != "" }

func (l leakTest) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	if l.result == "" {
		switch k.String() {
		case "1":
			l.result, l.form = sequence.Tight, newForm(input("Test sheet", "", "its number", true))
		case "2":
			l.result, l.form = sequence.Leaked, newForm(input("Beside bolts", "", "such as 3 4", false), input("Note", "", "may stay empty", true))
		case "3":
			l.result, l.form = sequence.Untested, newForm(input("Why, and who tests", "", "", false))
		case "h":
			return newHandover(l), Want{}
		case "n":
			return newNote(l), Want{}
		default:
			want, _ := common(k)
			return l, want
		}
		return l, Want{}
	}
	switch k.String() {
	case "esc":
		return leakTest{}, Want{}
	case "ctrl+c":
		return l, Want{Leave: true}
	}
	next, complete, missing := l.form.key(k)
	l.form = next
	switch {
	case missing != "":
		return l, Want{Notice: missing + " is needed"}
	case !complete:
		return l, Want{}
	}
	d := sequence.LeakTested{Result: l.result}
	switch l.result {
	case sequence.Tight:
		d.Sheet = l.form.value(0)
	case sequence.Untested:
		d.Note = l.form.value(0)
	default:
		bolts, ok := boltNumbers(l.form.value(0))
		if !ok {
			return l, Want{Notice: "Type the numbers of the bolts, such as 3 4."}
		}
		d.Bolts, d.Note = bolts, l.form.value(1)
	}
	return l, Want{Event: d}
}

// boltNumbers reads numbers between spaces or commas.
func boltNumbers(text string) ([]sequence.Bolt, bool) {
	var all []sequence.Bolt
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' }) {
		n, err := strconv.Atoi(word)
		if err != nil {
			return nil, false
		}
		all = append(all, sequence.Bolt(n))
	}
	return all, len(all) > 0
}

func (l leakTest) Frame(v *View) draw.Frame {
	f := frame(v)
	f.Caution = sequence.LeakHint
	f.Body = append(f.Body, "", "  "+v.Theme.Paint(draw.Title, "WHAT DID THE LEAK TEST GIVE?"), "")
	if l.result == "" {
		f.Body = append(f.Body, "  1   tight: no leak, the pressure held", "  2   it leaked", "  3   it is not tested here", "")
		f.Body = append(f.Body, wrapAll([]string{sequence.LeakWord}, v)...)
		f.Keys = []draw.Key{{Key: "1 to 3", Does: "choose"}, keyHand, keyNote, keyHelp, keyQuit}
		return f
	}
	does := "keep it"
	switch l.result {
	case sequence.Leaked:
		f.Body = append(f.Body, "  "+v.Theme.Paint(draw.Danger, "IT LEAKED"), "")
		for _, told := range sequence.LeakedWords() {
			f.Body = append(f.Body, labelled(told.Label, told.Text, v)...)
		}
	case sequence.Untested:
		f.Body = append(f.Body, wrapAll([]string{sequence.UntestedFor}, v)...)
	default:
		f.Body = append(f.Body, "  Tight: no leak, the pressure held.")
	}
	f.Body = append(f.Body, "")
	f.Fields = l.form.lines(v)
	f.Keys = l.form.keys(does)
	return f
}
