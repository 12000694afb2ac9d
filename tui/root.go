// Package tui is what a person sees: the router, and one clamp for every frame.
// It draws the state of the walk and sends events; it decides nothing.
package tui

import (
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/card"
	"evenload/sequence"
	"evenload/sequence/interaction"
	"evenload/sequence/practice"
	"evenload/tui/draw"
	"evenload/tui/walk"
	"evenload/tui/window"
)

// gateRest is how long a question has to be on screen before a key answers it:
// keys sent earlier were meant for the screen before.
const gateRest = 250 * time.Millisecond

// Options are what the command line says about screens.
type Options struct {
	Theme   draw.Theme
	KeyRest time.Duration // keys must have rested this long before a bolt counts as done
	Now     func() time.Time
	Notice  string // shown first

	// Rounds says how many check rounds of a plan to expect, an estimate. It takes some
	// time, so it is asked once and not before the first frame; nil for none.
	Rounds func(sequence.Plan) string

	Practice *practice.Run                      // nil: a real walk
	Model    func() (*interaction.Bolts, error) // of the simulated joint, computed beside the screens
}

// root is the model of the walk: it turns keys into events, has them written,
// and shows the walk that follows.
type root struct {
	opt     Options
	session *card.Session
	screen  walk.Screen
	step    sequence.Step
	notice  string
	help    bool
	from    int // the first line of the screen's text that is shown, where not all of it fits

	width, height int
	lastKey       time.Time // when any key was pressed last
	shownAt       time.Time // when the screen came up
	writing       bool
	leaving       bool // after the write that is under way
	suspending    bool
	broken        error // the card cannot be written any more
	suspends      bool  // a shell can bring the program back
	rounds        string
}

// recorded comes back from the disk.
type recorded struct {
	walk sequence.Walk
	err  error
	note string

	step sequence.Step // that was answered
	data sequence.Data // with what
}

// tick is once a minute, so that a break or the end of a rest shows by itself.
type tick time.Time

func newRoot(s *card.Session, opt Options) *root {
	r := &root{opt: opt, session: s, notice: opt.Notice}
	r.show()
	return r
}

func (r *root) Init() tea.Cmd {
	cmds := []tea.Cmd{everyMinute()}
	if r.opt.Rounds != nil {
		plan := *r.session.Walk.Plan()
		cmds = append(cmds, tea.Tick(time.Second, func(time.Time) tea.Msg { return estimated(r.opt.Rounds(plan)) }))
	}
	if r.opt.Model != nil {
		cmds = append(cmds, r.model)
	}
	return tea.Batch(cmds...)
}

// estimated is what Options.Rounds said.
type estimated string

func everyMinute() tea.Cmd {
	return tea.Tick(time.Minute, func(t time.Time) tea.Msg { return tick(t) })
}

// show puts up the screen of the step that is next.
func (r *root) show() {
	r.from = 0
	r.step = r.session.Walk.Next(r.opt.Now())
	r.screen = walk.For(r.view())
	if r.opt.Practice != nil {
		r.screen = walk.Practised(r.opt.Practice, r.screen, r.view())
	}
	r.shownAt = r.opt.Now()
}

func (r *root) view() *walk.View {
	return &walk.View{Walk: r.session.Walk, Step: r.step, Now: r.opt.Now(), Theme: r.opt.Theme, System: r.session.Walk.Plan().System,
		Seal: r.session.Seal(), Rounds: r.rounds, Width: r.width, Height: r.height}
}

// Update turns messages into state and effects.
func (r *root) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch m := msg.(type) {
	case tea.WindowSizeMsg:
		r.width, r.height = m.Width, m.Height
		return r, tea.ClearScreen
	case recorded:
		return r.recorded(m)
	case modelled:
		return r, r.modelled(m)
	case estimated:
		r.rounds = string(m)
	case tick:
		r.refresh()
		return r, everyMinute()
	case tea.ResumeMsg:
		r.show()
		return r, tea.ClearScreen
	case window.HangUp:
		return r, r.leave()
	case tea.KeyMsg:
		return r.key(m)
	}
	return r, nil
}

// refresh shows another screen when time alone has changed what is next, and
// leaves the screen, with what is typed in it, alone otherwise.
func (r *root) refresh() {
	next := r.session.Walk.Next(r.opt.Now())
	if sequence.Title(next) != sequence.Title(r.step) || restOver(next) != restOver(r.step) {
		r.show()
	}
}

// scroll moves the text of a screen that does not fit; false where all of it does.
func (r *root) scroll(name string) bool {
	page, last := r.shown().Pages(r.width, r.height, r.opt.Theme)
	if name == "pgup" {
		page = -page
	}
	r.from = max(0, min(r.from+page, last))
	return page != 0
}

func restOver(s sequence.Step) bool {
	rest, ok := s.(sequence.Rest)
	return ok && rest.Over
}

func (r *root) key(k tea.KeyMsg) (tea.Model, tea.Cmd) {
	now := r.opt.Now()
	since := now.Sub(r.lastKey)
	r.lastKey = now
	if k.Type == tea.KeyRunes && !k.Paste && !r.screen.Typing() { // Caps Lock may be on
		k.Runes = []rune(strings.ToLower(string(k.Runes)))
	}
	if r.writing {
		return r, nil // the answer to the key before is still on its way to the disk
	}
	if (k.String() == "pgdown" || k.String() == "pgup") && r.scroll(k.String()) {
		return r, nil
	}
	if !r.screen.Typing() {
		r.from = 0
	}
	switch {
	case r.broken != nil:
		if k.String() == "ctrl+c" || k.String() == "q" {
			return r, r.leave()
		}
		return r, nil
	case r.help && k.String() == "ctrl+c":
		return r, r.leave()
	case r.help:
		r.help = false
		return r, nil
	case k.String() == "ctrl+z" && !r.suspends:
		r.notice = "No shell stands behind this window to come back from: q leaves, ctrl+c from a text field."
		return r, nil
	case k.String() == "ctrl+z":
		r.suspending = true
		return r, r.leave()
	case draw.TooSmall(r.width, r.height):
		if k.String() == "ctrl+c" || k.String() == "q" {
			return r, r.leave()
		}
		return r, nil
	case walk.Counts(r.screen) && !k.Paste && len(k.Runes) > 1:
		for _, one := range k.Runes { // typed quickly, or on a slow line
			r.key(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{one}})
		}
		return r, nil
	case !r.screen.Typing() && (k.Paste || len(k.Runes) > 1):
		r.notice = "Not understood: one key at a time, and no paste."
		return r, nil
	}
	r.refresh()
	r.notice = ""
	if k.String() == hazardKey && r.atWork() {
		r.screen = walk.NewHazard(r.screen)
		return r, nil
	}
	screen, want := r.screen.Key(k, r.view())
	switch {
	case want.Leave:
		return r, r.leave()
	case want.Help:
		r.help = true
		return r, nil
	case want.Hazard:
		if r.atWork() {
			r.screen = walk.NewHazard(r.screen)
		}
		return r, nil
	case want.Marks && since < r.opt.KeyRest:
		r.notice = "NOT DONE: hold or double key. Wait a moment, then press once."
		return r, nil
	case want.Gate && (now.Sub(r.shownAt) < gateRest || since < gateRest && !r.screen.Typing()):
		r.notice = "NOT TAKEN: read the question first."
		return r, nil
	}
	r.screen = screen
	r.notice = want.Notice
	if want.Again {
		return r, r.again(want.Notice)
	}
	if want.Event == nil {
		return r, nil
	}
	return r, r.send(want.Event, want.Notice)
}

// hazardKey stops the work from a text field too, where letters are text.
const hazardKey = "ctrl+p"

// atWork says that somebody is at the joint, who may see a hazard there.
func (r *root) atWork() bool {
	switch r.step.(type) {
	case sequence.SignOn, sequence.Stop, sequence.Closed:
		return false
	}
	return !walk.IsHazard(r.screen)
}

// send has an event accepted on a copy and written; recorded shows it.
func (r *root) send(d sequence.Data, note string) tea.Cmd {
	by := r.session.Walk.Operator()
	if s, ok := d.(sequence.SignedOn); ok {
		by = s.Name
	}
	e := sequence.Event{At: card.Stamp(r.opt.Now()), By: by, Data: d}
	next, err := r.session.Walk.Apply(e)
	note = r.judged(d, err, note)
	if err != nil {
		r.notice = strings.TrimSpace("NOT TAKEN: " + err.Error() + " " + note)
		r.refresh()
		return nil
	}
	r.writing = true
	s, step := r.session, r.step
	return func() tea.Msg { return recorded{walk: next, err: s.Write(e), note: note, step: step, data: d} }
}

func (r *root) recorded(m recorded) (tea.Model, tea.Cmd) {
	r.writing = false
	if m.err != nil {
		r.help = false
		r.broken = m.err
		r.notice = cardBroken(m.err)
		if r.leaving || r.suspending {
			return r, tea.Quit
		}
		return r, nil
	}
	r.happened(m)
	r.session.Walk = m.walk
	r.notice = m.note
	if err := r.session.CopyError(); err != nil {
		r.notice = "SECOND COPY FAILED, the card itself is safe: " + err.Error()
	}
	switch {
	case r.suspending:
		r.suspending = false
		r.show()
		return r, tea.Suspend
	case r.leaving:
		return r, tea.Quit
	}
	r.show()
	return r, r.goOn()
}

func cardBroken(err error) string {
	return "NOT RECORDED, so not done: " + err.Error() + ". Leave, and open the card again."
}

// leave writes that the operator left, where somebody is at work, and quits.
func (r *root) leave() tea.Cmd {
	if r.writing {
		r.leaving = true
		return nil
	}
	out := tea.Quit
	if r.suspending {
		out = tea.Suspend
	}
	_, signedOff := r.step.(sequence.SignOn)
	if signedOff || r.session.Walk.IsClosed() || r.broken != nil {
		r.suspending = false
		return out
	}
	r.leaving = !r.suspending
	if stop := walk.Unsaid(r.screen, r.view()); stop != nil {
		if cmd := r.send(stop, ""); cmd != nil {
			return cmd
		}
	}
	if cmd := r.send(sequence.Suspended{}, ""); cmd != nil {
		return cmd
	}
	r.suspending = false
	return out
}

// View draws the frame. Nothing reaches the terminal but through here.
func (r *root) View() string {
	if r.width == 0 || r.height == 0 {
		return "evenload"
	}
	return draw.Clamp(r.shown().Render(r.width, r.height, r.opt.Theme), r.width, r.height)
}

// shown is the frame with what lies over it.
func (r *root) shown() draw.Frame {
	f := r.frame()
	if r.help {
		leaving := leavingWord
		if r.opt.Practice != nil {
			leaving = practice.LeaveWord
		}
		f = helpFrame(r.view(), f, leaving)
	}
	f.Notice, f.From = r.notice, r.from
	if r.broken != nil {
		f.Keys = []draw.Key{{Key: "q", Does: "leave"}}
	}
	if r.writing {
		f.Notice = "writing"
	}
	return f
}

// frame is that of the screen, with the keys that the router takes.
func (r *root) frame() draw.Frame {
	f := r.screen.Frame(r.view())
	if r.session.Opened().Practice {
		f = walk.PracticeFrame(f, r.width)
	}
	if r.atWork() {
		f.Keys = withHazard(f.Keys, r.screen.Typing())
	}
	return f
}

// withHazard puts the key that stops the work before help and leaving, where a
// screen has no key of its own for what is wrong.
func withHazard(keys []draw.Key, typing bool) []draw.Key {
	k := draw.Key{Key: "p", Does: "hazard"}
	if typing {
		k.Key = hazardKey
	}
	if slices.ContainsFunc(keys, func(other draw.Key) bool { return other.Key == k.Key }) {
		return keys
	}
	at := slices.IndexFunc(keys, func(other draw.Key) bool { return other.Key == "?" || other.Key == "ctrl+c" })
	return slices.Insert(slices.Clone(keys), max(0, at), k)
}
