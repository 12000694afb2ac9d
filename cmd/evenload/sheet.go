package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"evenload/data/paper"
	"evenload/joint"
)

func sheetCommand() *cobra.Command {
	var to output
	var size, on string
	var units units
	c := &cobra.Command{
		Use:   "sheet JOB -o FILE.pdf",
		Short: "Print the step sheet of a job, to tick by hand, as PDF",
		Long: `Print the step sheet of a job as PDF: the fallback where a laptop may not go.
It has the pre-start questions, the joint with its numbers, pressures and order
of every pass to tick, gaps, check rounds and lines for signatures. A job with
errors has no sheet.`,
		Example: "  evenload sheet testdata/jobs/strainer-8in-300.toml -o strainer.pdf",
		Args:    cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			sizes := map[string]paper.Size{"a4": paper.A4, "letter": paper.Letter}
			if sizes[size] == "" {
				return usageError{fmt.Errorf("--paper is %q, it can be a4 or letter", size)}
			}
			if _, err := ending(to.path, ".pdf"); err != nil {
				return err
			}
			d, err := day(on)
			if err != nil {
				return err
			}
			j, err := units.job(args[0])
			if err != nil {
				return err
			}
			p, findings := j.Plan(d)
			if joint.Failed(findings) {
				return listedError{located(j, findings), fmt.Errorf("%s: no step sheet: mend the errors first", args[0])}
			}
			return to.write(func(out io.Writer) error { return paper.Sheet(out, j, p, findings, d, sizes[size]) })
		},
	}
	to.addTo(c, "file to write, a .pdf")
	c.Flags().StringVar(&size, "paper", "a4", "a4 or letter")
	c.Flags().StringVar(&on, "on", "", "the day of the work, such as 2036-06-02 (today)")
	units.addTo(c, "those of the thread")
	return c
}
