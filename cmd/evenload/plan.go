package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"evenload/data/job"
	"evenload/data/report"
	"evenload/data/visible"
	"evenload/joint"
)

// day reads --on, today when it is silent.
func day(on string) (joint.Date, error) {
	if on == "" {
		return joint.DateOf(time.Now()), nil
	}
	d, err := joint.ParseDate(on)
	if err != nil {
		return d, usageError{fmt.Errorf("--on: %w", err)}
	}
	return d, nil
}

func planCommand() *cobra.Command {
	var asJSON bool
	var on string
	var units units
	c := &cobra.Command{
		Use:     "plan JOB",
		Short:   "Print everything computed: loads, torque and pressure of each pass, order, findings",
		Example: "  evenload plan testdata/jobs/strainer-8in-300.toml",
		Args:    cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			d, err := day(on)
			if err != nil {
				return err
			}
			j, err := units.job(args[0])
			var faults job.Faults
			if asJSON && errors.As(err, &faults) {
				if err := visible.JSON(os.Stdout, report.FaultsJSON(args[0], faults)); err != nil {
					return err
				}
				return errInput
			}
			if err != nil {
				return err
			}
			p, findings := j.Plan(d)
			findings = report.WithEstimate(j, p, findings)
			if asJSON {
				err = visible.JSON(os.Stdout, report.PlanJSON(j, p, findings))
			} else {
				err = report.Plan(os.Stdout, j, p, findings)
			}
			if err == nil && joint.Failed(findings) {
				return errInput
			}
			return err
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "for other programs")
	c.Flags().StringVar(&on, "on", "", "the day of the work, such as 2036-06-02 (today)")
	units.addTo(c, "those of the thread; --json has its own")
	return c
}

func checkCommand() *cobra.Command {
	var asJSON bool
	var on string
	c := &cobra.Command{
		Use:     "check JOB...",
		Short:   "Print every finding of job files with file and line",
		Example: "  evenload check testdata/jobs/strainer-8in-300.toml",
		Args:    cobra.MinimumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			d, err := day(on)
			if err != nil {
				return err
			}
			return check(os.Stdout, os.Stderr, args, d, asJSON)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "for other programs")
	c.Flags().StringVar(&on, "on", "", "the day of the work, such as 2036-06-02 (today)")
	return c
}

func check(to, errs io.Writer, paths []string, on joint.Date, asJSON bool) error {
	out := bufio.NewWriter(to)
	all := []report.Finding{}
	var unread []error
	clean, failed := 0, 0
	report.CheckAll(paths, on, func(c report.Checked) {
		if c.Err != nil {
			unread = append(unread, c.Err)
		}
		all = append(all, c.Findings...)
		switch {
		case c.Err != nil:
		case len(c.Findings) == 0:
			clean++
		case slices.ContainsFunc(c.Findings, isError):
			failed++
		}
		for _, f := range c.Findings {
			if !asJSON {
				fmt.Fprintln(out, f)
			}
		}
	})
	switch {
	case asJSON:
	case len(paths) > 1:
		fmt.Fprintf(out, "%d files: %d with errors, %d not readable, nothing found in %d\n", len(paths), failed, len(unread), clean)
	case clean == 1:
		fmt.Fprintln(out, "nothing found")
	}
	if err := out.Flush(); err != nil {
		return err
	}
	if asJSON {
		if err := visible.JSON(to, all); err != nil {
			return err
		}
	}
	for i, err := range unread {
		if i == len(unread)-1 {
			return err
		}
		say(errs, err)
	}
	if slices.ContainsFunc(all, isError) {
		return errInput
	}
	return nil
}

func isError(f report.Finding) bool { return f.Severity == joint.Error }
