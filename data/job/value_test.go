package job

import (
	"testing"
	"time"
)

func TestParseSpan(t *testing.T) {
	for text, want := range map[string]time.Duration{
		"4 h": 4 * time.Hour, "0 h": 0, "0.5 h": 30 * time.Minute, "1.5 h": 90 * time.Minute, "0.1 h": 6 * time.Minute, "1 h 30 min": 90 * time.Minute,
		"90min": 90 * time.Minute, "0.25 min": 15 * time.Second, " 2 h ": 2 * time.Hour,
	} {
		if got, err := parseSpan(text); err != nil || got != want {
			t.Errorf("%q: %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", " ", "4", "h", ".5 h", "1. h", "1.5.5 h", "-1 h", "1e3 h", "0,5 h", "4 hours", "1 h 30", "12345 h"} {
		if got, err := parseSpan(text); err == nil {
			t.Errorf("%q is taken as %v", text, got)
		}
	}
}
