package main

import (
	"errors"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"evenload/data/job"
	"evenload/data/report"
	"evenload/data/visible"
	"evenload/joint/unit"
)

func compareCommand() *cobra.Command {
	var asJSON bool
	var moves string
	var units units
	c := &cobra.Command{
		Use:   "compare JOB",
		Short: "Estimate what each pattern and number of passes leaves in the bolts",
		Long: `Estimate what each pattern and number of passes leaves in the bolts, and how many
check rounds it takes. An elastic model of flanges, gasket and bolts, checked
against finite elements only: never a measurement.`,
		Example: "  evenload compare testdata/jobs/strainer-8in-300.toml",
		Args:    cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			share, err := movesShare(moves)
			if err != nil {
				return err
			}
			made, err := comparison(args[0], units, share)
			var faults job.Faults
			switch {
			case asJSON && errors.As(err, &faults):
				if err := visible.JSON(os.Stdout, report.CompareFaultsJSON(args[0], faults)); err != nil {
					return err
				}
				return errInput
			case err != nil:
				return err
			case asJSON:
				return visible.JSON(os.Stdout, report.CompareJSON(made))
			}
			return report.Compare(os.Stdout, made)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "for other programs")
	units.addTo(c, "those of the thread; --json has its own")
	c.Flags().StringVar(&moves, "moves", report.Moves.Text(), "a nut has moved when its bolt gains more than this share of the target")
	return c
}

func comparison(path string, in units, moves unit.Share) (report.Comparison, error) {
	j, err := in.job(path)
	if err != nil {
		return report.Comparison{}, err
	}
	return report.NewComparison(j, moves)
}

// movesShare reads --moves.
func movesShare(text string) (unit.Share, error) {
	s, err := unit.ParseShare(text)
	if err == nil && !(s >= 0.001 && s <= 0.5) {
		err = fmt.Errorf("%q, 0.1 %% to 50 %% can be compared, 5 %% is usual", text)
	}
	if err != nil {
		return 0, usageError{fmt.Errorf("--moves: %w", err)}
	}
	return s, nil
}
