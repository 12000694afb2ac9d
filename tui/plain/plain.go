// Package plain is the walk as lines: for screen readers, serial lines, dumb
// terminals and tests. It shares the Walk and every sentence with the screens.
package plain

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"evenload/data/card"
	"evenload/data/visible"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/interaction"
	"evenload/sequence/practice"
)

// errLeave ends the walk; errAgain puts the step again; errHazard stops the work.
var (
	errLeave = errors.New("left")
	errAgain = errors.New("again")

	errHazard = errors.New("hazard")
)

type liner struct {
	s      *card.Session
	in     *bufio.Scanner
	out    io.Writer
	system unit.System
	now    func() time.Time
	opt    Options
	bench  bool // no walk

	hide, instead string // of a practice: what would give an answer away
}

// Options are what the command line says about lines.
type Options struct {
	Now func() time.Time
	// KeyRest is how long a bolt has to be shown before a line marks it: a paste is no
	// work. 0 is for lines that come from a program.
	KeyRest time.Duration
	Rounds  string // how many check rounds to expect, an estimate; empty where there is none

	Practice *practice.Run                      // nil: a real walk
	Model    func() (*interaction.Bolts, error) // of the simulated joint
}

// Walk runs the walk on lines until the card is closed or input ends. "q"
// leaves at any prompt.
func Walk(s *card.Session, in io.Reader, out io.Writer, opt Options) error {
	now := opt.Now
	l := &liner{s: s, in: bufio.NewScanner(in), out: out, system: s.Walk.Plan().System, now: now, opt: opt}
	a := s.Walk.Plan().About
	tag := a.Tag
	if s.Path() == "" || s.Walk.At(now()).AsksTag() {
		tag = s.Walk.Plan().HiddenTag() // its end is asked for at the joint
	}
	l.say("JOINT: %s %s", tag, a.Where)
	if a.ApprovedBy == "" {
		l.say("UNAPPROVED: ask the responsible engineer")
	}
	l.say("CAUTION: %s", sequence.SiteFirst)
	l.say("CAUTION: %s", sequence.OnlyFor)
	l.say("KEYS: q leaves, ? helps; stop, at any prompt, for pressure, heat or a leak at the joint; h, where a pressure is to be set or a gap measured, hands over; n, at a reading, writes a note")
	for {
		step := s.Walk.Next(now())
		if c, ok := step.(sequence.Closed); ok {
			l.say("CLOSED: %s, seal %s", l.clock(c.At), s.Seal())
			if opt.Practice != nil {
				l.marked(opt.Practice)
			}
			return nil
		}
		title := sequence.Title(step)
		if who := s.Walk.Supervisor(); who != "" {
			title += "   TRAINEE with " + who
		}
		l.say("STEP: %s", title)
		var err error
		if l.opt.Practice != nil {
			err = l.practise(step)
		}
		if err == nil {
			err = l.step(step)
		}
		if errors.Is(err, errHazard) {
			err = l.hazard()
		}
		if errors.Is(err, errTool) {
			err = l.toolOf()
		}
		switch {
		case errors.Is(err, errLeave):
			return l.leave()
		case errors.Is(err, errAgain):
		case err != nil:
			return err
		}
	}
}

// leave writes down that the operator left, where one is signed on.
func (l *liner) leave() error {
	e := l.event(sequence.Suspended{})
	if _, err := l.s.Walk.Apply(e); err == nil {
		if err := l.send(e.Data); err != nil {
			return err
		}
	}
	if l.opt.Practice != nil {
		l.say("LEFT: %s", practice.LeaveWord)
		return nil
	}
	if l.s.Path() == "" {
		l.say("LEFT: nobody signed on, so that no card was made")
		return nil
	}
	l.say("LEFT: the card goes on at the same place")
	return nil
}

// clock prints a time in the zone of the clock that the walk goes by.
func (l *liner) clock(t time.Time) string { return t.In(l.now().Location()).Format("2006-01-02 15:04") }

func (l *liner) say(format string, a ...any) {
	text := fmt.Sprintf(format, a...)
	if l.hide != "" {
		text = strings.Replace(text, l.hide, l.instead, 1)
	}
	fmt.Fprintln(l.out, l.mark()+visible.Text(text))
}

// ask reads one line. Help comes before the same prompt again.
func (l *liner) ask(prompt string) (string, error) {
	text, err := l.line(prompt)
	for err == nil && text == "?" && !l.bench {
		for _, h := range sequence.Help(l.s.Walk.Next(l.now())) {
			l.say("HELP: %s", h)
		}
		text, err = l.line(prompt)
	}
	switch {
	case err != nil:
		return "", err
	case text == "q":
		return "", errLeave
	case text == "stop" && l.bench: // the bench has no work to stop
	case text == "stop" && l.atWork():
		return "", errHazard
	case text == "stop": // never a name
		l.say("NOT TAKEN: nobody works now, so nothing has to be stopped")
		return "", errAgain
	}
	if visible.Text(text) != text {
		l.say("NOT TAKEN: that line holds characters that cannot be shown")
		return "", errAgain
	}
	return text, nil
}

// choose asks for one of the letters or words of a prompt: Caps Lock may be on.
func (l *liner) choose(prompt string) (string, error) {
	text, err := l.ask(prompt)
	return strings.ToLower(text), err
}

// line reads what is typed behind a prompt.
func (l *liner) line(prompt string) (string, error) {
	fmt.Fprint(l.out, l.mark()+visible.Text(prompt)+": ")
	if !l.in.Scan() {
		fmt.Fprintln(l.out)
		if err := l.in.Err(); err != nil {
			l.say("NOT TAKEN: the input cannot be read on: %v", err)
		}
		return "", errLeave
	}
	return strings.TrimSpace(l.in.Text()), nil
}

// atWork says that somebody is at the joint, who may see a hazard there.
func (l *liner) atWork() bool {
	switch l.s.Walk.Next(l.now()).(type) {
	case sequence.SignOn, sequence.Stop, sequence.Closed:
		return false
	}
	return true
}

// event is what the operator does now.
func (l *liner) event(d sequence.Data) sequence.Event {
	by := l.s.Walk.Operator()
	if s, ok := d.(sequence.SignedOn); ok {
		by = s.Name
	}
	return sequence.Event{At: card.Stamp(l.now()), By: by, Data: d}
}

// send has an event accepted, written and only then shown.
func (l *liner) send(d sequence.Data) error {
	e := l.event(d)
	next, err := l.s.Walk.Apply(e)
	said, step := l.judged(d, err)
	if err != nil {
		l.say("NOT TAKEN: %v", err)
		l.said(said)
		return errAgain
	}
	if err := l.s.Write(e); err != nil {
		return fmt.Errorf("NOT RECORDED, so not done: %w", err)
	}
	l.s.Walk = next
	l.say("RECORDED: %s", d.Kind())
	l.said(said)
	if l.opt.Practice != nil {
		if err := l.opt.Practice.Happened(step, d); err != nil {
			return err
		}
	}
	if err := l.s.CopyError(); err != nil {
		l.say("SECOND COPY FAILED, the card itself is safe: %v", err)
	}
	return nil
}

func (l *liner) step(step sequence.Step) error {
	switch s := step.(type) {
	case sequence.SignOn:
		if handed := s.HandedWord(); handed != "" {
			l.say("HANDED OVER: %s", handed)
		}
		return l.signOn(false)
	case sequence.Stop:
		l.say("STOP: %s", s.Reason)
		l.say("CAUTION: %s", sequence.StopHint)
		l.told(s.Words())
		return l.signOn(true)
	case sequence.Ask:
		return l.question(s)
	case sequence.Materials:
		return l.materials()
	case sequence.Snug:
		l.say("CAUTION: %s", sequence.SnugHint)
		l.owed()
		l.say("ALL NUTS SNUG BY HAND: at most %s, in the order %s", s.Torque.Text(l.system), sequence.BoltList(s.Order))
		l.say("%s", sequence.SnugWatch)
		return l.done("done", sequence.Snugged{})
	case sequence.GapCheck:
		return l.gaps(s)
	case sequence.Set:
		return l.set(s)
	case sequence.Tighten:
		done := map[string]sequence.Data{"d": sequence.BoltDone{Pass: s.Pass, Bolts: s.Bolts}}
		if l.s.Walk.Plan().Several() {
			l.station(s)
			word := "d all done"
			if s.Redo > 0 {
				word = "d done"
			}
			return l.bolt(word+", u undo, p problem, h hand over, t tool, n note", s.Bolts, s.Redo > 0, done)
		}
		l.say("CAUTION: %s", sequence.TightenHint)
		l.work(s.Work)
		l.say("BOLT %d, %s", s.Bolts[0], s.ThenWords())
		return l.bolt("d done, u undo, p problem, h hand over, t tool, n note", s.Bolts, s.Redo > 0, done)
	case sequence.Check:
		l.say("CAUTION: %s", sequence.CheckHint)
		l.work(s.Work)
		if s.Letter != "" {
			l.say("TOOL %s alone", s.Letter)
		}
		if l.opt.Rounds != "" && s.Done == 0 {
			l.say("ROUNDS: %s", l.opt.Rounds)
		}
		l.say("BOLT %d, %s, %s. %s", s.Bolt, l.s.Walk.Plan().RoundWord(), sequence.ThenWords(s.Then), sequence.StillWord)
		return l.bolt("s still, m moved, u undo, p problem, h hand over, t tool, n note", []sequence.Bolt{s.Bolt}, false, map[string]sequence.Data{
			"s": sequence.NutStill{Round: s.Round, Bolt: s.Bolt}, "m": sequence.NutMoved{Round: s.Round, Bolt: s.Bolt}})
	case sequence.Rest:
		return l.rest(s)
	case sequence.Stretch:
		return l.stretch(s)
	case sequence.LeakTest:
		return l.leakTest()
	case sequence.Release:
		return l.release(s)
	}
	return l.closeCard()
}

func (l *liner) work(w sequence.Work) {
	text := fmt.Sprintf("GAUGE %s %s, torque %s", w.Tool.Gauged(w.Setting.Set), sequence.State(w.Tool), w.Setting.Delivered.Text(l.system))
	if w.Setting.Foot > 0 {
		text += ", foot " + w.Setting.Foot.Text(l.system) + " on its stop"
	}
	l.say("%s; %s", text, w.LeftWords())
}

func (l *liner) done(word string, d sequence.Data) error {
	answer, err := l.choose(word + " when it is so")
	if err != nil {
		return err
	}
	if answer != word && answer != word[:1] {
		l.say("NOT TAKEN: type %s, or q to leave", word)
		return errAgain
	}
	return l.send(d)
}
