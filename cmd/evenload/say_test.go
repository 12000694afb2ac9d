package main

import (
	"errors"
	"strings"
	"testing"
)

// TestErrorsAreVisible: each fault has its line, and a name cannot move the terminal.
func TestErrorsAreVisible(t *testing.T) {
	var out strings.Builder
	say(&out, errors.New("card A\x1b[2J\u202e.jsonl: torn\nsecond\rfault"))
	want := "evenload: card A\\u{1b}[2J\\u{202e}.jsonl: torn\nsecond\\u{d}fault\n"
	if out.String() != want {
		t.Errorf("%q, want %q", out.String(), want)
	}
}
