package practice

import (
	"fmt"
	"strings"

	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/interaction"
)

// Bench is practice on one or two bolts, without a flange and without a walk: one task
// after the other.
type Bench struct {
	*Run
	steps []func() Task
	at    int
}

// NewBench begins it on the first bolts of a practice joint, of whose ring the row of
// closures is taken.
func NewBench(s Setup, plan sequence.Plan) *Bench {
	n := min(2, s.Level.Number)
	plan.Bolts, plan.Stations = n, nil
	for b := range n {
		plan.Stations = append(plan.Stations, sequence.Station{sequence.Bolt(b + 1)})
	}
	b := &Bench{Run: &Run{Setup: s, plan: &plan, done: map[string]bool{}, put: map[string]bool{}, actual: map[string]unit.Pressure{}}}
	b.script.standsStill = 1 + int(share(s.Seed, "stands still")*float64(len(plan.Passes)))
	b.script.standsStill = min(b.script.standsStill, len(plan.Passes))
	if n == 1 {
		b.oneBolt()
	} else {
		b.twoBolts()
	}
	return b
}

// Model puts the bench together from the row of closures of a ring and what a bolt gives.
func (b *Bench) Model(row []unit.Compliance, give unit.Compliance, err error) {
	if err == nil && len(row) < b.plan.Bolts {
		err = fmt.Errorf("a ring of %d closures is too small for the bench", len(row))
	}
	if err != nil {
		b.Run.Model(nil, err)
		return
	}
	ring, err := interaction.New(row[:b.plan.Bolts], give)
	b.Run.Model(ring, err)
}

// Task is the next one; false at the end.
func (b *Bench) Task() (Task, bool) {
	if b.joint == nil || b.at >= len(b.steps) {
		return Task{}, false
	}
	return b.steps[b.at](), true
}

// Progress is how many tasks are answered, of how many.
func (b *Bench) Progress() (done, of int) { return b.at, len(b.steps) }

// Answer takes the answer to it.
func (b *Bench) Answer(t Task, text string) (Verdict, error) {
	asked := len(b.answers)
	v, err := b.Run.Answer(t, b.setStep(), text)
	if err != nil {
		return v, err
	}
	b.at++
	if len(b.answers) > asked {
		b.answers[asked].Where = b.Place(b.at)
	}
	return v, nil
}

// Place names the n-th task, 1 the first.
func (b *Bench) Place(n int) string {
	return fmt.Sprintf("BENCH   %d of %d", min(n, len(b.steps)), len(b.steps))
}

// setStep is the setting that the bench stands at: of the first tool.
func (b *Bench) setStep() sequence.Step {
	pass := min(b.at/3, len(b.plan.Passes)-1)
	return sequence.Set{Place: sequence.Place{Pass: pass + 1, Of: len(b.plan.Passes), Share: b.plan.Passes[pass].Share},
		Tool: b.plan.Tools[0], Setting: b.plan.Passes[pass].Settings[0]}
}

func (b *Bench) add(step func() Task) { b.steps = append(b.steps, step) }

// stallNow tightens a bolt and tells what came of it.
func (b *Bench) stallNow(id string, bolt sequence.Bolt, torque, right unit.Torque, words func(Change) []string) Task {
	if !b.done[id] {
		b.done[id] = true
		if err := b.joint.stall([]pull{{bolt, torque, right}}, id); err != nil {
			return told(id, "THE MODEL FAILED", err.Error())
		}
	}
	t := told(id, "AFTER THE STALL", words(*b.joint.Last())...)
	t.Loads = b.joint.Last()
	return t
}

func whole(s unit.Share) string { return fmt.Sprintf("%.0f %%", 100*float64(s)) }

func (b *Bench) oneBolt() {
	tool := b.plan.Tools[0]
	for i, pass := range b.plan.Passes {
		s := pass.Settings[0]
		b.add(func() Task { return chartTask(fmt.Sprintf("chart %d", i+1), tool, s, "", b.plan.System) })
		b.add(func() Task {
			return setTask(fmt.Sprintf("regulator %d", i+1), tool, s, b.script.standsStill == i+1, false)
		})
		b.add(func() Task {
			torque := s.Delivered
			if read, low := b.actual[setKey(sequence.Place{Pass: i + 1}, 0)]; low {
				if t, err := tool.Chart.Torque(read); err == nil {
					torque = t
				} else {
					torque = 0
				}
			}
			return b.stallNow(fmt.Sprintf("stall %d", i+1), 1, torque, s.Delivered, func(c Change) []string {
				return []string{fmt.Sprintf("The tool stalls. In the model the bolt carries %s of the target; %s was meant.", whole(c.After[0]), pass.Share.Text())}
			})
		})
	}
	b.add(func() Task {
		return choice("same torque", "EQUAL TORQUE", Checks,
			[]string{"Five more studs get the same torque, with the same lubricant from the same tin."},
			"Do they carry the same load?",
			[]string{"yes, torque is load", "within a few per cent", "no, one may carry a quarter more and another a quarter less"},
			[]string{"Most of the torque is lost in friction, and friction differs from nut to nut.", "Friction differs more than that from nut to nut, even with one lubricant.",
				"Most of the torque is lost in friction, and friction differs from nut to nut: a quarter up or down is usual (common practice)."}, 3)
	})
	b.add(func() Task {
		var parts []string
		for i := range 5 {
			f := 1 + frictionScatter*max(-1, min(1, drawn(b.Seed, fmt.Sprint("stud", i))/2))
			parts = append(parts, whole(unit.Share(f)))
		}
		return told("five studs", "FIVE STUDS", "The same torque on five studs of the model gives, of the target:", "", "     "+strings.Join(parts, "   "), "",
			"So torque is not load. What helps is the same lubricant on every thread and nut face, and clean threads.")
	})
}

func (b *Bench) twoBolts() {
	full := b.plan.Passes[len(b.plan.Passes)-1].Settings[0].Delivered
	stall := func(id string, bolt sequence.Bolt, words func(Change) []string) {
		b.add(func() Task { return b.stallNow(id, bolt, full, full, words) })
	}
	stall("first", 1, func(c Change) []string {
		return []string{fmt.Sprintf("Bolt 1 is tightened to full torque. In the model it carries %s of the target.", whole(c.After[0]))}
	})
	b.add(func() Task {
		return choice("neighbour", "THE BOLT BESIDE IT", Order, []string{"Now bolt 2, beside it, is tightened with the same torque."}, "What becomes of the load of bolt 1?",
			[]string{"it stays: bolt 1 had its torque", "it grows", "it falls"},
			[]string{"Bolt 2 presses the gasket and bends the flange where bolt 1 sits, so that bolt 1 gets shorter by itself.", "Bolt 2 takes over a part of what bolt 1 pressed, and does not add to it.",
				"Bolt 2 presses the gasket and bends the flange where bolt 1 sits: bolt 1 can shorten a little."}, 3)
	})
	stall("second", 2, func(c Change) []string {
		return []string{fmt.Sprintf("Bolt 2 carries %s. Bolt 1 fell from %s to %s, and nobody touched it. In one go to full torque it is much: in passes each step takes less.", whole(c.After[1]), whole(c.Before[0]), whole(c.After[0]))}
	})
	b.add(func() Task {
		return choice("bring back", "BRING IT BACK", Checks, []string{fmt.Sprintf("Bolt 1 carries %s.", whole(b.joint.Shares()[0]))}, "What brings it back?",
			[]string{"a higher pressure on bolt 2", "bolt 1 once more, at the same pressure", "nothing: it had its torque"},
			[]string{"That would take still more from bolt 1, and load bolt 2 beyond what is meant.", "The same torque again brings bolt 1 back to what is meant. That is why a joint gets several passes, and check rounds.",
				"Torque reached is no load kept: it fell when its neighbour was tightened."}, 2)
	})
	stall("again", 1, func(c Change) []string {
		return []string{fmt.Sprintf("Bolt 1 is back at %s. Bolt 2 fell from %s to %s: less than bolt 1 did.", whole(c.After[0]), whole(c.Before[1]), whole(c.After[1]))}
	})
	b.add(func() Task {
		return choice("until still", "HOW LONG?", Checks, []string{"Each time a bolt is brought back, its neighbour loses a little, less each time."}, "When are both good?",
			[]string{"after two times", "when neither nut moves any more", "never"},
			[]string{"How often it takes depends on flange and gasket: the nuts tell.", "So the check rounds go on until no nut moves.", "Each time less is lost, until no nut moves."}, 2)
	})
	stall("still", 2, func(c Change) []string {
		return []string{fmt.Sprintf("Now %s and %s. On a flange every bolt has two neighbours, and the gasket gives way too: so there are passes, and then rounds.", whole(c.After[0]), whole(c.After[1]))}
	})
}
