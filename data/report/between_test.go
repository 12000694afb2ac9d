package report

import (
	"strings"
	"testing"

	"evenload/sequence"
)

// TestStudThatBrokeBetweenPasses: it stands as a row, its bolt was done in the pass before
// all the same, and a joint that is closed without it says so at its head.
func TestStudThatBrokeBetweenPasses(t *testing.T) {
	c := begin(t, opened(t))
	c.until(func(s sequence.Step) bool { g, is := s.(sequence.GapCheck); return is && !g.All })
	c.do(sequence.ProblemFound{Bolt: 3, What: sequence.Broke, Batch: "B-1"}, sequence.Released{Of: sequence.OfProblem, Bolt: 3, Named: engineer})
	for !c.s.Walk.IsClosed() {
		step := c.s.Walk.Next(c.at)
		if r, is := step.(sequence.Release); is && r.Of == sequence.OfBolt {
			c.do(sequence.Released{Of: r.Of, Bolt: r.Bolt, Named: engineer})
			continue
		}
		c.do(straight(c.name, step))
	}
	path := c.close()
	d := asDone(t, path)
	passes, _ := d.Columns()
	first := passes[0]
	if last, ok := d.Last(3, first); !ok || last.Result != ResultDone || !d.HadProblem(3, first) || d.Count(first).Done != 4 {
		t.Errorf("in the first pass bolt 3 is %+v, %t, with a problem %t, done are %d", last, ok, d.HadProblem(3, first), d.Count(first).Done)
	}
	var found []BoltTurn
	for _, turn := range d.Turns {
		if turn.Between {
			found = append(found, turn)
		}
	}
	if len(found) != 1 || found[0].Bolt != 3 || found[0].Result != ResultProblem || found[0].Tool.ID != "W-01" {
		t.Errorf("between passes stand %+v", found)
	}
	if text := recordOf(t, path); !strings.Contains(text, "\nNO GOOD STUD AT BOLT 3: ") || !strings.Contains(text, "Has bolt 3 NO good stud") {
		t.Errorf("the record says\n%s", text)
	}
}
