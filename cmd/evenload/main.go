// Command evenload walks a technician through the even tightening of a bolted
// flange joint with a pneumatic torque wrench.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	_ "evenload/tui/terminal" // first: it keeps bubbletea from querying the terminal

	"github.com/spf13/cobra"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/data/visible"
)

// Exit codes.
const (
	exitDone  = 0
	exitInput = 1 // the input has errors, or a card is damaged
	exitUsage = 2
	exitDisk  = 3 // the disk or another instance is in the way
)

// errInput has been said already, stands below a listedError, or is about what was read.
var errInput = errors.New("the input has errors")

func main() { os.Exit(run()) }

func run() int {
	err := command().Execute()
	var listed listedError
	if errors.As(err, &listed) {
		for _, line := range listed.lines {
			fmt.Fprintln(os.Stderr, line)
		}
	}
	if err != nil && !errors.Is(err, errInput) {
		say(os.Stderr, err)
	}
	return code(err)
}

// say prints an error: one line for each fault, none with what could move the
// terminal. Names on a card and file names stand in errors too.
func say(out io.Writer, err error) {
	for i, line := range strings.Split(err.Error(), "\n") {
		if i == 0 {
			line = "evenload: " + line
		}
		fmt.Fprintln(out, visible.Text(line))
	}
}

// code gives the exit code of an error.
func code(err error) int {
	var faults job.Faults
	var damage *card.DamageError
	var usage usageError
	var path *os.PathError
	var link *os.LinkError
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &usage):
		return exitUsage
	case errors.Is(err, errInput), errors.As(err, &faults), errors.As(err, &damage), errors.Is(err, card.ErrNothingRecorded), errors.Is(err, os.ErrNotExist):
		return exitInput
	case errors.Is(err, card.ErrBusy), errors.Is(err, card.ErrBroken), errors.As(err, &path), errors.As(err, &link):
		return exitDisk
	}
	return exitInput
}

// usageError is a wrong command line.
type usageError struct{ error }

// listedError is an error with lines to print before it, already clean. A screen may be
// up where it comes about, so that they are kept until the terminal is given back.
type listedError struct {
	lines []string
	error
}

func (e listedError) Unwrap() error { return e.error }

func command() *cobra.Command {
	root := &cobra.Command{
		Use:   "evenload",
		Short: "Bring a bolted flange joint to an even load with a pneumatic torque wrench",
		Long: `evenload reads a job file, computes the order, torque and pressure of every pass,
and walks the operator through every bolt, behind a pre-start gate. What was done
is kept on a card.

The site's procedure and permit, local rules and the responsible engineer's
approval come first. Torque is not load: bolt loads are estimates.`,
		Example:       "  evenload walk testdata/jobs/strainer-8in-300.toml",
		Args:          cobra.NoArgs,
		SilenceErrors: true,
		SilenceUsage:  true,
		Version:       version + ", commit " + builtFrom(),
		RunE:          func(*cobra.Command, []string) error { return list(".") },
	}
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usageError{err} })
	root.AddCommand(walkCommand(), planCommand(), checkCommand(), sheetCommand(), recordCommand(), verifyCommand(), boardCommand(), draftCommand(), showCommand(), trialCommand(), chartCommand(), compareCommand(), practiceCommand(), licencesCommand())
	for _, c := range append(root.Commands(), root) {
		if args := c.Args; args != nil {
			c.Args = func(cmd *cobra.Command, a []string) error {
				if err := args(cmd, a); err != nil {
					return usageError{fmt.Errorf("%w; %s --help shows how", err, cmd.CommandPath())}
				}
				return nil
			}
		}
	}
	return root
}
