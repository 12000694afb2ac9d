package main

import (
	"os/exec"
	"runtime/debug"
	"strings"
	"testing"
)

func TestVersionTellsTheCommit(t *testing.T) {
	out, err := exec.Command(program, "--version").Output()
	if err != nil || !strings.HasPrefix(string(out), "evenload version "+version+", commit ") {
		t.Errorf("%q, %v", out, err)
	}
	for want, settings := range map[string][]debug.BuildSetting{
		"unknown":              nil,
		"0123456789ab":         {{Key: "vcs.revision", Value: "0123456789abcdef0123"}, {Key: "vcs.modified", Value: "false"}},
		"0123456789ab+changes": {{Key: "vcs.modified", Value: "true"}, {Key: "vcs.revision", Value: "0123456789abcdef0123"}},
	} {
		if got := stamped(settings); got != want {
			t.Errorf("%v: %q, want %q", settings, got, want)
		}
	}
}
