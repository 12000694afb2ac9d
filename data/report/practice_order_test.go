package report

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"evenload/sequence"
	"evenload/sequence/practice"
)

// nextBolt walks a robot of a level to the question for the next bolt after the bolts that are
// named, and answers it.
func nextBolt(t *testing.T, l level, after []sequence.Bolt, answer string) (practice.Verdict, error) {
	t.Helper()
	r := newRobot(t, l, 2, false)
	for range 200 {
		step := r.walk.Next(r.clock())
		if task, ok := r.run.Task(r.walk, step, r.clock()); ok {
			s, tightens := step.(sequence.Tighten)
			text := r.answer(task, step)
			here := tightens && s.Pass == 1 && task.Picks > 0 && len(r.walk.Last(99)) == len(after)
			if here {
				for i, b := range r.walk.Last(99) {
					if b[0] != after[len(after)-1-i] {
						t.Fatalf("%s: marked are %v, want %v", l.Name, r.walk.Last(99), after)
					}
				}
				text = answer
			}
			v, err := r.run.Answer(task, step, text)
			if here {
				return v, err
			}
			if err != nil {
				t.Fatal(err)
			}
			if v.Event != nil {
				r.send(step, v.Event)
			}
			continue
		}
		r.send(step, r.does(step, strings.Join(r.run.Seen(r.walk, step), " ")))
	}
	t.Fatalf("%s: never asked after %v", l.Name, after)
	return practice.Verdict{}, nil
}

// TestTheMirrorIsAsGood: where the ring with its marks is the same on both sides of the bolt
// marked last, the bolt on either side is right; no other is, and none that does not exist.
func TestTheMirrorIsAsGood(t *testing.T) {
	all, err := levels()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		level  int
		after  []sequence.Bolt
		answer string
		right  bool
	}{
		{3, nil, "1", true}, {3, nil, "3", false},
		{3, []sequence.Bolt{1}, "3", true}, {3, []sequence.Bolt{1}, "2", false}, {3, []sequence.Bolt{1}, "4", false},
		{3, []sequence.Bolt{1, 3}, "2", true}, {3, []sequence.Bolt{1, 3}, "4", true}, {3, []sequence.Bolt{1, 3}, "1", false},
		{4, []sequence.Bolt{1, 5}, "3", true}, {4, []sequence.Bolt{1, 5}, "7", true}, {4, []sequence.Bolt{1, 5}, "4", false},
		{5, []sequence.Bolt{1, 7}, "4", true}, {5, []sequence.Bolt{1, 7}, "10", true}, {5, []sequence.Bolt{1, 7}, "9", false},
		{7, []sequence.Bolt{1}, "6", true}, {7, []sequence.Bolt{1}, "5", true}, {7, []sequence.Bolt{1}, "4", false},
		{6, []sequence.Bolt{1}, "2", true}, {6, []sequence.Bolt{1}, "36", false}, // neighbours of a group go clockwise
		{8, []sequence.Bolt{1, 7}, "4 10", true}, {8, []sequence.Bolt{1, 7}, "10 4", false},
	} {
		after := c.after
		if c.level == 8 {
			after = after[:1]
		}
		v, err := nextBolt(t, all[c.level-1], after, c.answer)
		if err != nil || v.Right != c.right {
			t.Errorf("level %d after %v: %s is right %v, want %v: %s (%v)", c.level, c.after, c.answer, v.Right, c.right, v.Text, err)
		}
		if v.Right == (len(v.Closed) > 0) && v.Right {
			t.Errorf("level %d after %v: a right answer shows how the flanges would stand", c.level, c.after)
		}
	}
	for _, none := range []string{"0", "5", "29"} {
		if _, err := nextBolt(t, all[2], []sequence.Bolt{1}, none); err == nil || !strings.Contains(err.Error(), "the bolts are 1 to 4") {
			t.Errorf("bolt %s of 4: %v", none, err)
		}
	}
	if _, err := nextBolt(t, all[7], nil, "1"); err == nil || strings.ContainsAny(err.Error(), "17") {
		t.Errorf("the message gives the answer away: %v", err)
	}
}

// TestUnevenIsWorthShowing: what is said of a wrong order is another number than that of the
// right one, and the picture says the same as the sentence.
func TestUnevenIsWorthShowing(t *testing.T) {
	all, err := levels()
	if err != nil {
		t.Fatal(err)
	}
	shown := 0
	for level := 3; level <= 8; level++ {
		answer := "2"
		if level == 8 {
			answer = "1 2"
		}
		after := []sequence.Bolt{1}
		if level == 8 || level == 6 {
			continue
		}
		v, err := nextBolt(t, all[level-1], after, answer)
		if err != nil {
			t.Fatal(err)
		}
		var no, yes string
		if at := strings.Index(v.Text, "unevenly by "); at < 0 {
			if len(v.Closed) > 0 {
				t.Errorf("level %d: a picture without a word", level)
			}
			continue
		} else if _, err := fmt.Sscanf(v.Text[at:], "unevenly by %s", &no); err != nil {
			t.Fatal(err)
		}
		shown++
		yes = v.Text[strings.LastIndex(v.Text[:strings.Index(v.Text, "Next is")], " by ")+4:]
		if strings.HasPrefix(yes, no+" ") {
			t.Errorf("level %d: nothing is worse: %s", level, v.Text)
		}
	}
	if shown == 0 {
		t.Error("the flanges are never shown: the test holds nothing")
	}
}

// TestBenchLogIsOfTheBench: no pass, no flange, one bolt, and each question whole.
func TestBenchLogIsOfTheBench(t *testing.T) {
	all, err := levels()
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range all[:2] {
		b := practice.NewBench(practice.Setup{Level: l.Level, Seed: 3}, l.plan)
		b.Model(l.row, l.give, nil)
		for {
			task, ok := b.Task()
			if !ok {
				break
			}
			text := benchAnswer(t, task, b)
			if task.Chosen != nil {
				text = wrongOf(task, text)
			}
			v, err := b.Answer(task, text)
			if err != nil {
				t.Fatal(err)
			}
			if task.Chosen != nil && (v.Right || v.Best == "") {
				t.Errorf("%s: a wrong choice does not say what is right: %+v", task.Title, v)
			}
		}
		var out bytes.Buffer
		if err := PracticeLog(&out, b.Log(true)); err != nil {
			t.Fatal(err)
		}
		text := strings.Join(strings.Fields(out.String()), " ")
		for _, never := range []string{"PASS", "PRACTICE-", "1 bolts", "Wrong.", "?:"} {
			if strings.Contains(text, never) {
				t.Errorf("%s: the log says %q:\n%s", l.Name, never, out.String())
			}
		}
		for _, want := range []string{"at the bench", "BENCH", "Right was: "} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the log does not say %q:\n%s", l.Name, want, out.String())
			}
		}
		for _, a := range b.Missed() {
			if !strings.HasSuffix(a.Asked, "?") {
				t.Errorf("%s: %q is no question", l.Name, a.Asked)
			}
		}
	}
}

// TestGaugeIsReadAsTheToolsRun: together while they tighten together, alone in check rounds.
func TestGaugeIsReadAsTheToolsRun(t *testing.T) {
	all, err := levels()
	if err != nil {
		t.Fatal(err)
	}
	r := newRobot(t, all[7], 2, false)
	together, alone := 0, 0
	for range 2000 {
		step := r.walk.Next(r.clock())
		if _, closed := step.(sequence.Closed); closed {
			break
		}
		if task, ok := r.run.Task(r.walk, step, r.clock()); ok {
			v, err := r.run.Answer(task, step, r.answer(task, step))
			if err != nil {
				t.Fatal(err)
			}
			if v.Event != nil {
				r.send(step, v.Event)
			}
			continue
		}
		seen := strings.Join(r.run.Seen(r.walk, step), " ")
		if s, sets := step.(sequence.Set); sets {
			want := "The tool runs free."
			if s.Round == 0 {
				want, together = "All tools run free, and this is the gauge of "+s.Letter+".", together+1
			} else {
				alone++
			}
			if !strings.HasPrefix(seen, want) {
				t.Fatalf("%s: there is to see %q, want %q", sequence.Title(step), seen, want)
			}
		}
		r.send(step, r.does(step, seen))
	}
	if together < 6 || alone == 0 {
		t.Errorf("set %d times together, %d times alone", together, alone)
	}
}
