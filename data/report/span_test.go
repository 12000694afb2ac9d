package report

import (
	"testing"
	"time"

	"evenload/sequence"
)

// TestSpan: a rest of half an hour is not one of three.
func TestSpan(t *testing.T) {
	for d, want := range map[time.Duration]string{
		4 * time.Hour: "4 h", 30 * time.Minute: "30 min", 90 * time.Minute: "1 h 30 min", 10 * time.Hour: "10 h",
		10*time.Hour + 10*time.Minute: "10 h 10 min", 20 * time.Second: "20 s", 15 * time.Minute: "15 min", 0: "none",
		time.Hour + 30*time.Second: "1 h 30 s",
	} {
		if got := SpanText(sequence.Span(d)); got != want {
			t.Errorf("%v prints as %q, want %q", d, got, want)
		}
	}
}
