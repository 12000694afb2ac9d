//go:build !windows

package main

import (
	"testing"
	"time"
)

// TestAlignmentIsMeasuredAgain types readings beyond the limits, measures again,
// and has what is still beyond released by name.
func TestAlignmentIsMeasuredAgain(t *testing.T) {
	t.Parallel()
	e := event{at: questionIs("9"), job: with("alignment", `gap = "6 mm"`)}
	_, path := e.prepare(t)
	w := &walker{open(t, "walk", "--key-rest", "1ms", "--ascii", path), path, "Ann"}
	w.wait("Who works")
	w.on(e.at)
	enters := func(keys ...string) {
		t.Helper()
		_, n := w.now()
		time.Sleep(300 * time.Millisecond) // a question has to be read
		w.types(keys, n)
	}
	enters("2.1\r", "3.2-2.2\r", "1\r", "4\r")
	w.wait("BEYOND")
	w.send("m")
	w.wait("Gap at rest")
	enters("1.7\r", "2.9-2.6\r", "1\r", "4\r")
	w.send("r")
	w.wait("Reason")
	enters("Eva\r", "engineer\r", "spool is short\r")
	w.wait("come together by hand")
	if walk := w.follow(); !walk.IsClosed() {
		t.Fatal("the card is not closed")
	}
	w.send("q")
	if err := w.cmd.Wait(); err != nil {
		t.Errorf("the walk ended with %v", err)
	}
	has(t, "verify", said(t, "verify", path), "WHOLE")
	has(t, "the record", said(t, "record", path),
		"alignment beyond its limits: Centre offset 2.1 mm, at most 1.5 mm: BEYOND; Gap difference 1 mm (3.2 mm less 2.2 mm), at most 0.8 mm: BEYOND; Hole offset 1 mm, at most 3 mm; Gap at rest 4 mm, at most 6 mm",
		"Centre offset 1.7 mm, at most 1.5 mm: BEYOND; Gap difference 0.3 mm (2.9 mm less 2.6 mm), at most 0.8 mm;",
		"released, the alignment beyond its limits, by Eva, engineer: spool is short",
		"yes: Do the flanges come together by hand")
}
