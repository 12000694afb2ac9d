package report

import (
	"slices"
	"strings"
	"testing"

	"evenload/sequence"
)

// finished is a card whose studs were measured twice, readings taken back and
// check rounds made again between.
func finished(t *testing.T) AsDone {
	t.Helper()
	o := opened(t)
	o.Plan.Stretch = &sequence.Stretching{Give: 4e-9, Expected: 0.08e-3, Reading: 0.01e-3, Low: 15e3, High: 25e3}
	c := begin(t, o)
	stud := func(s sequence.Step) bool { _, ok := s.(sequence.Stretch); return ok }
	c.until(stud)
	w := c.s.Walk
	c.do(w.StretchOf(1, 0.08e-3), w.StretchOf(2, 0.03e-3), sequence.Undone{Bolt: 2}, w.StretchOf(2, 0.03e-3), w.StretchOf(3, 0.08e-3), w.StretchOf(4, 0.08e-3), sequence.StudsAgain{Rounds: true})
	c.until(stud)
	c.do(w.StretchOf(1, 0.08e-3), sequence.Undone{Bolt: 1})
	c.toTheEnd()
	return asDone(t, c.close())
}

// TestNothingIsHidden: what was taken back is what the walk took back, and no
// mark of a bolt stands in the column of another.
func TestNothingIsHidden(t *testing.T) {
	problems, _ := messy(t, nil)
	team, _ := messyTeam(t, nil)
	for name, d := range map[string]AsDone{"problems": asDone(t, problems.close()), "team": asDone(t, team.close()), "studs": finished(t)} {
		w, err := sequence.New(d.Plan)
		if err != nil {
			t.Fatal(err)
		}
		back := 0
		for i, e := range d.Events {
			if u, ok := e.Data.(sequence.Undone); ok && u.Question == "" && !w.MeasuresStuds() {
				back += max(1, len(u.Bolts))
			}
			if p, ok := e.Data.(sequence.ProblemFound); ok && p.What == sequence.Missed {
				back++ // it was not done
			}
			if i == 0 {
				continue
			}
			if w, err = w.Apply(sequence.Event{At: e.At, By: e.By, Data: e.Data}); err != nil {
				t.Fatal(err)
			}
		}
		type place struct {
			sequence.Bolt
			Column
		}
		passes, rounds := d.Columns()
		done, taken := map[place]int{}, 0
		for _, turn := range d.Turns {
			if turn.Result == ResultTakenBack {
				taken++
			}
			if !slices.Contains([]string{ResultDone, ResultStill, ResultMoved}, turn.Result) {
				continue
			}
			in := 0
			for _, c := range slices.Concat(passes, rounds) {
				if c.has(turn) {
					in++
					done[place{turn.Bolt, c}]++
				}
			}
			if in != 1 {
				t.Errorf("%s: bolt %d of line %d stands in %d columns", name, turn.Bolt, turn.Line, in)
			}
		}
		if taken != back {
			t.Errorf("%s: %d marks are taken back, the walk took back %d", name, taken, back)
		}
		for p, n := range done {
			// What a new bolt repeats alone comes after the mark of the old one.
			if n > 1 && p.Round > 0 {
				t.Errorf("%s: bolt %d has %d marks in %s", name, p.Bolt, n, d.Text(p.Column))
			}
		}
	}
}

// TestSetsOfRounds: each has its number and says after what it came.
func TestSetsOfRounds(t *testing.T) {
	c, _ := messy(t, nil)
	for name, test := range map[string]struct {
		AsDone
		want []string
	}{
		"problems": {asDone(t, c.close()), []string{"after the passes", "for the new parts of bolt 2"}},
		"studs":    {finished(t), []string{"after the passes", "for studs outside the band"}},
	} {
		_, rounds := test.Columns()
		var why []string
		for _, r := range rounds {
			if text := test.setWhy(r.RoundSet); !slices.Contains(why, text) {
				why = append(why, text)
			}
		}
		if !slices.Equal(why, test.want) {
			t.Errorf("%s: %q", name, why)
		}
	}
}

// TestRepeatedPassStandsTwice: a pass whose pressure was low at its end has all
// its marks beside those of the pass that was done again, and the reading is a
// deviation.
func TestRepeatedPassStandsTwice(t *testing.T) {
	c := begin(t, opened(t))
	end := func(s sequence.Step) bool { set, ok := s.(sequence.Set); return ok && set.AtEnd && set.Pass == 2 }
	c.until(end)
	c.do(sequence.PressureSet{AtEnd: true, Running: c.s.Walk.Next(c.at).(sequence.Set).Least - 0.3e5, Sure: true})
	c.toBolt(2, 3)
	d := asDone(t, c.close())
	passes, _ := d.Columns()
	var names []string
	counts := map[string]int{}
	for _, p := range passes {
		names = append(names, d.Text(p))
		for b := sequence.Bolt(1); b <= 4; b++ {
			if turn, ok := d.Last(b, p); ok && turn.Result == ResultDone {
				counts[d.Text(p)]++
			}
		}
	}
	share := d.Plan.Passes[1].Share.Text()
	first, again := share+" attempt 1", share+" attempt 2"
	if !slices.Contains(names, again) || counts[first] != 4 || counts[again] == 0 || counts[again] == 4 {
		t.Errorf("%q, %v", names, counts)
	}
	if !slices.ContainsFunc(d.Events, func(e Said) bool { return e.Kind == "set" && !e.Routine && strings.Contains(e.Text, "end") }) {
		t.Error("the low reading is no deviation")
	}
}
