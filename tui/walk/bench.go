package walk

import (
	tea "github.com/charmbracelet/bubbletea"

	"evenload/sequence/practice"
	"evenload/tui/draw"
)

// Bench is practice on one or two bolts, without a walk: who practises, one task after the
// other, the mark.
type Bench struct {
	bench   *practice.Bench
	trainee string
	form    form
	now     Screen // the task at hand, nil while the name is typed
}

// NewBench begins it with the name.
func NewBench(b *practice.Bench) Bench {
	return Bench{bench: b, form: newForm(input("Who practises", "", "", false))}
}

// Trainee is who typed a name, empty before.
func (b Bench) Trainee() string { return b.trainee }

// Finished says that all tasks are answered.
func (b Bench) Finished() bool { _, is := b.now.(marked); return is }

// Typing says that a name is typed.
func (b Bench) Typing() bool { return b.now == nil }

// Counts says that a number is typed.
func (b Bench) Counts() bool { return Counts(b.now) }

// Key takes a key.
func (b Bench) Key(k tea.KeyMsg, v *View) (Screen, Want) {
	if b.now == nil {
		if k.String() == "ctrl+c" {
			return b, Want{Leave: true}
		}
		next, complete, missing := b.form.key(k)
		b.form = next
		if missing != "" {
			return b, Want{Notice: "Type your name: it stands on the log."}
		}
		if complete {
			b.trainee = b.form.value(0)
			return b.Next(), Want{}
		}
		return b, Want{}
	}
	next, want := b.now.Key(k, v)
	b.now = next
	want.Hazard = false
	if want.Again {
		return b.Next(), want
	}
	return b, want
}

// Next shows the task that is next, once a name was typed.
func (b Bench) Next() Bench {
	if b.trainee == "" {
		return b
	}
	ready, err := b.bench.Ready()
	task, more := b.bench.Task()
	switch {
	case !ready || err != nil:
		b.now = waiting{err: err, begin: b.frame}
	case !more:
		b.now = marked{run: b.bench.Run, begin: b.frame}
	default:
		q := newQuiz(b.bench.Run, task)
		q.give = func(t practice.Task, _ *View, text string) (practice.Verdict, error) { return b.bench.Answer(t, text) }
		done, _ := b.bench.Progress()
		place := b.bench.Place(done + 1) // that of the task, while its verdict is shown too
		q.begin = func(v *View) draw.Frame {
			f := b.frame(v)
			f.Right = place
			return f
		}
		b.now = q
	}
	return b
}

func (b Bench) frame(*View) draw.Frame {
	return draw.Frame{Left: practiceHead + "   " + b.bench.Level.Name}
}

// Frame draws it.
func (b Bench) Frame(v *View) draw.Frame {
	if b.now != nil {
		return b.now.Frame(v)
	}
	f := b.frame(v)
	f.Right = "SIGN ON"
	f.Caution = practice.Word
	f.Keys = []draw.Key{{Key: "Enter", Does: "begin"}, keyCtrlC}
	f.Body = append([]string{"", "  " + v.Theme.Paint(draw.Title, "PRACTICE, "+b.bench.Level.Text()), ""},
		wrapAll([]string{"It teaches: " + b.bench.Level.Teaches + ".", "Your name stands on the log, which your supervisor signs.", practice.LeaveWord}, v)...)
	f.Body = append(f.Body, "")
	f.Fields = b.form.lines(v)
	return f
}
