package report

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/interaction"
	"evenload/sequence/practice"
)

// level is a practice joint with what is computed once.
type level struct {
	practice.Level
	plan sequence.Plan
	ring *interaction.Bolts
	row  []unit.Compliance
	give unit.Compliance
}

var levels = sync.OnceValues(func() ([]level, error) {
	jobs, err := job.Practice()
	if err != nil {
		return nil, err
	}
	var all []level
	for _, l := range practice.Levels {
		j := jobs[l.Joint]
		row, give, err := Closures(j)
		if err != nil {
			return nil, err
		}
		ring, err := interaction.New(row, give)
		if err != nil {
			return nil, err
		}
		plan, _ := j.Plan(joint.Date{Year: 2026, Month: time.November, Day: 25})
		all = append(all, level{l, plan, ring, row, give})
	}
	return all, nil
})

// robot is a trainee who does by what he reads; slips are what he does wrong, by kind.
type robot struct {
	t     fataler
	run   *practice.Run
	walk  sequence.Walk
	now   time.Time
	slips map[string]bool
	made  map[string]int // slips that came up
	lets  bool           // lets the model go on where it may
	steps []string
}

func newRobot(t fataler, l level, seed uint64, scatter bool, slips ...string) *robot {
	w, err := sequence.New(&l.plan)
	if err != nil {
		t.Fatalf("%v", err)
	}
	r := &robot{t: t, walk: w, now: time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC), slips: map[string]bool{}, made: map[string]int{}}
	for _, s := range slips {
		r.slips[s] = true
	}
	r.run = practice.New(practice.Setup{Level: l.Level, Seed: seed, Scatter: scatter}, &l.plan)
	r.run.Model(l.ring, nil)
	return r
}

// slip says that the robot makes a slip of a kind here.
func (r *robot) slip(kind string) bool {
	if !r.slips[kind] {
		return false
	}
	r.made[kind]++
	return true
}

func (r *robot) clock() time.Time { return r.now.Add(r.run.Ahead()) }

// send does what the program does with an event.
func (r *robot) send(step sequence.Step, d sequence.Data) bool {
	by := r.walk.Operator()
	if s, ok := d.(sequence.SignedOn); ok {
		by = s.Name
	}
	r.now = r.now.Add(20 * time.Second)
	next, err := r.walk.Apply(sequence.Event{At: r.clock(), By: by, Data: d})
	r.run.Judge(r.walk, step, d, err)
	if err != nil {
		return false
	}
	if err := r.run.Happened(step, d); err != nil {
		r.t.Fatalf("the model fails: %v", err)
	}
	r.walk = next
	return true
}

// whole walks until the card is closed.
func (r *robot) whole() practice.Mark {
	for range 5000 {
		step := r.walk.Next(r.clock())
		if _, closed := step.(sequence.Closed); closed {
			return r.run.Mark(true)
		}
		if task, ok := r.run.Task(r.walk, step, r.clock()); ok {
			r.steps = append(r.steps, task.Title)
			if task.More && r.lets {
				r.run.GoOn(step)
				continue
			}
			v, err := r.run.Answer(task, step, r.answer(task, step))
			if err != nil {
				r.t.Fatalf("%s: %v", task.Title, err)
			}
			if v.Event != nil && !r.send(step, v.Event) {
				r.t.Fatalf("%s: refused", task.Title)
			}
			continue
		}
		if d, ok := r.run.Auto(r.walk, step); ok {
			if !r.send(step, d) {
				r.t.Fatalf("the model's own %#v is refused", d)
			}
			continue
		}
		seen := strings.Join(r.run.Seen(r.walk, step), " ")
		r.steps = append(r.steps, sequence.Title(step))
		r.send(step, r.does(step, seen))
	}
	r.t.Fatalf("the walk does not end, last %q", r.steps[max(0, len(r.steps)-20):])
	return practice.Mark{}
}

func (r *robot) answer(task practice.Task, step sequence.Step) string {
	text := strings.Join(task.Lines, " ")
	switch {
	case task.Prompt == "":
		return ""
	case task.Title == "READ THE CHART":
		s := step.(sequence.Set)
		p := s.Set
		if r.slip("chart") {
			p += s.Tool.Gauge.Division
			if p <= s.Pressure+s.Tool.Gauge.Division {
				p += s.Tool.Gauge.Division
			}
		}
		return p.Reading(s.Tool.Gauge.Unit, s.Tool.Gauge.Division)
	case task.Title == "THE REGULATOR":
		switch {
		case strings.Contains(text, "still, trigger") && !r.slip("set at rest"):
			return "2"
		case r.slip("for luck"):
			return "3"
		}
		return "1"
	case task.Title == "A STILL NUT":
		if r.slip("still is full") {
			return "1"
		}
		return "2"
	case task.Picks > 0:
		var bolts []string
		switch s := step.(type) {
		case sequence.Tighten:
			for _, b := range s.Bolts {
				bolts = append(bolts, fmt.Sprint(b))
			}
		case sequence.Check:
			bolts = []string{fmt.Sprint(s.Bolt)}
		}
		if r.slip("order") {
			n, _ := strconv.Atoi(bolts[0])
			bolts[0] = fmt.Sprint(n%r.run.Plan().Bolts + 1)
		}
		return strings.Join(bolts, " ")
	}
	r.t.Fatalf("nobody told what to answer to %q", task.Title)
	return ""
}

var (
	gapRead   = regexp.MustCompile(`(\d+): (\d+\.\d+)`)
	gaugeRead = regexp.MustCompile(`([\d.]+) on the (black|red) scale`)
)

func (r *robot) does(step sequence.Step, seen string) sequence.Data {
	other := sequence.Named{Name: "Eva Lind", Role: "engineer", Reason: "seen"}
	switch s := step.(type) {
	case sequence.SignOn:
		return sequence.SignedOn{Name: "Ann Berg"}
	case sequence.Ask:
		return r.yesOrNo(s, seen)
	case sequence.Materials:
		return sequence.MaterialsNoted{Gasket: "G-1"}
	case sequence.Snug:
		return sequence.Snugged{}
	case sequence.GapCheck:
		if s.Over != nil {
			r.steps = append(r.steps, fmt.Sprintf("GAPS ACCEPTED %s %v over %v before %.3f", s.After, s.Over.Spread, s.Over.OverLimit, float64(s.Before)*1e3))
			return sequence.GapsAccepted{Named: other}
		}
		return r.gaps(s, seen)
	case sequence.Set:
		scales := map[string]string{}
		for _, m := range gaugeRead.FindAllStringSubmatch(seen, -1) {
			scales[m[2]] = m[1]
		}
		scale := "black"
		if strings.Index(seen, "red") < strings.Index(seen, "black") && r.slip("other scale") && r.made["other scale"] == 1 {
			scale = "red"
		}
		v, err := strconv.ParseFloat(scales[scale], 64)
		if err != nil {
			r.t.Fatalf("no reading in %q", seen)
		}
		d := sequence.PressureSet{AtEnd: s.AtEnd, Tool: s.Slot, Running: s.Tool.Gauge.Unit.Of(v), Sure: true}
		if !s.AtEnd && r.slip("reading") {
			d.Running = min(s.Most, d.Running+s.Tool.Gauge.Division)
			if d.Running-s.Set < s.Tool.Gauge.Division/2 {
				d.Running = s.Set - s.Tool.Gauge.Division
			}
		}
		return d
	case sequence.Tighten:
		if strings.Contains(seen, "does not stall") && !r.slip("no load") {
			return sequence.ProblemFound{Bolt: s.Bolts[0], What: sequence.NoLoad, Reason: "turned on", Now: true}
		}
		return sequence.BoltDone{Pass: s.Pass, Bolts: s.Bolts}
	case sequence.Check:
		turns := strings.Contains(seen, "turns a little")
		if turns && r.slip("moved") {
			turns = false
		}
		if turns {
			return sequence.NutMoved{Round: s.Round, Bolt: s.Bolt}
		}
		return sequence.NutStill{Round: s.Round, Bolt: s.Bolt}
	case sequence.Rest:
		return sequence.RestOver{}
	case sequence.Release:
		r.steps = append(r.steps, "RELEASED "+string(s.Of))
		return sequence.Released{Of: s.Of, Bolt: s.Bolt, Tool: s.Slot, Hold: s.Hold, Named: other}
	case sequence.Close:
		return sequence.CardClosed{Witness: "Wim Falk", Role: "inspector"}
	}
	r.t.Fatalf("nobody told what to do at %T", step)
	return nil
}

// bad are words that say that something is wrong at a question.
var bad = []string{"yesterday", "has just come", "each for himself", "scratch", "was in before", "springs", "halfway down", "are dry", "another tool", "hang on one",
	"twice as long", "no pin", "half full", "other way round", "conduit", "barrier below is open"}

func (r *robot) yesOrNo(s sequence.Ask, seen string) sequence.Data {
	d := sequence.Answered{Question: s.Question.ID, Answer: sequence.Yes, Typed: s.Question.Typed}
	switch {
	case s.Question.Measured:
		d.Measured = &sequence.Alignment{Offset: 0.0008}
	case s.Question.Typed != "" && r.made["tag"] == 0 && r.slip("tag"):
		d = s.Question.TypedAnswer("XXX")
	case slices.ContainsFunc(bad, func(w string) bool { return strings.Contains(seen, w) }) && !r.slip("question"):
		d.Answer = sequence.No
	case s.Question.MayNot && r.slip("not applicable"):
		d.Answer, d.Reason = sequence.NotApplicable, "no time"
	}
	return d
}

func (r *robot) gaps(s sequence.GapCheck, seen string) sequence.Data {
	factor := unit.Length(unit.Millimetre)
	if strings.Contains(seen, "Feeler gauge, in,") {
		factor = unit.Inch
	}
	var all []sequence.Gap
	for _, m := range gapRead.FindAllStringSubmatch(seen, -1) {
		b, _ := strconv.Atoi(m[1])
		g, _ := strconv.ParseFloat(m[2], 64)
		all = append(all, sequence.Gap{Bolt: sequence.Bolt(b), Gap: unit.Length(g) * factor})
	}
	if len(all) == 0 {
		r.t.Fatalf("no gaps in %q", seen)
	}
	if !s.All {
		widest, narrowest := all[0], all[0]
		for _, g := range all {
			if g.Gap > widest.Gap {
				widest = g
			}
			if g.Gap < narrowest.Gap || widest.Bolt == narrowest.Bolt {
				narrowest = g
			}
		}
		if widest.Bolt == narrowest.Bolt { // all alike
			narrowest = all[1]
		}
		all = []sequence.Gap{widest, narrowest}
	}
	if r.slip("gap") {
		all[0].Gap += factor / 10
	}
	return sequence.GapsMeasured{Readings: all}
}
