package tui

import (
	"strings"
	"testing"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// finishing has the alignment measured, the studs too, and a leak test. The stud
// is 0.5 m long.
func finishing(p *sequence.Plan) {
	limits := sequence.UsualAlignment
	p.Alignment, p.LeakTest = &limits, true
	thread, _ := joint.ParseThread(p.Thread)
	give := unit.Compliance(joint.Elongation(thread, 1, 0.48, 0.02, joint.Modulus(p.About.Grade)))
	p.Stretch = &sequence.Stretching{Give: give, Expected: unit.Length(float64(p.Aim.Load) * float64(give)), Reading: 0.01e-3, Low: 0.75 * p.Aim.Load, High: 1.25 * p.Aim.Load}
	for i, q := range p.Questions {
		p.Questions[i].Measured = q.ID == "9"
	}
}

func atFinish(job string, here func(sequence.Step) bool) func(testing.TB) *trial {
	return func(t testing.TB) *trial { return start(t, job, finishing).to(here).show() }
}

func stud(b sequence.Bolt) func(sequence.Step) bool {
	return func(s sequence.Step) bool { st, ok := s.(sequence.Stretch); return ok && st.Bolt == b }
}

func addFinish(add func(string, func(testing.TB) *trial)) {
	add("alignment", after(atFinish(twelve, question("9")), "0.02", "enter", "0.01"))
	beyond := after(atFinish(four, question("9")), "0.04", "enter", "0.04", "enter", "0.1", "enter")
	add("alignment-beyond", beyond)
	add("alignment-again", after(beyond, "m"))
	add("stretch", after(func(t testing.TB) *trial {
		c := start(t, twelve, finishing).to(stud(4))
		return c.do(c.s.Walk.StretchOf(4, 0.8e-3)).show()
	}, "0.021"))
	add("stretch-32", atFinish(cover, stud(20)))
	outside := func(t testing.TB) *trial {
		c := start(t, four, finishing).to(stud(4))
		return c.do(c.s.Walk.StretchOf(4, 0.1e-3)).show()
	}
	add("stretch-outside", outside)
	add("stretch-both", func(t testing.TB) *trial {
		c := start(t, twelve, finishing).to(stud(10))
		load := c.s.Walk.Plan().Stretch
		return c.do(c.s.Walk.StretchOf(10, load.Expected/2), c.s.Walk.StretchOf(11, load.Expected*3/5), c.s.Walk.StretchOf(12, load.Expected*3/2)).show()
	})
	add("gate-after-leak", func(t testing.TB) *trial {
		c := start(t, twelve, func(p *sequence.Plan) { p.AfterLeak([]sequence.Bolt{3, 4}) })
		return c.to(question("leak")).show()
	})
	add("gate-after-leak-told", func(t testing.TB) *trial {
		c := start(t, twelve, func(p *sequence.Plan) { p.AfterLeak([]sequence.Bolt{3, 4}) })
		c.to(question("leak")).show()
		c.press("y")
		c.write("scratch across the face at bolt 3")
		c.press("enter")
		c.write("face machined, new gasket")
		return c
	})
	add("sign-on-after-leak", func(t testing.TB) *trial {
		c := start(t, twelve).show()
		c.root.notice = "This joint LEAKED beside bolt 3, 4, card DH-112-F03.20261125-k7w2hd.card.jsonl. This is a new one, which follows it."
		return c
	})
	add("leak-test", atFinish(twelve, stepOf[sequence.LeakTest]))
	add("leak-tight", after(atFinish(twelve, stepOf[sequence.LeakTest]), "1", "T-12"))
	add("leak-leaked", after(atFinish(twelve, stepOf[sequence.LeakTest]), "2", "4 5", "enter", "drips"))
	add("leak-untested", after(atFinish(twelve, stepOf[sequence.LeakTest]), "3"))
	add("leak-closed", func(t testing.TB) *trial {
		return start(t, four, finishing).to(stepOf[sequence.LeakTest]).do(sequence.LeakTested{Result: sequence.Leaked, Bolts: []sequence.Bolt{2}},
			sequence.CardClosed{Witness: "Wim Falk", Role: "inspector"}).show()
	})
	add("check-estimate", func(t testing.TB) *trial {
		c := at(twelve, isCheck)(t)
		c.root.opt.Rounds = func(sequence.Plan) string { return "An estimate: 3 to 6 rounds until no nut moves." }
		c.send(estimated(c.root.opt.Rounds(*c.root.session.Walk.Plan())))
		return c
	})
	middle := at(twelve, bolt(6, 2))
	add("hazard", after(middle, "p", "p"))
	for _, k := range sequence.StopKinds {
		add("hazard-"+string(k.What), after(middle, "p", "p", k.Key))
		add("stop-"+string(k.What), at(twelve, bolt(6, 2), sequence.ProblemFound{What: k.What, Reason: "seen at bolt 6"}))
	}
}

// The alignment beyond its limits is measured again, or released by somebody else.
func TestAlignmentOnScreen(t *testing.T) {
	c := atFinish(four, question("9"))(t)
	typed := func(values ...string) {
		for _, v := range values {
			c.write(v)
			c.press("enter")
		}
	}
	typed("0.04", "0.04", "0.1")
	if a, ok := c.root.step.(sequence.Ask); !ok || !a.SaidNo {
		t.Fatalf("0.04 in out of parallel: %+v (%s)", c.root.step, c.root.notice)
	}
	c.press("y")
	if !strings.Contains(c.root.notice, "measured") {
		t.Errorf("y says %q", c.root.notice)
	}
	c.press("m")
	typed("0.04", "0.02", "0.1")
	if a, ok := c.root.step.(sequence.Ask); !ok || a.Question.ID == "9" {
		t.Errorf("within the limits comes %+v (%s)", c.root.step, c.root.notice)
	}
	last := c.s.Walk.LastAnswered()
	if last != "9" {
		t.Errorf("question %s was answered last", last)
	}
}

// A reading that cannot be is refused with what is expected.
func TestStretchOnScreen(t *testing.T) {
	c := atFinish(four, stud(1))(t)
	c.write("9")
	c.press("enter")
	if !strings.Contains(c.root.notice, "not believable") || !stud(1)(c.root.step) {
		t.Errorf("9 in: %q", c.root.notice)
	}
	c.press("backspace")
	want := c.root.step.(sequence.Stretch).BandWords(unit.US)
	c.write(strings.Fields(want)[0])
	c.press("enter")
	if !stud(2)(c.root.step) {
		t.Errorf("after %s comes %+v (%s)", want, c.root.step, c.root.notice)
	}
	if c.press("esc"); !stud(1)(c.root.step) {
		t.Errorf("taken back, %+v is next (%s)", c.root.step, c.root.notice)
	}
}

// A no to what the work is lists what stops it; whoever leaves there has stopped
// the work, whoever goes back is asked again.
func TestOtherWorkAtTheGate(t *testing.T) {
	ask := question("work")
	c := at(twelve, ask)(t)
	if c.press("n", "b"); !ask(c.root.step) || !ask(c.s.Walk.Next(c.now)) {
		t.Errorf("gone back, next is %+v", c.root.step)
	}
	c.press("n", "q")
	if stop, ok := c.s.Walk.Next(c.now).(sequence.Stop); !ok || !strings.Contains(stop.Reason, sequence.NotSaid) {
		t.Errorf("left at the list, next is %+v", c.s.Walk.Next(c.now))
	}
	for _, kind := range sequence.StopKinds {
		c := at(twelve, ask)(t)
		c.press("n", kind.Key)
		c.write("order 7")
		c.press("enter")
		if stop, ok := c.root.step.(sequence.Stop); !ok || stop.What != kind.What {
			t.Errorf("%s: next is %+v (%s)", kind.Name, c.root.step, c.root.notice)
		}
	}
}

// Whoever leaves while a stop is being said has stopped the work.
func TestLeavingAtAStopStops(t *testing.T) {
	for _, kind := range []string{"1", "8"} {
		c := at(twelve, bolt(6, 2))(t)
		c.press("p", "p", kind, "ctrl+c")
		stop, ok := c.s.Walk.Next(c.now).(sequence.Stop)
		if !ok || stop.Reason == "" {
			t.Errorf("kind %s: next is %+v", kind, c.s.Walk.Next(c.now))
		}
	}
}
