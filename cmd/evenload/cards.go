package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"evenload/data/card"
	"evenload/data/paper"
	"evenload/data/report"
	"evenload/data/visible"
	"evenload/joint/unit"
)

func recordCommand() *cobra.Command {
	var to output
	var decimal string
	var schema bool
	var units units
	c := &cobra.Command{
		Use:   "record CARD",
		Short: "Print what was done, from a card: as text, PDF, CSV or JSON",
		Long: `Print what was done, from a card: as text, or with -o as PDF for signature and
archive, as CSV with a row a bolt and pass, or as JSON for other programs.
A card that is not closed is marked DRAFT, one that does not verify DAMAGED
with exit code 1, and so is FORK one that another file in its folder went on
with in another way. The same card alone gives the same bytes.`,
		Example: "  evenload record DH-112-F03.20361002-k7w2hd.card.jsonl -o DH-112-F03.pdf",
		Args: func(c *cobra.Command, args []string) error {
			if schema {
				return cobra.NoArgs(c, args)
			}
			return cobra.ExactArgs(1)(c, args)
		},
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case decimal != "point" && decimal != "comma":
				return usageError{fmt.Errorf("--decimal is %q, it can be point or comma", decimal)}
			case schema:
				_, err := c.OutOrStdout().Write(report.RecordSchema)
				return err
			case to.path != "":
				return recordTo(args[0], to, unit.System(units), decimal == "comma")
			}
			done, err := card.Read(args[0])
			if err != nil {
				return err
			}
			return report.Record(os.Stdout, done.InUnits(unit.System(units)))
		},
	}
	to.addTo(c, "file to write, by its ending: .pdf, .csv, .json, .txt")
	c.Flags().StringVar(&decimal, "decimal", "point", "decimal sign in the CSV, point or comma (then ; between cells)")
	units.addTo(c, "those of the card; the .json has its own")
	c.Flags().BoolVar(&schema, "schema", false, "print the JSON Schema of the .json, no card needed")
	return c
}

// recordTo writes a card to a file by its ending. A damaged card is written as
// far as it goes, marked, and is an error, and so is one that has a fork beside it.
func recordTo(path string, to output, units unit.System, comma bool) error {
	kind, err := ending(to.path, ".pdf", ".csv", ".json", ".txt")
	if err != nil {
		return err
	}
	c, err := card.Read(path)
	if kind != ".json" {
		c = c.InUnits(units)
	}
	if kind == ".txt" {
		if err != nil {
			return err
		}
		return recordAsText(c, to)
	}
	var damage *card.DamageError
	if err != nil && !errors.As(err, &damage) {
		return err
	}
	done, err := report.DoneBeside(c, err)
	if err != nil {
		return err
	}
	err = to.write(func(out io.Writer) error {
		switch kind {
		case ".csv":
			return report.CSV(out, done, comma)
		case ".json":
			return report.RecordJSON(out, done)
		}
		return paper.Record(out, done)
	})
	if err == nil && done.State == report.Damaged {
		return marked(to.path, errors.New("DAMAGED: "+done.Why))
	}
	if err == nil && len(done.Forks) > 0 {
		return marked(to.path, done.Forked())
	}
	return err
}

func recordAsText(c card.Card, to output) error {
	var fork report.ForkError
	err := to.write(func(out io.Writer) error {
		if err := report.Record(out, c); !errors.As(err, &fork) {
			return err
		}
		return nil
	})
	if err == nil && len(fork.Forks) > 0 {
		return marked(to.path, fork)
	}
	return err
}

// marked says that a record was written, and what stands on it.
func marked(to string, why error) error { return fmt.Errorf("%s is written, marked %w", to, why) }

func verifyCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "verify CARD...",
		Short: "Say whether cards are whole and unchanged",
		Long: `Say of each card: WHOLE, TORN (the last line is not whole; walk cuts it off),
DAMAGED with the line, LINK (the card that it follows lies beside it and is not
as it was) or NO CARD; of several whether two are one card that was gone on with
twice (FORK); also whether the job file beside it has changed since,
and where the clock went back.

Exit code 0: every card is whole. 1: one is not, is a fork, or could not be read. A changed
job and a clock that went back leave it 0: the card keeps its own plan.`,
		Example: "  evenload verify DH-112-F03.20361002-k7w2hd.card.jsonl\n  evenload verify --json *.card.jsonl",
		Args:    cobra.MinimumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			all := report.VerifyJSON{Format: 1}
			ok := true
			for _, v := range report.VerifyCards(args) {
				ok = ok && v.OK()
				if asJSON {
					all.Cards = append(all.Cards, v)
				} else {
					fmt.Fprintln(c.OutOrStdout(), v.Text())
				}
			}
			if asJSON {
				if err := visible.JSON(c.OutOrStdout(), all); err != nil {
					return err
				}
			}
			if !ok {
				return errInput
			}
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "for other programs")
	return c
}
