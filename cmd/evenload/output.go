package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
)

// output is -o with --force.
type output struct {
	path  string
	force bool
}

// addTo gives a command the flags.
func (o *output) addTo(c *cobra.Command, what string) {
	c.Flags().StringVarP(&o.path, "output", "o", "", what)
	c.Flags().BoolVar(&o.force, "force", false, "write over a file that is there")
}

// write writes a file whole or not at all: to another name first. A card or a job is
// never written over, since no such ending can be asked for, nor anything else that is
// there, but by force: it may be a scan that somebody signed.
func (o output) write(write func(io.Writer) error) (err error) {
	path := o.path
	switch info, e := os.Stat(path); {
	case e == nil && !info.Mode().IsRegular():
		return usageError{fmt.Errorf("-o %s is no regular file", path)}
	case e == nil && !o.force:
		return usageError{fmt.Errorf("-o %s is there already: name another file, or write over it with --force", path)}
	}
	if !isFolder(filepath.Dir(path)) {
		return usageError{fmt.Errorf("-o %s: there is no folder %s, make it first", path, filepath.Dir(path))}
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".evenload-*")
	if err != nil {
		return fmt.Errorf("%s is not written: %w; its folder must let you write in it", path, err)
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
			err = fmt.Errorf("%s is not written: %w", path, err)
		}
	}()
	if err = write(f); err != nil {
		return err
	}
	if err = f.Chmod(0o644); err != nil {
		return err
	}
	if err = f.Sync(); err != nil { // the name must not come to stand for an empty file when the power fails
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// ending is that of a file to write, if it is one of those that can be.
func ending(path string, can ...string) (string, error) {
	if path == "" {
		return "", usageError{fmt.Errorf("-o is missing: name the file to write, one that ends in %s", strings.Join(can, " or "))}
	}
	got := strings.ToLower(filepath.Ext(path))
	for _, e := range can {
		if got == e {
			return e, nil
		}
	}
	return "", usageError{fmt.Errorf("-o %q: the file's name has to end in %s", path, strings.Join(can, " or "))}
}
