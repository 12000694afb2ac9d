package desk

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"evenload/data/draft"
	"evenload/data/visible"
	"evenload/joint"
	"evenload/sequence"
	"evenload/tui/draw"
	"evenload/tui/entry"
)

// Room of the form: from wideFrom columns on the results stand beside it.
const (
	wideFrom  = 110
	formWide  = 62
	mostField = 50 // cells of an answer
	leastRows = 3  // of the form that show in any window

	leastListed = 9  // rows below the form where results stand beside it
	tallFrom    = 30 // rows from which all cautions show
)

// View draws the form, or the question before the writing.
func (m *drafting) View() string {
	if m.width == 0 || m.height == 0 {
		return "evenload"
	}
	f := m.frame()
	room := f.Room(m.width, m.height, m.theme)
	switch {
	case m.asking != noQuestion:
		f.Body = m.question(m.width - 1)
	case m.width >= wideFrom:
		left := m.form(formWide, room-leastListed)
		left = append(append(left, ""), m.help(formWide, room-len(left)-1)...)
		f.Body = draw.Columns(left, m.results(m.width-formWide-5, room), 3, formWide)
	case m.at == len(m.questions): // all that is found has to show here, and the answers about the line that writes
		all := m.results(m.width-1, room-leastRows)
		f.Body = append(m.form(m.width-1, room-len(all)), all...)
	default:
		f.Body = m.form(m.width-1, max(leastRows, room-4))
		below := m.help(m.width-1, room-len(f.Body))
		if len(m.offered) == 0 {
			below = append(below, m.results(m.width-1, room-len(f.Body)-len(below))...)
		}
		f.Body = append(f.Body, below...)
	}
	return draw.Clamp(f.Render(m.width, m.height, m.theme), m.width, m.height)
}

// frame has line 1, the caution and the keys.
func (m *drafting) frame() draw.Frame {
	f := draw.Frame{Left: "a new job", Right: fmt.Sprintf("DRAFT   %d of %d", min(m.at+1, len(m.questions)), len(m.questions)), Caution: sequence.SiteFirst, Notice: m.notice}
	if m.d.Path != "" {
		f.Left = visible.Text(filepath.Base(m.d.Path))
		if !m.d.Changes() {
			f.Left += ", a new job"
		}
	} else if tag := m.answers()[draft.Tag]; tag != "" {
		f.Left = visible.Text(tag)
	}
	if m.d.Like != "" {
		f.Left += ", like " + visible.Text(filepath.Base(m.d.Like))
	}
	if m.at == len(m.questions) {
		f.Right = "DRAFT   all answers"
	}
	if m.height >= tallFrom {
		f.Caution += " " + sequence.NotLoadWord
	}
	leave := draw.Key{Key: "ctrl+c", Does: "leave"}
	switch {
	case m.writing:
		f.Right, f.Keys = "DRAFT   writing", []draw.Key{leave}
	case m.asking == askWrite:
		f.Right, f.Keys = "DRAFT   write it?", []draw.Key{{Key: "y", Does: "write"}, {Key: "n", Does: "back to the answers"}, leave}
	case m.asking == askOver:
		f.Right, f.Keys = "DRAFT   write over it?", []draw.Key{{Key: "o", Does: "write over it"}, {Key: "n", Does: "back to the answers"}, leave}
	case m.asking == askLeave:
		f.Right, f.Keys = "DRAFT   leave?", []draw.Key{{Key: "n", Does: "back to the answers"}, {Key: "ctrl+c", Does: "leave without writing"}}
	case len(m.offered) > 0:
		f.Keys = []draw.Key{{Key: "Enter", Does: "next"}, {Key: "up down", Does: "choose"}, {Key: "Tab", Does: "next answer"}, {Key: "Shift+Tab", Does: "back"}, leave}
		if m.chosen >= 0 {
			f.Keys[0].Does = "take"
		}
	case m.at == len(m.questions):
		f.Keys = []draw.Key{{Key: "Enter", Does: "look and write"}, {Key: "Tab", Does: "first answer"}, {Key: "Shift+Tab", Does: "back"}, leave}
	default:
		f.Keys = []draw.Key{{Key: "Enter", Does: "next"}, {Key: "Tab", Does: "next answer"}, {Key: "Shift+Tab", Does: "back"}}
		if m.inputs[m.at].Value() != "" {
			f.Keys = append(f.Keys, draw.Key{Key: "ctrl+u", Does: "clear"})
		}
		f.Keys = append(f.Keys, leave)
	}
	return f
}

// form draws the answers, so many rows of them about the one at hand.
func (m *drafting) form(wide, rows int) []string {
	label := 0
	for _, q := range m.questions {
		label = max(label, len(q.Label))
	}
	field := max(1, min(mostField, wide-label-9-len(" changed")))
	var lines []string
	for i, q := range m.questions {
		text, mark, role, word := m.inputs[i].Value(), " ", draw.Plain, ""
		cursor := m.inputs[i].Position()
		if i == m.at {
			runes := []rune(text)
			text, mark, role = string(runes[:cursor])+"_"+string(runes[cursor:]), ">", draw.Now
		}
		switch trimmed := strings.TrimSpace(m.inputs[i].Value()); {
		case m.wrong(q) != "" && i == m.at:
			word = " not yet"
		case m.wrong(q) != "":
			word = m.theme.Paint(draw.Danger, " wrong")
		case trimmed == "" && q.Needed:
			word = " needed"
		case q.Name == draft.ApprovedBy && m.look.Unapproved():
			word = m.theme.Paint(draw.Danger, " removed")
		case slices.Contains(m.look.Changed, q.Name):
			word = " changed"
		}
		if text == "" && q.Silent != "" {
			text = "(" + q.Silent + ")"
		}
		text = entry.About(visible.Text(m.theme.Spell(text)), cursor, field)
		lines = append(lines, fmt.Sprintf(" %s %-*s ", mark, label, q.Label)+m.theme.Paint(role, "[ "+pad(text, field)+" ]")+word)
	}
	write := "   " + m.writeLine()
	if m.at == len(m.questions) {
		write = " " + m.theme.Paint(draw.Now, "> "+m.writeLine())
	}
	lines = append(lines, write)
	rows = max(leastRows, min(rows, len(lines)))
	from := max(0, min(m.at-rows/2, len(lines)-rows))
	return lines[from : from+rows]
}

func (m *drafting) writeLine() string {
	a := m.answers()
	if m.d.Path == "" && a[draft.Tag] == "" {
		return "Write the job file"
	}
	return "Write " + visible.Text(m.d.File(a))
}

// pad fills a text up to n cells.
func pad(s string, n int) string { return s + strings.Repeat(" ", max(0, n-ansi.StringWidth(s))) }

// help says how the answer at hand looks, and offers names.
func (m *drafting) help(wide, rows int) []string {
	if m.at == len(m.questions) || rows < 1 {
		return nil
	}
	q := m.questions[m.at]
	var lines []string
	for _, a := range m.look.Of(q.Name) {
		lines = append(lines, draw.Wrap(strings.ToUpper(string(a.Severity))+": "+visible.Text(a.Text), wide-4)...)
	}
	says := q.Says()
	if fixed := m.d.Fixed(q.Name); fixed != "" {
		says = "written in the job itself: change it in the file"
	}
	lines = append(lines, draw.Wrap(says, wide-4)...)
	if means := m.d.Means(q, m.inputs[m.at].Value()); means != "" {
		lines = append(lines, draw.Wrap("taken as "+visible.Text(means), wide-4)...)
	}
	for i := range lines {
		lines[i] = "   " + lines[i]
	}
	fit := max(0, rows-len(lines))
	if fit < len(m.offered) {
		fit = max(0, fit-1) // the last row says that there are more
	}
	from := max(0, m.chosen-fit+1)
	to := min(len(m.offered), from+fit)
	for i := from; i < to; i++ {
		name := visible.Text(m.offered[i])
		if q.Name == draft.Tool {
			t := m.d.Tools[i].Tool
			name += "   " + visible.Text(t.ID)
			if !t.Due.IsZero() {
				name += ", due " + t.Due.String()
			}
		}
		if i == m.chosen {
			lines = append(lines, "   "+m.theme.Paint(draw.Now, "> "+name))
		} else {
			lines = append(lines, "     "+name)
		}
	}
	if to < len(m.offered) {
		lines = append(lines, "     more: type on, or go down")
	}
	return lines[:min(len(lines), rows)]
}

// results is what is computed and found, in so many rows.
func (m *drafting) results(wide, rows int) []string {
	var lines []string
	results := m.look.Results()
	if short := rows < leastListed; short && len(results) > 1 {
		results = results[1:] // the bolts are those of the flange above
		if joint.Failed(m.look.Findings) {
			results = results[:1]
		}
	}
	for _, r := range results {
		for _, l := range draw.Wrap(r, wide-4) {
			lines = append(lines, "   "+m.theme.Paint(draw.Strong, l))
		}
	}
	look := m.look
	if m.at < len(m.questions) { // it is being typed: Enter says what is wrong with it, the help what it does
		look.Asides = slices.DeleteFunc(slices.Clone(look.Asides), func(a draft.Aside) bool { return a.Of == m.questions[m.at].Name })
		look.Wrong = slices.DeleteFunc(slices.Clone(look.Wrong), func(w draft.Wrong) bool { return w.Question.Name == m.questions[m.at].Name })
	}
	for _, r := range look.Remarks() {
		role := draw.Plain
		if r.Severity == joint.Error {
			role = draw.Danger
		}
		text := visible.Text(r.Text)
		if r.Severity != "" {
			text = strings.ToUpper(string(r.Severity)) + ": " + text
		}
		for i, l := range draw.Wrap(text, wide-4) {
			word, rest, found := strings.Cut(l, ":")
			if i == 0 && found && r.Severity != "" {
				l = m.theme.Paint(role, word+":") + rest
			}
			lines = append(lines, "   "+l)
		}
	}
	if len(lines) > rows && rows > 0 {
		more := "   more: go to the last line, or make the window higher"
		if m.at == len(m.questions) {
			more = "   more: make the window higher"
		}
		lines = append(lines[:rows-1], more)
	}
	return lines[:max(0, min(len(lines), rows))]
}

// question is what is asked before the writing, with all that is known.
func (m *drafting) question(wide int) []string {
	path := visible.Text(m.d.File(m.answers()))
	lines := []string{"", "  " + m.theme.Paint(draw.Title, "WRITE THE JOB"), "", "   file     " + path}
	if m.asking == askLeave {
		return []string{"", "  " + m.theme.Paint(draw.Danger, "NOTHING IS WRITTEN YET"), "", "   To leave now takes your answers away."}
	}
	if m.asking == askOver {
		lines = []string{"", "  " + m.theme.Paint(draw.Danger, "THIS FILE IS THERE ALREADY"), "", "   file     " + path, "   To write over it takes what it holds away."}
		for i, l := range draw.Wrap(m.theme.Spell(visible.Text(m.gone)), wide-12) {
			label := "            "
			if i == 0 {
				label = "   " + m.theme.Paint(draw.Danger, "LOST") + "     "
			}
			lines = append(lines, label+l)
		}
	}
	if m.d.Changes() {
		var changed []string
		for _, q := range m.questions {
			if slices.Contains(m.look.Changed, q.Name) {
				changed = append(changed, strings.ToLower(q.Label))
			}
		}
		text := "nothing"
		if len(changed) > 0 {
			text = strings.Join(changed, ", ") + "; all else stays as it is"
			if m.d.Like != "" {
				text = strings.Join(changed, ", ") + "; all else as in " + visible.Text(filepath.Base(m.d.Like))
			}
			if slices.ContainsFunc(m.look.Asides, func(a draft.Aside) bool { return a.Severity == joint.Warning }) {
				text += ", but for what is warned of below"
			}
		}
		lines = append(lines, "   changed  "+text)
	}
	lines = append(lines, "   check    "+m.look.Summary(), "")
	return append(lines, m.results(wide, 100)...)
}
