package plain

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	"evenload/data/visible"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/practice"
)

// practiceMark begins every line of a practice.
const practiceMark = "PRACTICE  "

// mark begins every line of a practice, also of one that is only gone on with.
func (l *liner) mark() string {
	if l.bench || l.s.Opened().Practice {
		return practiceMark
	}
	return ""
}

// judged has a practice judge an event. It gives what to say, and the step that was answered.
func (l *liner) judged(d sequence.Data, refused error) (string, sequence.Step) {
	if l.opt.Practice == nil {
		return "", nil
	}
	step := l.s.Walk.Next(l.now())
	return l.opt.Practice.Judge(l.s.Walk.At(l.now()), step, d, refused), step
}

func (l *liner) said(text string) {
	if text != "" {
		l.say("%s", text)
	}
}

// practiceReady computes the simulated joint, once, and says so.
func (l *liner) practiceReady() error {
	run := l.opt.Practice
	if ready, err := run.Ready(); ready || err != nil {
		return err
	}
	l.say("The model of the joint is being computed: how the bolts unload each other. It takes a moment, once.")
	run.Model(l.opt.Model())
	_, err := run.Ready()
	return err
}

// practise asks and tells what comes before a step. errAgain: the step is to be looked at
// anew.
func (l *liner) practise(step sequence.Step) error {
	run := l.opt.Practice
	switch step.(type) {
	case sequence.SignOn, sequence.Stop:
		return nil
	}
	if err := l.practiceReady(); err != nil {
		return fmt.Errorf("this joint cannot be practised: %w", err)
	}
	walk := l.s.Walk
	l.hide, l.instead = run.Hides(step)
	if task, ok := run.Task(walk, step, l.now()); ok {
		if err := l.task(task, step); err != nil {
			return err
		}
		return errAgain
	}
	if d, ok := run.Auto(walk.At(l.now()), step); ok {
		if err := l.send(d); err != nil {
			return err
		}
		return errAgain
	}
	for _, seen := range run.Seen(walk, step) {
		l.say("YOU SEE: %s", seen)
	}
	return nil
}

// task asks or tells one thing, and says what was right or wrong with the answer.
func (l *liner) task(task practice.Task, step sequence.Step) error {
	run := l.opt.Practice
	text, err := l.asked(run, task)
	if err != nil {
		return err
	}
	if task.More && text == "f" {
		run.GoOn(step)
		return nil
	}
	v, err := run.Answer(task, step, text)
	if err != nil {
		l.say("NOT TAKEN: %v", err)
		return nil
	}
	l.verdict(run, v)
	if v.Event != nil {
		return l.send(v.Event)
	}
	return nil
}

// asked says a task and reads the answer, empty where nothing is asked.
func (l *liner) asked(run *practice.Run, task practice.Task) (string, error) {
	shown := task.Loads
	if shown == nil && task.Picks > 0 {
		shown = &practice.Change{Before: run.Loads(), After: run.Loads()}
	}
	if task.Prompt != "" || len(task.Lines) > 0 {
		l.say("%s", task.Title)
	}
	for _, line := range task.Lines {
		if strings.TrimSpace(line) != "" {
			l.say("%s", strings.TrimSpace(line))
		}
	}
	if shown != nil {
		l.say("LOADS in the model, of the target: %s", loads(*shown))
	}
	for i, a := range task.Chosen {
		l.say("%d %s", i+1, a)
	}
	prompt := strings.TrimSuffix(task.Prompt, "?")
	if task.Prompt == "" {
		if !task.More {
			return "", nil
		}
		prompt = "Enter goes on"
	}
	if task.More {
		prompt += ", f lets the model finish this pass or round"
	}
	return l.ask(prompt)
}

func (l *liner) verdict(run *practice.Run, v practice.Verdict) {
	if v.Text != "" {
		l.say("%s", v.Text)
	}
	if v.Best != "" {
		l.say("Right is: %s.", v.Best)
	}
	if len(v.Closed) > 0 {
		var parts []string
		for i, g := range v.Closed {
			parts = append(parts, fmt.Sprintf("%d %s", i+1, practice.GapText(g, run.Plan().System)))
		}
		l.say("CLOSED at each bolt more than where it is closed least, in the model, %s: %s", practice.GapUnit(run.Plan().System), strings.Join(parts, ", "))
	}
}

// loads names the load of every bolt, with what it was where that changed.
func loads(c practice.Change) string {
	var parts []string
	for i, x := range c.After {
		text := fmt.Sprintf("%d %.0f %%", i+1, 100*float64(x))
		if d := float64(x - c.Before[i]); d >= 0.005 || d <= -0.005 {
			text += fmt.Sprintf(" (was %.0f %%)", 100*float64(c.Before[i]))
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, ", ")
}

// marked says the mark and what was missed.
func (l *liner) marked(run *practice.Run) {
	m := run.Mark(true)
	l.say("YOUR MARK: %d %%", m.Total)
	for _, p := range m.Parts {
		l.say("%s: %d %%, %d of %d right", p.Part, p.Mark, p.Right, p.Asked)
	}
	for _, a := range run.Missed() {
		l.say("MISSED, %s: %s", a.Part, a.Words())
	}
	if !run.Level.Bench() {
		l.say("%s", practice.EvenWords)
	}
	if len(run.Missed()) == 0 {
		l.say("Nothing was missed.")
	}
}

// Bench is practice on one or two bolts as lines. It gives the trainee's name, empty when
// none was typed, and whether all tasks were answered.
func Bench(b *practice.Bench, closures func() ([]unit.Compliance, unit.Compliance, error), in io.Reader, out io.Writer) (trainee string, finished bool, err error) {
	l := &liner{in: bufio.NewScanner(in), out: out, bench: true}
	l.opt.Practice = b.Run
	l.say("%s %s: %s", practice.Word, b.Level.Text(), b.Level.Teaches)
	l.say("KEYS: q leaves")
	name, err := l.ask("Who practises")
	if err != nil || name == "" {
		return "", false, nil
	}
	l.say("The model of the bolts is being computed. It takes a moment, once.")
	b.Model(closures())
	if _, err := b.Ready(); err != nil {
		return visible.Text(name), false, err
	}
	for {
		task, ok := b.Task()
		if !ok {
			l.marked(b.Run)
			return name, true, nil
		}
		text, err := l.asked(b.Run, task)
		switch {
		case errors.Is(err, errLeave):
			return name, false, nil
		case err != nil:
			continue
		}
		v, err := b.Answer(task, text)
		if err != nil {
			l.say("NOT TAKEN: %v", err)
			continue
		}
		l.verdict(b.Run, v)
	}
}
