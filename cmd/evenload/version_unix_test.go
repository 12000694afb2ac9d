//go:build !windows

package main

import (
	"os/exec"
	"strings"
	"testing"
)

func TestVersionTellsTheCommit(t *testing.T) {
	out, err := exec.Command(program, "--version").Output()
	if err != nil || !strings.HasPrefix(string(out), "evenload version "+version+", commit ") {
		t.Errorf("%q, %v", out, err)
	}
}
