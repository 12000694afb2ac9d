package desk

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/draft"
	"evenload/data/visible"
	"evenload/joint"
	"evenload/tui/draw"
	"evenload/tui/entry"
	"evenload/tui/window"
)

// mostListed is how many names of a table are offered at once.
const mostListed = 40

// drafting is the form that writes a job file.
type drafting struct {
	d         *draft.Draft
	theme     draw.Theme
	on        joint.Date
	questions []draft.Question
	inputs    []textinput.Model
	at        int      // the answer at hand; behind the last one the line that writes
	offered   []string // names that may be meant
	chosen    int      // of those, -1 for none
	look      draft.Look
	asking    question
	notice    string
	writing   bool
	written   string // the path
	gone      string // what the file to be written over has and would lose

	width, height int
}

// question is what is asked before anything is written.
type question int8

const (
	noQuestion question = iota
	askWrite
	askOver
	askLeave
)

// saved comes when the disk has answered.
type saved struct {
	path string
	err  error
	gone string // of a file that is there already
}

func newDrafting(d *draft.Draft, t draw.Theme, on joint.Date) *drafting {
	m := &drafting{d: d, theme: t, on: on, questions: draft.Questions()}
	for _, q := range m.questions {
		in := textinput.New()
		in.Prompt = ""
		in.CharLimit = 200
		in.SetValue(d.Was[q.Name])
		m.inputs = append(m.inputs, in)
	}
	m.to(0)
	m.notice = visible.Text(d.Begun())
	return m
}

// Draft shows the form until the job is written or left. The path is empty
// where nothing was written.
func Draft(d *draft.Draft, t draw.Theme, on joint.Date) (path string, err error) {
	m := newDrafting(d, t, on)
	if err := window.Show(m); err != nil {
		return m.written, fmt.Errorf("the screen failed: %w", err)
	}
	return m.written, nil
}

func (m *drafting) Init() tea.Cmd { return nil }

func (m *drafting) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height = msg.Width, msg.Height
		return m, tea.ClearScreen
	case window.HangUp:
		return m, tea.Quit
	case saved:
		return m, m.saved(msg)
	case tea.KeyMsg:
		if msg.String() == "ctrl+c" && msg.Type != tea.KeyRunes {
			if m.touched() && m.asking != askLeave && !m.writing && !draw.TooSmall(m.width, m.height) {
				m.asking, m.notice = askLeave, ""
				return m, nil
			}
			return m, tea.Quit
		}
		if m.writing || draw.TooSmall(m.width, m.height) {
			return m, nil
		}
		m.notice = ""
		if m.asking != noQuestion {
			return m, m.answer(msg)
		}
		m.key(msg)
	}
	return m, nil
}

// touched says that an answer would be lost.
func (m *drafting) touched() bool {
	for n, text := range m.answers() {
		if text != strings.TrimSpace(m.d.Was[n]) {
			return true
		}
	}
	return false
}

// answers are those of all fields.
func (m *drafting) answers() draft.Answers {
	a := draft.Answers{}
	for i, q := range m.questions {
		a[q.Name] = strings.TrimSpace(m.inputs[i].Value())
	}
	return a
}

// to goes to an answer, or to the line that writes.
func (m *drafting) to(at int) {
	n := len(m.questions) + 1
	m.at = (at + n) % n
	for i := range m.inputs {
		m.inputs[i].Blur()
	}
	if m.at < len(m.inputs) {
		m.inputs[m.at].Focus()
		m.inputs[m.at].CursorEnd()
	}
	m.compute()
}

// compute looks at the answers so far, and at what the one at hand may mean.
func (m *drafting) compute() {
	m.look = m.d.Look(m.answers(), m.on)
	m.offered, m.chosen = nil, -1
	if m.at == len(m.questions) {
		return
	}
	q, text := m.questions[m.at], strings.TrimSpace(m.inputs[m.at].Value())
	if m.d.Fixed(q.Name) != "" || text != "" && m.wrong(q) == "" {
		return
	}
	if q.Name == draft.Tool {
		for _, t := range m.d.Tools[:min(len(m.d.Tools), mostListed)] {
			m.offered = append(m.offered, t.File)
		}
		return
	}
	m.offered = q.Search(text, mostListed)
	if only := q.Only(text); only != "" {
		m.chosen = slices.Index(m.offered, only) // Enter takes it
	}
}

func (m *drafting) wrong(q draft.Question) string {
	for _, w := range m.look.Wrong {
		if w.Question.Name == q.Name {
			return w.Why
		}
	}
	return ""
}

// key takes a key of the form.
func (m *drafting) key(k tea.KeyMsg) {
	name := k.String()
	if k.Type == tea.KeyRunes && !k.Alt {
		name = "" // a word that came at once is text, even "end" or "down"
	}
	listed := len(m.offered) > 0
	switch {
	case name == "enter":
		m.enter()
	case name == "tab", name == "down" && !listed:
		m.to(m.at + 1)
	case name == "shift+tab", name == "up" && !listed:
		m.to(m.at - 1)
	case name == "down":
		m.chosen = min(len(m.offered)-1, m.chosen+1)
	case name == "up":
		m.chosen = max(-1, m.chosen-1)
	default:
		m.typed(k)
	}
}

// enter takes the name that is chosen, and goes on; an answer that cannot stand
// stays at hand.
func (m *drafting) enter() {
	if m.at == len(m.questions) {
		m.review()
		return
	}
	if m.chosen >= 0 {
		m.inputs[m.at].SetValue(m.offered[m.chosen])
		m.compute()
	}
	if why := m.wrong(m.questions[m.at]); why != "" {
		m.notice = why
		if len(m.offered) > 0 {
			m.notice = fmt.Sprintf("%q is no whole name: choose one with up and down, then Enter, or write more of it.", visible.Text(strings.TrimSpace(m.inputs[m.at].Value())))
		}
		return
	}
	m.to(m.at + 1)
}

func (m *drafting) typed(k tea.KeyMsg) {
	if m.at == len(m.questions) {
		return
	}
	in, ok := entry.Into(m.inputs[m.at], k)
	switch {
	case !ok:
	case m.d.Fixed(m.questions[m.at].Name) != "":
		m.notice = "The tool is written in the job itself: change it in the file."
	default:
		m.inputs[m.at] = in
		m.compute()
	}
}

// review asks whether to write, or goes to the first answer that is not right.
func (m *drafting) review() {
	if m.look.Ready() {
		m.asking = askWrite
		return
	}
	for i, q := range m.questions {
		if m.wrong(q) != "" || q.Needed && strings.TrimSpace(m.inputs[i].Value()) == "" {
			m.to(i)
			m.notice = q.Label + " is needed before the job can be written."
			if why := m.wrong(q); why != "" {
				m.notice = why
			}
			return
		}
	}
	m.notice = "The job would have faults, see above: nothing is written."
}

// answer takes a key of the question before the writing. To write over a file
// has a key of its own, so that a held one does not answer both.
func (m *drafting) answer(k tea.KeyMsg) tea.Cmd {
	name := k.String()
	switch {
	case k.Paste:
	case name == "n" || name == "esc":
		m.asking = noQuestion
		return nil
	case name == "y" && m.asking == askWrite, name == "o" && m.asking == askOver:
		over := m.asking == askOver
		m.writing = true
		d, path, text := m.d, m.d.File(m.answers()), m.look.Text
		return func() tea.Msg {
			s := saved{path: path, err: d.Save(path, text, over)}
			if errors.Is(s.err, fs.ErrExist) {
				s.gone = draft.Gone(path, text)
			}
			return s
		}
	}
	m.notice = "Not understood: press one of the keys below."
	return nil
}

// saved says what the disk said. The answers stay where it refused.
func (m *drafting) saved(s saved) tea.Cmd {
	m.writing = false
	switch {
	case s.err == nil:
		m.written = s.path
		return tea.Quit
	case errors.Is(s.err, fs.ErrExist):
		m.asking, m.gone = askOver, s.gone
	default:
		m.asking = noQuestion
		m.notice = "NOT WRITTEN: " + visible.Text(s.err.Error())
	}
	return nil
}
