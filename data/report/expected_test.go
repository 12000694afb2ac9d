package report

import (
	"testing"
	"time"

	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// TestExpectedIsThatOfCompare: the walk expects the rounds that compare and the
// finding of plan say, and none where the model refuses the joint.
func TestExpectedIsThatOfCompare(t *testing.T) {
	for _, name := range []string{"strainer-8in-300", "pump-house-6in-150", "exchanger-cover-32", "filter-cover-10"} {
		j, err := job.Load("../../testdata/jobs/" + name + ".toml")
		if err != nil {
			t.Fatal(err)
		}
		plan, _ := j.Plan(joint.DateOf(time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC)))
		got := Expected(j, plan)
		c, err := NewComparison(j, Moves)
		if err != nil {
			if got.Known() {
				t.Errorf("%s: %v rounds are expected, and compare refuses: %v", name, got, err)
			}
			continue
		}
		low, high := untilStill(c.orders[0])
		if want := (sequence.Expected{Low: low, High: high, Looked: c.orders[0].Rounds + c.orders[0].Further}); got != want || !got.Known() {
			t.Errorf("%s: %v rounds are expected, compare says %v", name, got, want)
		}
	}
}

// TestExpectedFollowsTheCard: the passes are those of the card, not of a job that
// says others by now.
func TestExpectedFollowsTheCard(t *testing.T) {
	j, err := job.Load("../../testdata/jobs/strainer-8in-300.toml")
	if err != nil {
		t.Fatal(err)
	}
	plan, _ := j.Plan(joint.Date{})
	want := Expected(j, plan)
	j.Procedure.Passes = []unit.Share{1}
	if got := Expected(j, plan); got != want || !got.Known() {
		t.Errorf("expected %v, with another job %v", want, got)
	}
}
