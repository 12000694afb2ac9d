package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// toFile writes a file whole or not at all: to another name first. A card or a
// job is never written over, since no such ending can be asked for.
func toFile(path string, write func(io.Writer) error) (err error) {
	if info, e := os.Stat(path); e == nil && !info.Mode().IsRegular() {
		return usageError{fmt.Errorf("-o %s is no regular file", path)}
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
