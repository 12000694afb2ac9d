package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/practice"
)

// TestRightWalkIsWorthAll on every level and many seeds, with and without scatter.
func TestRightWalkIsWorthAll(t *testing.T) {
	all, err := levels()
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		l := all[rapid.IntRange(2, len(all)-1).Draw(t, "level")]
		r := newRobot(t, l, rapid.Uint64().Draw(t, "seed"), rapid.Bool().Draw(t, "scatter"))
		r.lets = rapid.Bool().Draw(t, "lets the model go on")
		if m := r.whole(); m.Total != 100 || len(m.Parts) != 4 || len(r.run.Missed()) > 0 {
			t.Fatalf("%s: %+v, missed %+v", l.Name, m, r.run.Missed())
		}
	})
}

// slips are the mistakes of a trainee, with the parts of the mark that fall.
var slips = map[string][]practice.Part{
	"chart":          {practice.Checks},
	"set at rest":    {practice.Safety, practice.EvenLoad},
	"for luck":       {practice.Safety},
	"still is full":  {practice.Checks},
	"order":          {practice.Order},
	"other scale":    {practice.Checks},
	"reading":        {practice.Checks},
	"no load":        {practice.Safety, practice.EvenLoad},
	"moved":          {practice.Checks},
	"tag":            {practice.Safety},
	"question":       {practice.Safety},
	"not applicable": {practice.Safety},
	"gap":            {practice.Checks},
}

// TestEachMistakeLowersTheMark, in its own part and in all, wherever it comes up.
func TestEachMistakeLowersTheMark(t *testing.T) {
	all, err := levels()
	if err != nil {
		t.Fatal(err)
	}
	came := map[string]bool{}
	for kind, parts := range slips {
		for _, l := range all[2:] {
			for seed := range uint64(3) {
				r := newRobot(t, l, seed, false, kind)
				m := r.whole()
				if r.made[kind] == 0 {
					if m.Total != 100 {
						t.Errorf("%s, seed %d: no %q was made, and the mark is %d %%", l.Name, seed, kind, m.Total)
					}
					continue
				}
				came[kind] = true
				if m.Total >= 100 || len(r.run.Missed()) == 0 {
					t.Errorf("%s, seed %d: %q costs nothing", l.Name, seed, kind)
				}
				for _, p := range m.Parts {
					for _, falls := range parts {
						if p.Part == falls && p.Right == p.Asked {
							t.Errorf("%s, seed %d: %q does not lower %s", l.Name, seed, kind, p.Part)
						}
					}
				}
			}
		}
	}
	for kind := range slips {
		if !came[kind] {
			t.Errorf("%q never came up: the test holds nothing of it", kind)
		}
	}
}

// TestSameSeedSamePractice: what is asked, seen and drawn comes from --seed alone.
func TestSameSeedSamePractice(t *testing.T) {
	all, err := levels()
	if err != nil {
		t.Fatal(err)
	}
	l := all[4]
	walk := func(seed uint64) ([]string, []practice.Answer, []unit.Share) {
		r := newRobot(t, l, seed, true, "order")
		r.whole()
		return r.steps, r.run.Answers(), r.run.Loads()
	}
	steps, answers, loads := walk(7)
	again, answers2, loads2 := walk(7)
	if !reflect.DeepEqual(steps, again) || !reflect.DeepEqual(answers, answers2) || !reflect.DeepEqual(loads, loads2) {
		t.Error("the same seed gives another practice")
	}
	if _, other, _ := walk(8); reflect.DeepEqual(answers, other) {
		t.Error("another seed gives the same practice")
	}
}

// TestScatterGivesUnequalLoad: only with it does equal torque give unequal load.
func TestScatterGivesUnequalLoad(t *testing.T) {
	all, err := levels()
	if err != nil {
		t.Fatal(err)
	}
	spread := func(scatter bool) float64 {
		r := newRobot(t, all[4], 3, scatter)
		r.whole()
		least, most := 9.0, 0.0
		for _, x := range r.run.Loads() {
			least, most = min(least, float64(x)), max(most, float64(x))
		}
		return most - least
	}
	if even, drawn := spread(false), spread(true); even > 0.15 || drawn < 0.2 {
		t.Errorf("loads differ by %.2f of the target without scatter, by %.2f with it", even, drawn)
	}
}

// TestBench: both levels at the bench are worth all when done right, and less for
// each wrong answer.
func TestBench(t *testing.T) {
	all, err := levels()
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range all[:2] {
		for seed := range uint64(20) {
			for wrong := -1; wrong < 12; wrong++ {
				b := practice.NewBench(practice.Setup{Level: l.Level, Seed: seed}, l.plan)
				b.Model(l.row, l.give, nil)
				made := false
				for asked := 0; ; {
					task, ok := b.Task()
					if !ok {
						break
					}
					text := benchAnswer(t, task, b)
					if task.Prompt != "" {
						if asked == wrong {
							made, text = true, wrongOf(task, text)
						}
						asked++
					}
					if _, err := b.Answer(task, text); err != nil {
						t.Fatalf("%s: %v", task.Title, err)
					}
				}
				if m := b.Mark(true); (m.Total == 100) == made || len(m.Parts) == 0 {
					t.Errorf("%s, seed %d, answer %d wrong (%v): %+v", l.Name, seed, wrong, made, m)
				}
			}
		}
	}
}

func benchAnswer(t *testing.T, task practice.Task, b *practice.Bench) string {
	text := strings.Join(task.Lines, " ")
	switch task.Title {
	case "READ THE CHART":
		for _, pass := range b.Plan().Passes {
			if s := pass.Settings[0]; strings.Contains(text, " "+s.Torque.Text(b.Plan().System)+" ") {
				tool := b.Plan().Tools[0]
				return s.Set.Reading(tool.Gauge.Unit, tool.Gauge.Division)
			}
		}
		t.Fatalf("no torque in %q", text)
	case "THE REGULATOR":
		if strings.Contains(text, "still, trigger") {
			return "2"
		}
		return "1"
	case "EQUAL TORQUE", "THE BOLT BESIDE IT":
		return "3"
	case "BRING IT BACK", "HOW LONG?":
		return "2"
	}
	return ""
}

func wrongOf(task practice.Task, right string) string {
	if task.Title == "READ THE CHART" {
		return "6.0"
	}
	if right == "1" {
		return "3"
	}
	return "1"
}

// TestPracticeSaysWhatItIs: every log, whatever is in it, is of a practice and never of
// a joint, and its texts are made visible.
func TestPracticeSaysWhatItIs(t *testing.T) {
	all, err := levels()
	if err != nil {
		t.Fatal(err)
	}
	r := newRobot(t, all[2], 5, true, "order", "no load")
	r.whole()
	l := r.run.Log(true)
	l.Trainee = "Ann\x1b[2J"
	var text, data bytes.Buffer
	if err := errors.Join(PracticeLog(&text, l), PracticeJSON(&data, l)); err != nil {
		t.Fatal(err)
	}
	var back practice.Log
	if err := json.Unmarshal(data.Bytes(), &back); err != nil || back.Kind != "practice" || back.Word != practice.Word || back.Mark.Total != l.Mark.Total || len(back.Missed) != len(l.Missed) {
		t.Errorf("%v\n%s", err, data.String())
	}
	for _, want := range []string{"PRACTICE LOG", practice.Word, "It is no record of any joint", "simulated", "MISSED", "supervisor, name and date", "seed 5"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("the log does not say %q:\n%s", want, text.String())
		}
	}
	for _, never := range []string{"\x1b", "RECORD", "kN", "lbf  ", "verified"} {
		if strings.Contains(text.String(), never) {
			t.Errorf("the log says %q:\n%s", never, text.String())
		}
	}
}

// TestModelRefusesWhatItDoesNotKnow: no practice on bolts that are no ring.
func TestModelRefusesWhatItDoesNotKnow(t *testing.T) {
	j, err := job.Load("../../testdata/jobs/filter-cover-10.toml")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Ring(j); err == nil {
		t.Fatal("a cover has a ring")
	}
	plan, _ := j.Plan(joint.Date{Year: 2026, Month: time.November, Day: 25})
	run := practice.New(practice.Setup{Level: practice.OwnJob, Seed: 1}, &plan)
	run.Model(Ring(j))
	w, err := sequence.New(&plan)
	if err != nil {
		t.Fatal(err)
	}
	step := w.Next(time.Time{})
	if ready, err := run.Ready(); ready || err == nil {
		t.Error("a practice without a model is ready")
	}
	if _, ok := run.Task(w, step, time.Time{}); ok || run.Seen(w, step) != nil || run.Judge(w, step, sequence.Snugged{}, nil) != "" {
		t.Error("without a model something is asked, seen or judged")
	}
}
