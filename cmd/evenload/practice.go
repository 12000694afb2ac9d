package main

import (
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/data/report"
	"evenload/data/visible"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/interaction"
	"evenload/sequence/practice"
	"evenload/tui"
	"evenload/tui/plain"
)

// practiceFlags are those of a practice.
type practiceFlags struct {
	walkFlags
	level   int
	seed    uint64
	scatter bool
}

// practiceRest is shorter than at a joint: no tool is running.
const practiceRest = 400 * time.Millisecond

// anySeed is short enough to be typed again.
func anySeed() uint64 { return rand.Uint64() % 1_000_000 }

func practiceCommand() *cobra.Command {
	var f practiceFlags
	var levels []string
	for _, l := range practice.Levels {
		levels = append(levels, fmt.Sprintf("  %d  %-13s %s", l.Number, l.Name, l.Teaches))
	}
	c := &cobra.Command{
		Use:   "practice [JOB]",
		Short: "Practise the walk on a simulated joint, with a mark at the end",
		Long: `Practise the walk on a simulated joint: the same questions and screens, and beside
them what there is to see, what comes next, what the bolts of the model carry.
At the end stands a mark, and a log for a supervisor to sign. With a JOB its own
joint is simulated; else a level of the training loop:

` + strings.Join(levels, "\n") + `

Practice on a model, not your flange: nothing of it is about a real joint.`,
		Example: "  evenload practice --level 3\n  evenload practice --level 5 --scatter --seed 7",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			if !c.Flags().Changed("seed") {
				f.seed = anySeed()
			}
			if len(args) == 1 {
				if c.Flags().Changed("level") {
					return usageError{errors.New("--level is for the training loop: leave it out beside a job")}
				}
				return practiseJob(args[0], f)
			}
			return practise(f)
		},
	}
	flags := c.Flags()
	flags.IntVar(&f.level, "level", 3, "level of the training loop, 1 to 8")
	flags.Uint64Var(&f.seed, "seed", 0, "what goes wrong and what is drawn: the same number, the same practice (by chance)")
	flags.BoolVar(&f.scatter, "scatter", false, "draw friction and tool scatter: equal torque, unequal load")
	flags.BoolVar(&f.plain, "plain", false, "the same as lines, for screen readers and serial lines")
	flags.BoolVar(&f.ascii, "ascii", false, "plain ASCII only")
	flags.StringVar(&f.theme, "theme", "", "dark, light or mono (dark, mono without colours)")
	f.units.addTo(c, "those of the thread")
	flags.StringVar(&f.cards, "cards", "", "folder of the practice card and the log (here, or that of the job)")
	flags.DurationVar(&f.keyRest, "key-rest", practiceRest, "a bolt counts only after this long without a key")
	return c
}

// practise practises a level of the training loop.
func practise(f practiceFlags) error {
	l, ok := practice.LevelOf(f.level)
	if !ok {
		return usageError{fmt.Errorf("--level is %d, it can be 1 to %d", f.level, len(practice.Levels))}
	}
	jobs, err := job.Practice()
	if err != nil {
		return err
	}
	if f.cards == "" {
		f.cards = "."
	}
	return practiseOn(f.units.in(jobs[l.Joint]), l, f)
}

// practiseJob practises on a job of the site.
func practiseJob(path string, f practiceFlags) error {
	if card.IsCard(path) {
		return usageError{fmt.Errorf("%s is a card: name a job, or none for the training loop", path)}
	}
	j, err := f.units.job(path)
	if err != nil {
		return err
	}
	if _, err := j.Pair(); err != nil { // before anything is asked
		return fmt.Errorf("the joint of %s cannot be simulated: %w", path, err)
	}
	if f.cards == "" {
		f.cards = filepath.Dir(path)
	}
	return practiseOn(j, practice.OwnJob, f)
}

func practiseOn(j job.Job, l practice.Level, f practiceFlags) error {
	setup := practice.Setup{Level: l, Seed: f.seed, Scatter: f.scatter}
	if l.Bench() {
		return atBench(j, setup, f)
	}
	o, err := openedWith(j, practiceDay(j, l, time.Now()), f.cards)
	if err != nil {
		return err
	}
	o.Practice = true
	s, err := card.Begin(f.cards, "", o)
	if err != nil {
		return err
	}
	defer s.Close()
	began := time.Now()
	run := practice.New(setup, s.Walk.Plan())
	now := func() time.Time { return time.Now().Add(run.Ahead()) }
	model := func() (*interaction.Bolts, error) { return report.Ring(j) }
	rounds := func(p sequence.Plan) string { return report.RoundsWord(j, p) }
	can := here()
	if f.plain || can.Lines {
		err = plain.Walk(s, os.Stdin, os.Stdout, plain.Options{Now: now, Rounds: rounds(*s.Walk.Plan()), Practice: run, Model: model})
	} else {
		theme, themeErr := themeOf(f.theme, f.ascii, can)
		if themeErr != nil {
			return themeErr
		}
		err = tui.Walk(s, tui.Options{Theme: theme, KeyRest: f.keyRest, Now: now, Rounds: rounds, Practice: run, Model: model})
	}
	log := run.Log(s.Walk.IsClosed())
	log.Program = "evenload " + version
	log.Trainee, log.Supervisor = s.Walk.Operator(), s.Walk.Supervisor()
	log.Began, log.Ended = began.Truncate(time.Second), time.Now().Truncate(time.Second)
	path := s.Path()
	if path == "" { // nobody signed on: nothing was done
		return err
	}
	log.Card, log.Seal = filepath.Base(path), s.Seal()
	return errors.Join(err, writeLog(strings.TrimSuffix(path, ".jsonl"), log))
}

// practiceDay is the day by which papers are judged. Those of the training loop are
// invented and run out one day: they are as when its job was approved.
func practiceDay(j job.Job, l practice.Level, now time.Time) joint.Date {
	if l == practice.OwnJob {
		return joint.DateOf(now)
	}
	return j.About.ApprovedOn
}

// atBench practises on one or two bolts, without a walk and so without a card.
func atBench(j job.Job, setup practice.Setup, f practiceFlags) error {
	plan, findings := j.Plan(practiceDay(j, setup.Level, time.Now()))
	if joint.Failed(findings) {
		return listedError{located(j, findings), errInput}
	}
	if !isFolder(f.cards) { // before anything is asked
		return errors.New("the log cannot be kept in " + f.cards + ": it is no folder")
	}
	bench := practice.NewBench(setup, plan)
	model := func() ([]unit.Compliance, unit.Compliance, error) { return report.Closures(j) }
	began := time.Now()
	var trainee string
	var finished bool
	var err error
	can := here()
	if f.plain || can.Lines {
		trainee, finished, err = plain.Bench(bench, model, os.Stdin, os.Stdout)
	} else {
		theme, themeErr := themeOf(f.theme, f.ascii, can)
		if themeErr != nil {
			return themeErr
		}
		trainee, finished, err = tui.Bench(bench, model, tui.Options{Theme: theme})
	}
	if trainee == "" {
		return err
	}
	log := bench.Log(finished)
	log.Program = "evenload " + version
	log.Trainee = trainee
	log.Began, log.Ended = began.Truncate(time.Second), time.Now().Truncate(time.Second)
	name := fmt.Sprintf("PRACTICE-LEVEL-%d.%s.practice", setup.Level.Number, began.Format("20060102-150405"))
	return errors.Join(err, writeLog(filepath.Join(f.cards, name), log))
}

// writeLog writes the log as JSON and as text beside the practice card, never over
// another file. Where it cannot be written it is printed, so that it is not lost.
func writeLog(stem string, log practice.Log) error {
	if err := keepLog(stem, log); err != nil {
		return errors.Join(err, report.PracticeLog(os.Stdout, log))
	}
	state := fmt.Sprintf("PRACTICE, mark %d %%", log.Mark.Total)
	if !log.Finished {
		state = "PRACTICE, left before its end"
	}
	fmt.Printf("%s: the log for your supervisor is %s-log.txt (and .json)\n", state, visible.Text(stem))
	return nil
}

func keepLog(stem string, log practice.Log) error {
	for _, part := range []struct {
		end   string
		write func(io.Writer, practice.Log) error
	}{{"-log.json", report.PracticeJSON}, {"-log.txt", report.PracticeLog}} {
		name := stem + part.end
		file, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if err != nil {
			return fmt.Errorf("the practice log: %w", err)
		}
		if err = part.write(file, log); err == nil {
			err = file.Sync()
		}
		if err := errors.Join(err, file.Close()); err != nil {
			os.Remove(name)
			return fmt.Errorf("the practice log %s: %w", name, err)
		}
	}
	return nil
}
