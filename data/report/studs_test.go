package report

import (
	"slices"
	"testing"

	"evenload/data/card"
	"evenload/joint/unit"
	"evenload/sequence"
)

// TestCSVOfAStudBeyondYield: its load is that of an elastic stud, which is no measure.
func TestCSVOfAStudBeyondYield(t *testing.T) {
	d := AsDone{Plan: &sequence.Plan{Stretch: &sequence.Stretching{Low: 40e3, High: 60e3, Yield: 80e3}}}
	for load, want := range map[unit.Force][]string{50e3: {"yes", "no"}, 70e3: {"no", "no"}, 81e3: {"no", "yes"}} {
		s := StudTurn{StretchMeasured: sequence.StretchMeasured{Bolt: 3, Stretch: 0.2e-3, Load: load, Within: 2e3}}
		row := studRow(d, s, spelling{})
		if got := row[slices.Index(columns, "in_band"):][:2]; !slices.Equal(got, want) {
			t.Errorf("%v N: %q, want %q", load, got, want)
		}
	}
}

// TestStudsThatAreReplaced: the rounds before were made and count, and every stud is
// measured once more.
func TestStudsThatAreReplaced(t *testing.T) {
	all, _ := wandered(t)
	c := begin(t, all[0])
	c.until(func(s sequence.Step) bool { _, ok := s.(sequence.Stretch); return ok })
	for {
		s, ok := c.s.Walk.Next(c.at).(sequence.Stretch)
		if !ok {
			break
		}
		of := s.Expected
		if s.Bolt == 2 {
			of *= 2
		}
		c.do(c.s.Walk.StretchOf(s.Bolt, of))
	}
	r, ok := c.s.Walk.Next(c.at).(sequence.Release)
	if !ok || len(r.ToReplace(c.s.Walk.Plan())) != 1 {
		t.Fatalf("next is %+v", c.s.Walk.Next(c.at))
	}
	c.do(sequence.Released{Of: r.Of, Replace: r.ToReplace(c.s.Walk.Plan()), Named: engineer})
	done, err := card.Read(c.close())
	if err != nil {
		t.Fatal(err)
	}
	d, err := DoneOf(done, nil)
	if err != nil {
		t.Fatal(err)
	}
	_, rounds := d.Columns()
	for _, c := range rounds {
		if c.Rejected != "" {
			t.Errorf("%s: %s", d.Text(c), c.Rejected)
		}
	}
	for _, s := range d.Studs {
		if s.Result != StudAgain {
			t.Errorf("bolt %d: %s", s.Bolt, s.Result)
		}
	}
	if len(d.Studs) != d.Plan.Bolts {
		t.Errorf("%d readings", len(d.Studs))
	}
}
