package main

import "runtime/debug"

// version of the program, as the card keeps it.
const version = "0.1.0"

// commit is set by .ci/release, which leaves out what Go itself would stamp.
var commit string

// builtFrom is the commit that the program was built from, with "+changes" behind
// it where files differed from it; "unknown" where nobody told the build.
func builtFrom() string {
	if commit != "" {
		return commit
	}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	return stamped(info.Settings)
}

// stamped reads what Go writes into a program that is built in a repository.
func stamped(settings []debug.BuildSetting) string {
	revision, changed := "unknown", ""
	for _, s := range settings {
		switch {
		case s.Key == "vcs.revision":
			revision = s.Value[:min(12, len(s.Value))]
		case s.Key == "vcs.modified" && s.Value == "true":
			changed = "+changes"
		}
	}
	return revision + changed
}
