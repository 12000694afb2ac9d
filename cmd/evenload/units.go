package main

import (
	"errors"

	"github.com/spf13/cobra"

	"evenload/data/job"
	"evenload/joint/unit"
)

// units is --units: empty where it is silent, then those of the job or the card.
type units unit.System

// addTo gives a command the flag.
func (u *units) addTo(c *cobra.Command, silent string) {
	c.Flags().Var(u, "units", "si or us; a gauge keeps its own unit ("+silent+")")
}

// Set, String and Type make it a flag.
func (u *units) Set(text string) error {
	if s := unit.System(text); s != unit.SI && s != unit.US {
		return errors.New("it can be si or us")
	}
	*u = units(text)
	return nil
}

func (u *units) String() string { return string(*u) }

// Type is what help calls its value.
func (u *units) Type() string { return "string" }

// job reads a job, to be walked and printed in these units.
func (u units) job(path string) (job.Job, error) {
	j, err := job.Load(path)
	return u.in(j), err
}

// in is a job in these units.
func (u units) in(j job.Job) job.Job {
	if u != "" {
		j.System = unit.System(u)
	}
	return j
}
