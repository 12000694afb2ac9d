package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/mattn/go-isatty"
	"github.com/spf13/cobra"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/tui"
	"evenload/tui/draw"
	"evenload/tui/plain"
	"evenload/tui/terminal"
)

// walkFlags are those of the walk.
type walkFlags struct {
	plain   bool
	ascii   bool
	theme   string
	units   string
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
	flags.StringVar(&f.units, "units", "", "si or us; a gauge keeps its own unit (those of the thread)")
	flags.StringVar(&f.cards, "cards", "", "folder of the cards (that of the job file)")
	flags.StringVar(&f.copy, "copy", "", "folder for a second copy of the card")
	flags.DurationVar(&f.keyRest, "key-rest", 1200*time.Millisecond, "a bolt counts only after this long without a key")
	return c
}

func walk(path string, f walkFlags) error {
	if f.units != "" && f.units != string(unit.SI) && f.units != string(unit.US) {
		return usageError{fmt.Errorf("--units is %q, it can be si or us", f.units)}
	}
	s, err := session(path, f)
	if err != nil {
		return err
	}
	defer s.Close()
	return show(s, f)
}

// show runs the walk on the terminal, or as lines where there is none.
func show(s *card.Session, f walkFlags) error {
	can := terminal.Detect(os.Getenv, isatty.IsTerminal(os.Stdin.Fd()) && isatty.IsTerminal(os.Stdout.Fd()))
	if f.plain || can.Lines {
		return plain.Walk(s, os.Stdin, os.Stdout, unit.System(f.units), time.Now)
	}
	if f.theme == "" {
		f.theme = "dark"
		if !can.Colours {
			f.theme = "mono"
		}
	}
	theme, err := draw.NewTheme(f.theme, f.ascii || !can.UTF8, can.Styles)
	if err != nil {
		return usageError{err}
	}
	return tui.Walk(s, tui.Options{Theme: theme, System: unit.System(f.units), KeyRest: f.keyRest, Now: time.Now})
}

// session resumes a card, or the open card of a job, or begins a new one.
func session(path string, f walkFlags) (*card.Session, error) {
	if card.IsCard(path) {
		return card.Resume(path, f.copy, time.Now())
	}
	j, err := job.Load(path)
	if err != nil {
		return nil, err
	}
	dir := f.cards
	if dir == "" {
		dir = filepath.Dir(path)
	}
	open, err := openCards(dir, j.About.Tag)
	if err != nil {
		return nil, err
	}
	switch len(open) {
	case 0:
		return begin(j, dir, f.copy, false)
	case 1:
		return card.Resume(open[0], f.copy, time.Now())
	}
	for _, c := range open {
		fmt.Fprintln(os.Stderr, "  evenload walk", c)
	}
	return nil, usageError{fmt.Errorf("%s has %d open cards: name the one to go on with, as above", j.About.Tag, len(open))}
}

// openCards lists the cards of a joint that are not closed.
func openCards(dir, tag string) ([]string, error) {
	all, err := card.Find(dir)
	if err != nil {
		return nil, err
	}
	var open []string
	for _, path := range all {
		if card.IsPractice(path) {
			continue
		}
		c, err := card.Read(path)
		if len(c.Entries) == 0 {
			continue
		}
		if c.Opened().Plan.About.Tag != tag {
			continue
		}
		if err != nil {
			return nil, err
		}
		if _, closed := c.Entries[len(c.Entries)-1].Event.Data.(sequence.CardClosed); !closed {
			open = append(open, path)
		}
	}
	return open, nil
}

// begin starts a new card for a job, refusing one with errors.
func begin(j job.Job, dir, copies string, practice bool) (*card.Session, error) {
	now := time.Now()
	p, findings := j.Plan(joint.DateOf(now))
	if joint.Failed(findings) {
		for _, f := range findings {
			if f.Severity == joint.Error {
				fmt.Fprintln(os.Stderr, located(j, f))
			}
		}
		return nil, errInput
	}
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return nil, errors.New("the cards cannot be kept in " + dir + ": it is no folder")
	}
	_, offset := now.Zone()
	return card.Begin(dir, copies, sequence.CardOpened{Format: 1, Program: "evenload " + version, Practice: practice, OffsetMinutes: offset / 60,
		JobFile: filepath.Base(j.Path), JobSHA256: j.SHA256, Inputs: j.Inputs, Plan: p})
}
