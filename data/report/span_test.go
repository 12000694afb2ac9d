package report

import (
	"testing"
	"time"

	"evenload/sequence"
)

// TestSpan: a rest of half an hour is not one of three.
func TestSpan(t *testing.T) {
	for d, want := range map[time.Duration]string{
		4 * time.Hour: "4h", 30 * time.Minute: "30m", 90 * time.Minute: "1h30m", 10 * time.Hour: "10h",
		10*time.Hour + 10*time.Minute: "10h10m", 20 * time.Second: "20s", 15 * time.Minute: "15m", 0: "none",
		time.Hour + 30*time.Second: "1h0m30s",
	} {
		if got := SpanText(sequence.Span(d)); got != want {
			t.Errorf("%v prints as %q, want %q", d, got, want)
		}
	}
}
