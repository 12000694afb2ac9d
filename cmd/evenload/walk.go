package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/mattn/go-isatty"
	"github.com/spf13/cobra"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/data/report"
	"evenload/data/visible"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/tui"
	"evenload/tui/plain"
)

// walkFlags are those of the walk.
type walkFlags struct {
	plain   bool
	ascii   bool
	theme   string
	units   units
	cards   string
	copy    string
	keyRest time.Duration
}

func walkCommand() *cobra.Command {
	var f walkFlags
	c := &cobra.Command{
		Use:     "walk JOB",
		Short:   "Walk through a joint, bolt by bolt; goes on with the job's open card",
		Example: "  evenload walk testdata/jobs/strainer-8in-300.toml",
		Args:    cobra.ExactArgs(1),
		RunE:    func(_ *cobra.Command, args []string) error { return walk(args[0], f) },
	}
	flags := c.Flags()
	flags.BoolVar(&f.plain, "plain", false, "the same walk as lines, for screen readers and serial lines")
	flags.BoolVar(&f.ascii, "ascii", false, "plain ASCII only")
	flags.StringVar(&f.theme, "theme", "", "dark, light or mono (dark, mono without colours)")
	f.units.addTo(c, "those of the thread, of a card its own")
	flags.StringVar(&f.cards, "cards", "", "folder of the cards (that of the job file)")
	flags.StringVar(&f.copy, "copy", "", "folder for a second copy of the card")
	flags.DurationVar(&f.keyRest, "key-rest", walkRest, "a bolt counts only after this long without a key")
	return c
}

func walk(path string, f walkFlags) error {
	return walkOn(func() (*card.Session, string, error) { return session(path, f) }, f, expected(path))
}

// expected says how many check rounds to expect, an estimate by the elastic model;
// nil where a card was named, whose job may be another now.
func expected(path string) func(sequence.Plan) string {
	if card.IsCard(path) {
		return nil
	}
	return func(plan sequence.Plan) string {
		j, err := job.Load(path)
		if err != nil {
			return ""
		}
		return report.RoundsWord(j, plan)
	}
}

// walkOn opens the walk and runs it on the terminal, or as lines where there is none,
// and says in the end how its card goes on.
func walkOn(load tui.Load, f walkFlags, rounds func(sequence.Plan) string) error {
	s, err := onTerminal(load, f, rounds)
	if s == nil {
		return err
	}
	defer s.Close()
	if path := visible.Text(s.Path()); path != "" && s.Walk.IsClosed() && s.Opened().Practice {
		fmt.Println("PRACTICE, closed: no joint was tightened")
	} else if path != "" && s.Walk.IsClosed() {
		fmt.Println("closed, what was done: evenload record", path)
	} else if path != "" {
		fmt.Println("goes on with: evenload walk", path)
	}
	return err
}

// onTerminal gives what it opened for closing, nil where nothing was opened.
func onTerminal(load tui.Load, f walkFlags, rounds func(sequence.Plan) string) (*card.Session, error) {
	can := here()
	if f.plain || can.Lines {
		s, notice, err := load()
		if err != nil {
			return nil, err
		}
		if notice != "" {
			fmt.Println("NOTE:", visible.Text(notice))
		}
		opt := plain.Options{Now: time.Now}
		if isatty.IsTerminal(os.Stdin.Fd()) {
			opt.KeyRest = f.keyRest
		}
		if rounds != nil {
			opt.Rounds = rounds(*s.Walk.Plan())
		}
		return s, plain.Walk(s, os.Stdin, os.Stdout, opt)
	}
	theme, err := themeOf(f.theme, f.ascii, can)
	if err != nil {
		return nil, err
	}
	return tui.Start(load, tui.Options{Theme: theme, KeyRest: f.keyRest, Now: time.Now, Rounds: rounds})
}

// session resumes a card, or the open card of a job, or begins a new one; the
// notice is to be shown first.
func session(path string, f walkFlags) (s *card.Session, notice string, err error) {
	if card.IsCard(path) {
		s, err := resume(path, f)
		return s, "", err
	}
	j, err := f.units.job(path)
	if err != nil {
		return nil, "", err
	}
	dir := f.cards
	if dir == "" {
		dir = filepath.Dir(path)
	}
	open, closed, err := cardsOf(dir, j.About.Tag)
	if err != nil {
		return nil, "", err
	}
	switch len(open) {
	case 0:
		if last := lastOf(closed); last != nil {
			if err := goneOn(*last); err != nil {
				return nil, "", err
			}
		}
		before, notice := follow(closed)
		s, err := begin(j, joint.DateOf(time.Now()), dir, f.copy, before)
		return s, notice, err
	case 1:
		if err := sameJob(j, open[0]); err != nil {
			return nil, "", err
		}
		s, err := resume(open[0].Path, f)
		return s, "", err
	}
	for _, c := range open {
		if err := goneOn(c); err != nil {
			return nil, "", err
		}
	}
	var lines []string
	for _, c := range open {
		lines = append(lines, "  evenload walk "+visible.Text(c.Path))
	}
	err = usageError{fmt.Errorf("%s has %d open cards: name the one to go on with, as above", j.About.Tag, len(open))}
	return nil, "", listedError{lines, err}
}

// resume goes on with a card, and never with one of practice: its joint was
// simulated, and nothing is simulated any more.
func resume(path string, f walkFlags) (*card.Session, error) {
	if c, err := card.Read(path); err == nil {
		if isPractice(c) {
			return nil, usageError{fmt.Errorf("%s is of a practice, which is begun anew: evenload practice --help shows how", path)}
		}
		if err := goneOn(c); err != nil {
			return nil, err
		}
	}
	return card.Resume(path, f.copy, unit.System(f.units), time.Now())
}

// isPractice says that no joint was tightened, whatever the file is called.
func isPractice(c card.Card) bool { return c.Opened().Practice || card.IsPractice(c.Path) }

// sameJob says whether a card was begun with the job as it is now, its tool
// files and defaults too. A card keeps its own plan, so that another one must
// not be taken for it.
func sameJob(j job.Job, c card.Card) error {
	o := c.Opened()
	if o.JobFile == filepath.Base(j.Path) && o.JobSHA256 == j.SHA256 && slices.Equal(o.Inputs, j.Inputs) {
		return nil
	}
	return fmt.Errorf("%s has an open card, begun with %s as it was then, and the job is another now: "+
		"go on by the old plan with evenload walk %s, or ask the foreman, who closes it or moves it away", j.About.Tag, o.JobFile, c.Path)
}

// cardsOf lists the cards of a joint, those that are closed apart. A card that
// cannot be read is an error: the work may be on it.
func cardsOf(dir, tag string) (open, closed []card.Card, err error) {
	all, err := card.Find(dir)
	if err != nil {
		return nil, nil, err
	}
	for _, path := range all {
		c, err := card.Read(path)
		if isPractice(c) {
			continue
		}
		of := c.Opened().Plan.About.Tag
		if len(c.Entries) == 0 && strings.HasPrefix(filepath.Base(path), tag+".") {
			of = tag
		}
		switch {
		case of != tag || errors.Is(err, card.ErrNothingRecorded):
			continue
		case err != nil:
			return nil, nil, err
		}
		if c.IsClosed() {
			closed = append(closed, c)
		} else {
			open = append(open, c)
		}
	}
	return open, closed, nil
}

// begin starts a new card for a job as it is on a day, refusing one with errors.
func begin(j job.Job, on joint.Date, dir, copies string, before *sequence.Follows) (*card.Session, error) {
	o, err := openedWith(j, on, dir)
	if err != nil {
		return nil, err
	}
	if o.Follows = before; before != nil {
		o.Plan.AfterLeak(before.Leaked)
	}
	return card.Begin(dir, copies, o)
}

// openedWith is what the first line of a card of a job says.
func openedWith(j job.Job, on joint.Date, dir string) (sequence.CardOpened, error) {
	p, findings := j.Plan(on)
	if joint.Failed(findings) {
		grave := slices.DeleteFunc(findings, func(f joint.Finding) bool { return f.Severity != joint.Error })
		return sequence.CardOpened{}, listedError{located(j, grave), errInput}
	}
	if !isFolder(dir) {
		return sequence.CardOpened{}, errors.New("the cards cannot be kept in " + dir + ": it is no folder")
	}
	_, offset := time.Now().Zone()
	return sequence.CardOpened{Format: 1, Program: "evenload " + version, OffsetMinutes: offset / 60,
		JobFile: filepath.Base(j.Path), JobSHA256: j.SHA256, Inputs: j.Inputs, Plan: p}, nil
}

// located says what was found of a job, each with its place.
func located(j job.Job, findings []joint.Finding) []string {
	var lines []string
	for _, f := range findings {
		lines = append(lines, report.Located(j, f).String())
	}
	return lines
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}
