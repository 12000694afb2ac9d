package walk

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/practice"
	"evenload/tui/draw"
)

// practiceHead stands at the left of line 1 on every screen of a practice.
const practiceHead = "PRACTICE on a model, not your flange"

// PracticeFrame says on line 1 what a frame is, first of all.
func PracticeFrame(f draw.Frame, width int) draw.Frame {
	f.Left = practiceHead + "   " + f.Left
	f.Right = draw.Cut(f.Right, max(1, width-13)) // PRACTICE itself is never cut
	return f
}

// Practised gives the screen of a practice for a step: what is asked or told first, else
// the walk's own screen with what there is to see at the simulated joint.
func Practised(run *practice.Run, own Screen, v *View) Screen {
	ready, err := run.Ready()
	switch v.Step.(type) {
	case sequence.SignOn, sequence.Stop:
		return own
	case sequence.Closed:
		return newMarked(run)
	}
	if !ready || err != nil {
		return waiting{err, frame}
	}
	if task, ok := run.Task(v.Walk, v.Step, v.Now); ok {
		return newQuiz(run, task)
	}
	return watched{own: own, run: run}
}

// waiting is shown until the model is there, or says why it never will be.
type waiting struct {
	err   error
	begin func(*View) draw.Frame
}

func (waiting) Typing() bool { return false }

func (s waiting) Key(k tea.KeyMsg, _ *View) (Screen, Want) {
	want, _ := common(k)
	return s, want
}

func (s waiting) Frame(v *View) draw.Frame {
	f := s.begin(v)
	f.Right = "PRACTICE"
	f.Caution = practice.Word
	f.Keys = []draw.Key{keyHelp, keyQuit}
	text := "The model of the joint is being computed: how the bolts unload each other. It takes a moment, once."
	if s.err != nil {
		text = "This joint cannot be practised: " + s.err.Error()
	}
	f.Body = append([]string{""}, wrapAll([]string{text}, v)...)
	return f
}

// watched is the walk's own screen, with what there is to see above it.
type watched struct {
	own     Screen
	run     *practice.Run
	leaving bool // q was pressed once
}

// onceMore lets q leave a practice only when it is pressed again, since what is left does not
// go on. ctrl+c leaves at once, as everywhere.
func onceMore(k tea.KeyMsg, leaving bool, want Want) (bool, Want) {
	if !want.Leave || leaving || k.String() != "q" {
		return false, want
	}
	return true, Want{Notice: practice.LeaveWord + " q again leaves."}
}

func (s watched) Typing() bool { return s.own.Typing() }

func (s watched) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	next, want := s.own.Key(k, v)
	s.own = next
	s.leaving, want = onceMore(k, s.leaving, want)
	return s, want
}

// leavingKeys say that q was pressed once.
func leavingKeys(f draw.Frame, leaving bool) draw.Frame {
	if i := slices.IndexFunc(f.Keys, func(k draw.Key) bool { return k.Key == "q" }); leaving && i >= 0 {
		f.Keys = slices.Clone(f.Keys)
		f.Keys[i].Does = "again leaves"
	}
	return f
}

func (s watched) Frame(v *View) draw.Frame { return leavingKeys(s.frame(v), s.leaving) }

func (s watched) frame(v *View) draw.Frame {
	seen := s.run.Seen(v.Walk, v.Step)
	var lines []string
	for _, text := range seen {
		lines = append(lines, draw.Wrap(text, max(20, v.Width-13))...)
	}
	for i, line := range lines {
		label := "         "
		if i == 0 {
			label = "YOU SEE  "
		}
		lines[i] = " " + label + v.Theme.Paint(draw.Title, line)
	}
	own := *v
	own.Height -= len(lines)
	if draw.TooSmall(own.Width, own.Height) {
		own.Height = v.Height
	}
	f := s.own.Frame(&own)
	if text, instead := s.run.Hides(v.Step); text != "" {
		for i, line := range f.Body {
			f.Body[i] = strings.Replace(line, text, instead, 1)
		}
	}
	if room := f.Room(v.Width, v.Height, v.Theme) - len(f.Fields); len(lines)+len(f.Body) > room {
		f.Body = append(f.Body, lines...) // a small window keeps the work itself
		return f
	}
	f.Body = append(lines, f.Body...)
	return f
}

// quiz asks or tells one thing, and says what was right or wrong with the answer.
type quiz struct {
	run     *practice.Run
	task    practice.Task
	typed   string
	walked  bool              // the last number was walked to: a digit begins it anew
	leaving bool              // q was pressed once
	verdict *practice.Verdict // of a wrong answer, once it was given

	give  func(t practice.Task, v *View, text string) (practice.Verdict, error)
	begin func(v *View) draw.Frame
}

func newQuiz(run *practice.Run, task practice.Task) quiz {
	give := func(t practice.Task, v *View, text string) (practice.Verdict, error) {
		return run.Answer(t, v.Step, text)
	}
	return quiz{run: run, task: task, give: give, begin: frame}
}

// Typing: only digits and what stands between them are typed, so that letters
// stay keys.
func (quiz) Typing() bool { return false }

// IsTask says that a screen asks or tells a trainee something.
func IsTask(s Screen) bool { _, is := s.(quiz); return is }

// Counts says that a screen takes numbers, while letters stay keys.
func Counts(s Screen) bool {
	q, is := s.(quiz)
	return is && q.asks()
}

// asks says that an answer is typed.
func (q quiz) asks() bool { return q.task.Prompt != "" && q.verdict == nil }

// longest answer that is typed.
const longestAnswer = 20

func (q quiz) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	next, want := q.key(k, v)
	if again, is := next.(quiz); is {
		again.leaving, want = onceMore(k, q.leaving, want)
		next = again
	}
	return next, want
}

func (q quiz) key(k tea.KeyMsg, v *View) (Screen, Want) {
	name := k.String()
	asks := q.asks()
	typed := q.takes(name)
	switch {
	case name == "f" && q.task.More && q.verdict == nil:
		q.run.GoOn(v.Step)
		return q, Want{Again: true}
	case !asks && isDone(k):
		if q.verdict != nil {
			return q, Want{Again: true}
		}
		return q.answer(v)
	case !asks:
		want, _ := common(k)
		return q, want
	case name == "enter":
		if strings.TrimSpace(q.typed) == "" {
			return q, Want{Notice: "Type an answer first."}
		}
		return q.answer(v)
	case name == "backspace":
		q.typed, q.walked = q.typed[:max(0, len(q.typed)-1)], false
		return q, Want{}
	case q.task.Picks > 0 && (name == "right" || name == "down"):
		q.typed, q.walked = q.further(1), true
		return q, Want{}
	case q.task.Picks > 0 && (name == "left" || name == "up"):
		q.typed, q.walked = q.further(-1), true
		return q, Want{}
	case typed != "":
		if q.walked && typed != " " {
			q.typed = q.typed[:q.lastNumber()]
		}
		if q.walked = false; len(q.typed) < longestAnswer {
			q.typed += typed
		}
		return q, Want{}
	}
	want, _ := common(k)
	return q, want
}

// takes is what a key adds to the answer, empty for nothing. Between the numbers of bolts
// every sign is a space, and before an answer stands none.
func (q quiz) takes(name string) string {
	switch {
	case len(name) != 1:
		return ""
	case name[0] >= '0' && name[0] <= '9':
		return name
	case q.task.Picks > 1 && q.typed != "" && strings.Contains(" ,./+-", name):
		return " "
	case q.task.Picks == 0 && q.task.Chosen == nil && strings.Contains(".,", name):
		return name
	}
	return ""
}

// lastNumber is where the last number of the answer begins.
func (q quiz) lastNumber() int { return strings.LastIndex(q.typed, " ") + 1 }

// further is the answer with its last number one bolt further round.
func (q quiz) further(by int) string {
	at := q.lastNumber()
	n, b := q.run.Plan().Bolts, 0
	fmt.Sscan(q.typed[at:], &b)
	switch {
	case b < 1 || b > n:
		b = 1
	default:
		b = (b-1+by+n)%n + 1
	}
	return q.typed[:at] + fmt.Sprint(b)
}

func (q quiz) answer(v *View) (Screen, Want) {
	verdict, err := q.give(q.task, v, q.typed)
	switch {
	case err != nil:
		return q, Want{Notice: "NOT TAKEN: " + err.Error()}
	case verdict.Event != nil:
		return q, Want{Event: verdict.Event}
	case verdict.Told():
		return q, Want{Again: true}
	case verdict.Right:
		return q, Want{Again: true, Notice: verdict.Text}
	}
	q.verdict = &verdict
	return q, Want{}
}

func (q quiz) Frame(v *View) draw.Frame { return leavingKeys(q.frame(v), q.leaving) }

func (q quiz) frame(v *View) draw.Frame {
	f := q.begin(v)
	f.Caution = practice.Word
	if q.verdict != nil {
		return q.judged(f, v)
	}
	if q.task.Prompt == "" {
		f.Keys = []draw.Key{{Key: "SPACE", Does: "go on"}}
	} else {
		f.Keys = []draw.Key{{Key: "type, Enter", Does: "answer"}}
		if q.task.Picks > 0 {
			f.Keys = append(f.Keys, draw.Key{Key: "left right", Does: "walk to it"})
		}
	}
	if q.task.More {
		f.Keys = append(f.Keys, draw.Key{Key: "f", Does: "let the model finish it"})
	}
	f.Keys = append(f.Keys, keyHelp, keyQuit)
	body := []string{"", "  " + v.Theme.Paint(draw.Title, q.task.Title), ""}
	body = append(body, taskLines(q.task.Lines, v)...)
	for i, a := range q.task.Chosen {
		if i == 0 {
			body = append(body, "")
		}
		body = append(body, fmt.Sprintf("     %d   %s", i+1, a))
	}
	if q.task.Prompt != "" {
		f.Fields = []string{"  " + q.task.Prompt + "  " + v.Theme.Paint(draw.Now, "[ "+pad(q.typed+"_", 12)+" ]")}
		if q.task.Picks == 0 {
			f.Fields = append([]string{""}, f.Fields...)
		}
	}
	if q.task.Picks > 0 || q.task.Loads != nil {
		body = append(body[1:2:2], taskLines(q.task.Lines, v)...)
		room := f.Room(v.Width, v.Height, v.Theme) - len(body) - len(f.Fields) - 1
		body = append(body, q.loads(v, room)...)
		body = append(body, loadsLegend(v, q.task.Loads != nil))
	}
	f.Body = body
	return f
}

// taskLines wraps what there is to know; what is set in already stays as it is.
func taskLines(all []string, v *View) []string {
	var lines []string
	for _, l := range all {
		if l == "" || l[0] == ' ' {
			lines = append(lines, draw.Cut(v.Theme.Paint(draw.Strong, l), v.Width-1))
			continue
		}
		lines = append(lines, wrapAll([]string{l}, v)...)
	}
	return lines
}

// longestBar is a load of one and a quarter times the target.
const longestBar = 1.25

func loadsLegend(v *View, changed bool) string {
	text := "  loads of the model: # load   | target"
	if changed {
		text = "  loads of the model: # load   + gained now   - lost now   | target"
	}
	return draw.Cut(text, v.Width-1)
}

// loads draws the loads of the model, with what the last stall did.
func (q quiz) loads(v *View, room int) []string {
	now := q.run.Loads()
	before := now
	if c := q.task.Loads; c != nil {
		before, now = c.Before, c.After
	}
	named := map[int]bool{}
	for _, word := range strings.FieldsFunc(q.typed, func(r rune) bool { return r < '0' || r > '9' }) {
		n := 0
		fmt.Sscan(word, &n)
		named[n] = true
	}
	mark := func(sequence.Bolt) draw.Mark { return draw.Open }
	if len(q.run.Plan().Stations) > 2 { // a bench has no walk
		mark = marks(v)
	}
	var bars []draw.Bar
	for i, x := range now {
		b := draw.Bar{Bolt: i + 1, Before: float64(before[i]) / longestBar, Now: float64(x) / longestBar, Text: percentText(x), Mark: mark(sequence.Bolt(i + 1))}
		if named[i+1] && q.verdict == nil {
			b.Mark = draw.Current
		}
		bars = append(bars, b)
	}
	return drawing(q.run.Plan()).Bars(v.Width-1, room, bars, 1/longestBar, v.Theme)
}

func percentText(s unit.Share) string { return fmt.Sprintf("%.0f %%", 100*float64(s)) }

// judged says what was wrong with an answer, and where the order was, how the flanges
// would stand.
func (q quiz) judged(f draw.Frame, v *View) draw.Frame {
	f.Keys = []draw.Key{{Key: "SPACE", Does: "go on"}, keyHelp, keyQuit}
	f.Body = append([]string{"", "  " + v.Theme.Paint(draw.Title, q.task.Title), ""}, wrapAll([]string{q.verdict.Text}, v)...)
	if q.verdict.Best != "" {
		f.Body = append(append(f.Body, ""), wrapAll([]string{"Right is: " + q.verdict.Best + "."}, v)...)
	}
	if len(q.verdict.Closed) == 0 {
		return f
	}
	most := slices.Max(q.verdict.Closed)
	var bars []draw.Bar
	for i, g := range q.verdict.Closed {
		x := 0.8 * float64(g) / max(float64(most), 1e-9)
		bars = append(bars, draw.Bar{Bolt: i + 1, Before: x, Now: x, Text: practice.GapText(g, q.run.Plan().System), Mark: draw.Open})
	}
	room := f.Room(v.Width, v.Height, v.Theme) - len(f.Body) - 2
	f.Body = append(append(f.Body, "", draw.Cut("  closed more than where it is closed least, in the model, "+practice.GapUnit(q.run.Plan().System)+":", v.Width-1)), drawing(q.run.Plan()).Bars(v.Width-1, room-1, bars, 0, v.Theme)...)
	return f
}
