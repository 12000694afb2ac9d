package main

import (
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"evenload/data/card"
	"evenload/data/report"
)

func recordCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "record CARD",
		Short:   "Print what was done, from a card",
		Example: "  evenload record DH-112-F03.20361002-k7w2hd.card.jsonl",
		Args:    cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			c, err := card.Read(args[0])
			if err != nil {
				return err
			}
			return report.Record(os.Stdout, c)
		},
	}
}

func verifyCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "verify CARD...",
		Short:   "Say whether cards are whole and unchanged",
		Example: "  evenload verify DH-112-F03.20361002-k7w2hd.card.jsonl",
		Args:    cobra.MinimumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			failed := false
			for _, path := range args {
				text, ok := report.Verify(path)
				fmt.Println(text)
				failed = failed || !ok
			}
			if failed {
				return errInput
			}
			return nil
		},
	}
}
