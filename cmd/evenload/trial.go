package main

import (
	"github.com/spf13/cobra"

	"evenload/data/job"
	"evenload/data/report"
)

func trialCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "trial FILE",
		Short: "Print the nut factor and its scatter from readings on the site's own bolts",
		Long: `Print the nut factor of each reading in a trial file, their spread and outliers,
and a [friction] block for a job.

FILE is TOML: format, thread, lubricant and readings, each with torque and load,
or with torque and stretch (then grip and grade too). At least three readings,
better ten.

Torque is not load. The site's procedure decides. Readings hold for these bolts
with this lubricant only.`,
		Example: "  evenload trial testdata/trials/strainer-bolts.toml",
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			tr, err := job.LoadTrial(args[0])
			if err != nil {
				return err
			}
			return report.Trial(c.OutOrStdout(), tr)
		},
	}
}
