package main

import (
	"os"

	"github.com/spf13/cobra"

	"evenload/data/licences"
)

func licencesCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "licences",
		Short: "Print the licences of all that is linked into the program",
		Args:  cobra.NoArgs,
		RunE:  func(*cobra.Command, []string) error { return licences.Print(os.Stdout) },
	}
}
