//go:build !windows

package main

import (
	"fmt"
	"testing"
	"time"

	"evenload/joint/unit"
	"evenload/sequence"
)

// TestStudsAreBroughtUp types the lengths of studs, of which one is low: measured
// again it still is, so that check rounds follow and every stud is measured once
// more.
func TestStudsAreBroughtUp(t *testing.T) {
	t.Parallel()
	e := event{at: stepIs[sequence.Stretch], job: with("procedure", "elongation = true")}
	_, path := e.prepare(t)
	w := &walker{open(t, "walk", "--key-rest", "1ms", "--ascii", path), path, "Ann"}
	w.wait("Who works")
	walk := w.on(e.at)
	expected := float64(walk.Plan().Stretch.Expected / unit.Millimetre)
	stud := func(b sequence.Bolt, of float64) {
		t.Helper()
		walk, n := w.now()
		if s, ok := walk.Next(time.Now()).(sequence.Stretch); !ok || s.Bolt != b {
			t.Fatalf("bolt %d is to be measured, and next is %+v", b, walk.Next(time.Now()))
		}
		w.types([]string{fmt.Sprintf("%.3f-182.41\r", 182.41+of*expected)}, n)
	}
	again := func(key string) {
		t.Helper()
		w.wait("LOW: bolt 3")
		_, n := w.now()
		w.types([]string{key}, n)
	}
	stud(1, 1)
	stud(2, 1)
	stud(3, 0.3)
	stud(4, 1)
	again("m")
	stud(3, 0.31)
	again("c")
	w.until(stepIs[sequence.Stretch])
	for b := sequence.Bolt(1); b <= 4; b++ {
		stud(b, 1.02)
	}
	if walk := w.follow(); !walk.IsClosed() || len(walk.Exceptions()) != 0 {
		t.Fatalf("closed %t with %q", walk.IsClosed(), walk.Exceptions())
	}
	w.send("q")
	if err := w.cmd.Wait(); err != nil {
		t.Errorf("the walk ended with %v", err)
	}
	grew := fmt.Sprintf("%.3f mm (%.3f mm less 182.410 mm)", 1.02*expected, 182.41+1.02*expected)
	has(t, "verify", said(t, "verify", path), "WHOLE")
	has(t, "the record", said(t, "record", path), "STUDS BY STRETCH stretch load give or take band", "OUTSIDE the band", "studs outside the band are measured again",
		"check rounds again, then every stud is measured again", "bolt 4 stretched "+grew, "AS DONE")
}
