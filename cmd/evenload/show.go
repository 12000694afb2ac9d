package main

import (
	"os"
	"strings"

	"github.com/spf13/cobra"

	"evenload/data/reference"
	"evenload/data/report"
)

func showCommand() *cobra.Command {
	var kinds []string
	for _, k := range reference.Kinds() {
		kinds = append(kinds, k.Name)
	}
	return &cobra.Command{
		Use:       "show KIND [NAME]",
		Short:     "Print a reference table, or what a name stands for, with its source",
		Long:      "Print a reference table, or what a name stands for, with its source.\nKIND is " + strings.Join(kinds, ", ") + ".",
		Example:   "  evenload show flange \"8 in 300#\"",
		Args:      cobra.RangeArgs(1, 20),
		ValidArgs: kinds,
		RunE: func(_ *cobra.Command, args []string) error {
			return report.Show(os.Stdout, strings.ToLower(args[0]), strings.Join(args[1:], " "))
		},
	}
}
