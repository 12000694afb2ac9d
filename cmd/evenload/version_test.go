package main

import (
	"runtime/debug"
	"testing"
)

func TestCommitOfABuild(t *testing.T) {
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
