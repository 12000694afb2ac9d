package practice

import (
	"fmt"
	"slices"
	"time"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/interaction"
)

// Setup is what makes a practice: the same setup asks and draws the same.
type Setup struct {
	Level   Level
	Seed    uint64
	Scatter bool // of friction and tool is drawn
}

// Run is one trainee's practice on one plan: what is asked, what was answered, and
// the simulated joint behind it.
type Run struct {
	Setup
	plan    *sequence.Plan
	joint   *Joint // nil until the model is there
	failed  error  // of the model
	script  script
	answers []Answer
	done    map[string]bool // tasks answered or told
	put     map[string]bool // questions whose trouble was put right

	look    bool     // the loads after a stall were not looked at yet
	looks   int      // times that they were looked at
	auto    string   // the pass or round that the model finishes by itself
	row     int      // stalls and answers of this pass or round without a mistake
	met     bool     // the nut that turns without load
	sent    bool     // called away
	again   bool     // back from there: the next bolt is asked for
	settled bool     // the low bolt
	lowDone bool     // and its nut was looked at
	even    PartMark // loads looked at after every pass
	pending []string // what was wrong, not shown yet
	ahead   time.Duration
	actual  map[string]unit.Pressure // by setting, what the gauge shows with the tool running, where it is not as set
}

// Answer is one judged answer.
type Answer struct {
	Part  Part   `json:"part"`
	Where string `json:"where"`
	Asked string `json:"asked"`
	Given string `json:"given"`
	Right string `json:"right"`
	OK    bool   `json:"ok"`
	Why   string `json:"why"`
}

// New begins a practice on a plan.
func New(s Setup, plan *sequence.Plan) *Run {
	return &Run{Setup: s, plan: plan, script: newScript(plan, s.Seed), done: map[string]bool{}, put: map[string]bool{}, actual: map[string]unit.Pressure{}}
}

// Model puts the simulated joint together, from the ring that was computed once. An
// error says why there is none: then nothing can be practised.
func (r *Run) Model(ring *interaction.Bolts, err error) {
	if err != nil {
		r.failed = err
		return
	}
	r.joint = newJoint(ring, r.plan, r.Seed, r.Scatter)
}

// Ready says that the model is there; the error is why it never will be.
func (r *Run) Ready() (bool, error) { return r.joint != nil, r.failed }

// Ahead is by how much the practice clock is ahead: an interruption and a rest pass
// at once.
func (r *Run) Ahead() time.Duration { return r.ahead }

// Resume sets the practice clock ahead to the last time that is on the card.
func (r *Run) Resume(ahead time.Duration) { r.ahead = max(r.ahead, ahead) }

// Answers are all that were judged, in order.
func (r *Run) Answers() []Answer { return slices.Clone(r.answers) }

// Loads are those of all bolts in the model, as shares of the target; nil before it is there.
func (r *Run) Loads() []unit.Share {
	if r.joint == nil {
		return nil
	}
	return r.joint.Shares()
}

// Plan is what is practised on.
func (r *Run) Plan() *sequence.Plan { return r.plan }

// place names where in the walk a step stands, so that nothing is asked there twice.
func place(s sequence.Step) string {
	switch s := s.(type) {
	case sequence.Set:
		return fmt.Sprintf("set %d %d %d %d %v", s.Pass, s.Repeat, s.Round, s.Slot, s.AtEnd)
	case sequence.Tighten:
		return fmt.Sprintf("pass %d %d %d bolts %s", s.Pass, s.Repeat, s.Redo, sequence.Station(s.Bolts).Text())
	case sequence.Check:
		return fmt.Sprintf("round %d bolt %d", s.Round, s.Bolt)
	}
	return sequence.Title(s)
}

// at tells the check rounds after the rest from those before it.
func (r *Run) at(s sequence.Step) string {
	if r.done["rest"] {
		return place(s) + " after the rest"
	}
	return place(s)
}

// Task is what is asked or told next, before the walk's own screen for the step; false
// when there is nothing, or while the model goes on by itself.
func (r *Run) Task(w sequence.Walk, step sequence.Step, now time.Time) (Task, bool) {
	if r.joint == nil {
		return Task{}, false
	}
	w = w.At(now)
	if len(r.pending) > 0 {
		t := told(fmt.Sprintf("wrong %d", len(r.answers)), "WRONG", r.pending...)
		t.judge = func(string) (Verdict, error) {
			r.pending = nil
			return Verdict{Right: true, tells: true}, nil
		}
		return t, true
	}
	r.settle(step)
	if _, on := r.Auto(w, step); on {
		return Task{}, false
	}
	r.auto = ""
	if under(step) == "" {
		r.row = 0
	}
	left := 0
	var t Task
	switch s := step.(type) {
	case sequence.Set:
		t = r.setTasks(s)
	case sequence.Tighten:
		if t = r.away(s, w); t.id == "" {
			left, t = s.Left, r.nextTask("next "+r.at(step), w, s)
			if r.done[t.id] || !r.asks(s) {
				t = Task{}
			}
		}
	case sequence.Check:
		left = s.Left
		switch next := r.roundTask("next "+r.at(step), s); {
		case r.lowDone && !r.done["still"]:
			t = stillTask(r.script.low)
		case !r.done[next.id] && s.Round == 1 && (r.again || s.Done == 1):
			t = next
		}
	case sequence.Ask:
		t = r.beginTask()
	case sequence.Rest:
		if !r.done["rest"] {
			t = r.restTask(s, now)
		}
	}
	if r.look {
		if t.id == "" || t.Chosen != nil {
			t = told("look "+r.at(step), "AFTER THE STALL")
			if _, rests := step.(sequence.Rest); rests {
				t = told(t.id, "AFTER THE REST", "The gasket gave way: every bolt lost load, and nobody touched a nut.")
			}
		}
		t.Loads = r.joint.Last()
		if text := t.Loads.fell(); text != "" && r.looks < explained {
			t.Lines = append(t.Lines, text)
		}
	}
	if t.id == "" || r.done[t.id] && t.Loads == nil {
		return Task{}, false
	}
	t.More = r.row >= rowNeeded && left >= fewestLeft && r.mayGoOn(w, step)
	return t, true
}

// rowNeeded is after how many stalls and answers without a mistake the model may go on
// by itself, and fewestLeft how many bolts must be left then.
const (
	rowNeeded  = 3
	fewestLeft = 3
)

// explained is how often it is said in words what the bars show.
const explained = 3

// fell says which bolt lost most though nobody touched it, empty where none did.
func (c *Change) fell() string {
	most, bolt := unit.Share(0.01), 0
	for i := range c.After {
		// Neighbours on both sides lose alike: the last bits must not tell which is named.
		if loss := c.Before[i] - c.After[i]; loss > most+1e-9 {
			most, bolt = loss, i+1
		}
	}
	if bolt == 0 || len(c.Bolts) == 0 {
		return ""
	}
	return fmt.Sprintf("Bolt %d fell from %s to %s though nobody touched it: %s took load off it.", bolt, whole(c.Before[bolt-1]), whole(c.After[bolt-1]), c.names())
}

func (c *Change) names() string {
	if len(c.Bolts) == 1 {
		return fmt.Sprintf("bolt %d", c.Bolts[0])
	}
	return "bolts " + sequence.BoltList(c.Bolts)
}

// asks says whether the next bolt is asked for: in the first pass always, later now
// and then, and after an interruption.
func (r *Run) asks(s sequence.Tighten) bool {
	switch {
	case s.Redo > 0:
		return false
	case r.again:
		return true
	case s.Pass == 1:
		return s.Repeat == 0
	}
	return share(r.Seed, "asks "+place(s)) < 0.3
}

const awayTitle = "YOU ARE CALLED AWAY"

// away calls the trainee away in the middle of a pass.
func (r *Run) away(s sequence.Tighten, w sequence.Walk) Task {
	if !r.awayAt(s, w) {
		return Task{}
	}
	t := told("away", awayTitle, fmt.Sprintf("Somebody needs you at the other end of the works. You lay the tool down, air off, and come back after %d minutes.", r.awayFor()/time.Minute),
		"The walk is left here and opened again by signing on. What may have changed meanwhile is asked.")
	t.judge = func(string) (Verdict, error) {
		r.sent = true
		return Verdict{Right: true, tells: true, Event: sequence.Suspended{}}, nil
	}
	return t
}

func (r *Run) awayAt(s sequence.Tighten, w sequence.Walk) bool {
	a := r.script.away
	return !r.sent && s.Pass == a.pass && len(w.Last(r.plan.Bolts)) == a.at && s.Redo == 0 && s.Repeat == 0
}

// Hides is the text of the walk's own screen that would give the next answer away,
// with what stands in its place; empty where it stays.
func (r *Run) Hides(step sequence.Step) (text, instead string) {
	s, ok := step.(sequence.Tighten)
	if !ok || len(s.Then) == 0 || s.Redo > 0 {
		return "", ""
	}
	return s.ThenWords(), "then? You say it."
}

// awayFor is long enough for the walk to ask again.
func (r *Run) awayFor() time.Duration {
	return time.Duration(r.plan.RestartAfter) + 10*time.Minute
}

func (r *Run) restTask(s sequence.Rest, now time.Time) Task {
	t := told("rest", "THE GASKET RESTS", "In practice the time passes at once. Meanwhile the gasket of the model gives way, and all bolts lose some load with it.")
	t.judge = func(string) (Verdict, error) {
		r.ahead += s.Until.Sub(now) + time.Second
		r.joint.rest()
		r.look = true
		return Verdict{Right: true, tells: true}, nil
	}
	return t
}

// setTasks are asked before a pressure is set.
func (r *Run) setTasks(s sequence.Set) Task {
	if s.AtEnd || s.Round > 0 || s.Redo > 0 || s.Repeat > 0 {
		return Task{}
	}
	if t := chartTask(fmt.Sprintf("chart %d %d", s.Pass, s.Slot), s.Tool, s.Setting, s.Letter, r.plan.System); !r.done[t.id] {
		return t
	}
	t := setTask(fmt.Sprintf("regulator %d", s.Pass), s.Tool, s.Setting, r.standsStill(s), len(r.plan.Tools) > 1)
	if !r.done[t.id] && s.Slot == 0 && s.Tool.Reading == joint.Running {
		return t
	}
	return Task{}
}

func (r *Run) standsStill(s sequence.Set) bool {
	return s.Pass == r.script.standsStill && s.Slot == 0 && s.Repeat == 0 && s.Round == 0
}

// Answer takes the answer to a task. The error says what an answer can be; then
// nothing was judged.
func (r *Run) Answer(t Task, step sequence.Step, text string) (Verdict, error) {
	look := r.look
	if t.Loads != nil {
		r.look = false // before what is judged brings something new to look at
	}
	v, err := t.judge(text)
	if err != nil {
		r.look = look
		return v, err
	}
	r.done[t.id] = true
	if t.Loads != nil {
		r.looks++
	}
	if v.tells {
		if t.Loads != nil {
			r.row++
		}
		return v, nil
	}
	r.again = false
	r.row++
	if !v.Right {
		r.row = 0
		if s, ok := step.(sequence.Set); ok && t.part == Safety && r.standsStill(s) {
			r.actual[setKey(s.Place, s.Slot)] = s.Set - dropOf(s.Tool) // as soon as the tool runs
		}
	}
	r.judged(Answer{Part: t.part, Where: sequence.Title(step), Asked: t.asked(), Given: v.given, Right: t.right, OK: v.Right, Why: v.Text})
	return v, nil
}

func (t Task) asked() string {
	switch {
	case t.Picks > 0:
		return "which bolt comes next"
	case t.Chosen != nil && len(t.Lines) > 0:
		return t.Lines[0] + " " + t.Prompt
	case len(t.Lines) > 0:
		return t.Lines[0]
	}
	return t.Prompt
}

func setKey(p sequence.Place, slot int) string {
	return fmt.Sprintf("%d %d %d", p.Pass, p.Repeat, slot)
}

func (r *Run) judged(a Answer) { r.answers = append(r.answers, a) }

// GoOn lets the model finish the pass or round under way by itself.
func (r *Run) GoOn(step sequence.Step) { r.auto, r.look = under(step), false }

// mayGoOn says that the next thing is none that the trainee has to see.
func (r *Run) mayGoOn(w sequence.Walk, step sequence.Step) bool {
	try := *r
	try.auto = under(step)
	_, on := try.Auto(w, step)
	return on
}

// under names the pass or round under way, empty where there is none.
func under(step sequence.Step) string {
	switch s := step.(type) {
	case sequence.Tighten:
		return fmt.Sprintf("pass %d %d", s.Pass, s.Repeat)
	case sequence.Check:
		return fmt.Sprintf("round %d", s.Round)
	}
	return ""
}

// Auto is what the model does by itself, as long as it goes on: up to what the
// trainee has to see.
func (r *Run) Auto(w sequence.Walk, step sequence.Step) (sequence.Data, bool) {
	if r.auto == "" || r.auto != under(step) {
		return nil, false
	}
	switch s := step.(type) {
	case sequence.Tighten:
		if r.awayAt(s, w) || r.noLoadAt(s) {
			return nil, false
		}
		return sequence.BoltDone{Pass: s.Pass, Bolts: s.Bolts}, true
	case sequence.Check:
		if r.lowAt(s) || r.lowDone && !r.done["still"] {
			return nil, false
		}
		if r.turns(s) {
			return sequence.NutMoved{Round: s.Round, Bolt: s.Bolt}, true
		}
		return sequence.NutStill{Round: s.Round, Bolt: s.Bolt}, true
	}
	return nil, false
}
