package main

import (
	"io"

	"github.com/spf13/cobra"

	"evenload/data/job"
	"evenload/data/paper"
	"evenload/data/report"
	"evenload/joint"
	"evenload/joint/unit"
)

func chartCommand() *cobra.Command {
	var on string
	var to output
	var units units
	c := &cobra.Command{
		Use:   "chart JOB|TOOL",
		Short: "Print the chart of each tool: a plot and a table for the pocket",
		Long: `Print the pressure-torque chart of each tool of a job, or of a tool's own file:
a plot in characters for a screen of 80x24, and the torque at each division of
the gauge inside chart and rating. Nothing is said beyond the chart's ends. -o writes a PDF.
Exit code 1 when a tool or a gauge is past its due date.`,
		Example: "  evenload chart testdata/jobs/tools/w-11.toml",
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			d, err := day(on)
			if err != nil {
				return err
			}
			tools, system, err := job.LoadTools(args[0])
			if err != nil {
				return err
			}
			if units != "" {
				system = unit.System(units)
			}
			var found []joint.Finding
			if to.path != "" {
				if _, err := ending(to.path, ".pdf"); err != nil {
					return err
				}
				err = to.write(func(out io.Writer) error {
					found, err = paper.Charts(out, tools, system, d)
					return err
				})
			} else {
				found, err = report.Charts(c.OutOrStdout(), tools, system, d)
			}
			if err != nil {
				return err
			}
			if joint.Failed(found) {
				return errInput
			}
			return nil
		},
	}
	to.addTo(c, "file to write, a .pdf")
	units.addTo(c, "those of the thread")
	c.Flags().StringVar(&on, "on", "", "the day of the work, such as 2036-06-02 (today)")
	return c
}
