package plain

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strconv"
	"strings"

	"evenload/data/draft"
	"evenload/data/visible"
	"evenload/joint"
	"evenload/sequence"
)

// ErrEnded is the end of the input before the job was written. It was said.
var ErrEnded = errors.New("the input ended before the job was written: nothing was written")

// Draft asks on lines what the form asks on the screen, and writes the job file.
// The path is empty where nothing was written: "q" leaves at any prompt, and the end
// of the input is ErrEnded.
func Draft(d *draft.Draft, in io.Reader, out io.Writer, on joint.Date) (path string, err error) {
	p := &drafter{d: d, in: bufio.NewScanner(in), out: out, on: on, a: draft.Answers{}}
	for n, text := range d.Was {
		p.a[n] = text
	}
	p.say("CAUTION: %s", sequence.SiteFirst)
	p.say("CAUTION: %s", sequence.NotLoadWord)
	if begun := d.Begun(); begun != "" {
		p.say("NOTE: %s", begun)
	}
	p.say("KEYS: q leaves without writing; an empty line leaves the answer as it is, - empties it, the number of a NEAR line takes that name")
	for _, q := range draft.Questions() {
		if err := p.answer(q); err != nil {
			return "", p.left(err)
		}
	}
	for {
		path, err = p.write()
		if !errors.Is(err, errAgain) {
			return path, p.left(err)
		}
	}
}

type drafter struct {
	d   *draft.Draft
	in  *bufio.Scanner
	out io.Writer
	on  joint.Date
	a   draft.Answers
}

func (p *drafter) say(format string, a ...any) {
	fmt.Fprintln(p.out, visible.Text(fmt.Sprintf(format, a...)))
}

func (p *drafter) left(err error) error {
	switch {
	case errors.Is(err, errLeave):
		p.say("LEFT: nothing was written")
		return nil
	case errors.Is(err, ErrEnded):
		p.say("LEFT: %v", err)
	}
	return err
}

// ask reads one line.
func (p *drafter) ask(prompt string) (string, error) {
	fmt.Fprint(p.out, visible.Text(prompt)+": ")
	if !p.in.Scan() {
		fmt.Fprintln(p.out)
		if err := p.in.Err(); err != nil {
			p.say("NOT TAKEN: the input cannot be read on: %v", err)
		}
		return "", ErrEnded
	}
	text := strings.TrimSpace(p.in.Text())
	if text == "q" {
		return "", errLeave
	}
	return text, nil
}

// answer asks until the answer can stand.
func (p *drafter) answer(q draft.Question) error {
	if why := p.d.Fixed(q.Name); why != "" {
		p.say("%s: %s, written in the job itself", strings.ToUpper(q.Label), why)
		return nil
	}
	var near []string // names of the table, to be taken by their number
	for {
		prompt := q.Label + ", " + q.Says()
		if now := p.a[q.Name]; now != "" {
			prompt = q.Label + ", now " + now
		}
		if l := p.d.Look(p.a, p.on); q.Name == draft.ApprovedBy && l.Unapproved() {
			p.asides(l.Of(q.Name))
			prompt = q.Label + ", " + q.Says()
		}
		if q.Name == draft.Tool {
			for _, t := range p.d.Tools {
				p.say("TOOL %s: %s", t.Tool.ID, t.File)
			}
		}
		text, err := p.ask(prompt)
		if err != nil {
			return err
		}
		was := p.a[q.Name]
		if n, err := strconv.Atoi(text); err == nil && n >= 1 && n <= len(near) {
			text = near[n-1]
		}
		switch text {
		case "":
		case "-":
			p.a[q.Name] = ""
		default:
			p.a[q.Name] = text
		}
		l := p.d.Look(p.a, p.on)
		why := wrong(l, q)
		if why == "" && q.Needed && p.a[q.Name] == "" {
			why = "it is needed"
		}
		if why == "" {
			if text != "" {
				p.asides(l.Of(q.Name))
			}
			return nil
		}
		p.say("NOT TAKEN: %s", why)
		near = q.Search(text, 9)
		for i, name := range near {
			p.say("NEAR %d: %s", i+1, name)
		}
		p.a[q.Name] = was
	}
}

func (p *drafter) asides(all []draft.Aside) {
	for _, a := range all {
		p.say("%s: %s", strings.ToUpper(string(a.Severity)), a.Text)
	}
}

func wrong(l draft.Look, q draft.Question) string {
	for _, w := range l.Wrong {
		if w.Question.Name == q.Name {
			return w.Why
		}
	}
	return ""
}

// write shows what comes of the answers and asks whether to write it.
func (p *drafter) write() (string, error) {
	l := p.d.Look(p.a, p.on)
	for _, r := range l.Results() {
		p.say("RESULT: %s", r)
	}
	for _, r := range l.Remarks() {
		word := strings.ToUpper(string(r.Severity))
		if word == "" {
			word = "OPEN"
		}
		p.say("%s: %s", word, r.Text)
	}
	path := p.d.File(p.a)
	if !l.Ready() {
		p.say("NOT WRITTEN: the job would have faults; name what to answer again")
		return "", p.again()
	}
	p.say("CHECK: %s", l.Summary())
	answer, err := p.ask("Write " + path + "? y yes, or the name of an answer to change")
	if err != nil {
		return "", err
	}
	if answer != "y" {
		return "", p.named(answer)
	}
	err = p.d.Save(path, l.Text, false)
	if errors.Is(err, fs.ErrExist) {
		if gone := draft.Gone(path, l.Text); gone != "" {
			p.say("LOST: %s", gone)
		}
		if answer, err = p.ask(path + " is there already. Write over it? o write over it, n no"); err != nil {
			return "", err
		}
		if answer != "o" {
			return "", p.again()
		}
		err = p.d.Save(path, l.Text, true)
	}
	if err != nil {
		return "", fmt.Errorf("NOT WRITTEN: %w", err)
	}
	p.say("WRITTEN: %s; next: evenload check %s", path, path)
	return path, nil
}

// again asks for one answer anew.
func (p *drafter) again() error {
	name, err := p.ask("Which answer to change")
	if err != nil {
		return err
	}
	return p.named(name)
}

func (p *drafter) named(name string) error {
	name = strings.ReplaceAll(strings.ToLower(name), " ", "_")
	for _, q := range draft.Questions() {
		if string(q.Name) == name {
			if err := p.answer(q); err != nil {
				return err
			}
			return errAgain
		}
	}
	var all []string
	for _, q := range draft.Questions() {
		all = append(all, string(q.Name))
	}
	p.say("NOT TAKEN: the answers are %s", strings.Join(all, ", "))
	return errAgain
}
