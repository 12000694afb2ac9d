package tui

import (
	"testing"

	"evenload/joint"
	"evenload/sequence"
)

// withSpare gives a job a second tool: the same make, another chart.
func withSpare(p *sequence.Plan) {
	t := p.Tools[0]
	t.ID, t.Certificate, t.Gauge.ID = "W-08", "C-2304", "G-15"
	t.Chart = nil
	for _, point := range p.Tools[0].Chart {
		t.Chart = append(t.Chart, joint.Point{Pressure: point.Pressure, Torque: point.Torque * 1.1})
	}
	p.Spare = []joint.Tool{t}
}

// overdue makes the second tool one that is out of date.
func overdue(p *sequence.Plan) {
	withSpare(p)
	p.Spare[0].Due = joint.Date{Year: 2026, Month: 10, Day: 1}
}

// out is a bolt that is out: the n-th of a pass.
func out(t testing.TB, n, pass int, what sequence.What) *trial {
	c := start(t, twelve).to(bolt(n, pass))
	b := c.s.Walk.Next(c.now).(sequence.Tighten).Bolts[0]
	return c.do(sequence.ProblemFound{Bolt: b, What: what, Batch: "H-441"})
}

// released goes on after a problem.
func released(c *trial) *trial {
	r := c.s.Walk.Next(c.now).(sequence.Release)
	return c.do(sequence.Released{Of: r.Of, Bolt: r.Bolt, Named: engineer})
}

func addTroubles(add func(string, func(testing.TB) *trial), middle func(testing.TB) *trial) {
	add("problem-choice", after(middle, "p", "1"))
	add("problem-bolt", after(middle, "p", "1", "1", "the nut binds"))
	add("problem-now", after(middle, "p", "5", "2", "far nut held"))
	add("problem-stop", after(middle, "p", "p", "8", "water drips"))
	add("problem-out", after(middle, "p", "3", "enter", "H-441", "enter", "galled"))
	add("problem-number", after(middle, "p", "7", "7"))
	add("problem-pressure", after(middle, "p", "9", "3.9"))
	add("problem-injury", after(middle, "p", "d", "a finger was caught"))
	add("problem-other", after(middle, "p", "4", "2", "enter", "enter", "a bang"))
	gaps := at(twelve, func(s sequence.Step) bool { g, is := s.(sequence.GapCheck); return is && !g.All })
	add("hazard-gaps", after(gaps, "ctrl+p"))
	add("elsewhere", after(gaps, "ctrl+p", "9"))
	add("elsewhere-gasket", after(gaps, "ctrl+p", "9", "a", "7", "enter", "bulges"))
	add("gaps-out", func(t testing.TB) *trial {
		c := gaps(t).do(sequence.ProblemFound{Bolt: 7, What: sequence.Broke})
		return released(c).show()
	})
	add("elsewhere-out", after(func(t testing.TB) *trial {
		return released(gaps(t).do(sequence.ProblemFound{Bolt: 7, What: sequence.Broke})).show()
	}, "ctrl+p", "9"))
	add("snug-out", func(t testing.TB) *trial {
		return at(twelve, stepOf[sequence.Snug], sequence.ProblemFound{Bolt: 7, What: sequence.Seized})(t).show()
	})
	resting := at(twelve, stepOf[sequence.Rest])
	add("hazard-rest", after(resting, "p"))
	add("elsewhere-broke", after(resting, "p", "9", "4", "7"))
	add("release-rest", func(t testing.TB) *trial {
		return resting(t).do(sequence.ProblemFound{Bolt: 7, What: sequence.GasketOut, Reason: "bulges"}).show()
	})
	add("release-broke-rest", func(t testing.TB) *trial {
		return resting(t).do(sequence.ProblemFound{Bolt: 7, What: sequence.Broke}).show()
	})
	add("problem-left", func(t testing.TB) *trial {
		c := start(t, twelve).to(bolt(6, 1))
		b := c.s.Walk.Next(c.now).(sequence.Tighten).Bolts[0]
		c.do(noBolt(b)).to(bolt(8, 1))
		b = c.s.Walk.Next(c.now).(sequence.Tighten).Bolts[0]
		c.do(sequence.ProblemFound{Bolt: b, What: sequence.Seized}).show()
		c.press("p")
		return c
	})
	add("bolt-out", func(t testing.TB) *trial { return released(released(out(t, 6, 3, sequence.Seized))).show() })
	add("release-out", func(t testing.TB) *trial { return out(t, 6, 2, sequence.Seized).show() })
	twoOut := func(t testing.TB) *trial {
		c := out(t, 1, 1, sequence.Seized)
		b := c.s.Walk.Next(c.now).(sequence.Tighten).Bolts[0]
		return released(c.do(sequence.ProblemFound{Bolt: b, What: sequence.Seized})).show()
	}
	add("release-two-out", twoOut)
	add("parts-of-two", after(twoOut, "x", "7", "enter", "H-461"))
	add("hand-over-held", after(func(t testing.TB) *trial { return out(t, 6, 2, sequence.Seized).show() }, "h"))
	add("release-broke", func(t testing.TB) *trial { return out(t, 1, 1, sequence.Broke).show() })
	add("release-restart", after(func(t testing.TB) *trial { return out(t, 6, 2, sequence.Broke).show() }, append([]string{"s"}, typed...)...))
	add("release-missing", func(t testing.TB) *trial {
		return released(out(t, 6, 2, sequence.Seized)).to(stepOf[sequence.Release]).show()
	})
	add("parts", after(func(t testing.TB) *trial { return released(out(t, 6, 3, sequence.Seized)).show() }, "x", "H-460"))
	again := func(t testing.TB) *trial {
		c := released(out(t, 6, 3, sequence.Seized))
		return c.do(sequence.Replaced{Bolt: c.s.Walk.Out()[0], Batch: "H-460"})
	}
	add("set-again", func(t testing.TB) *trial { return again(t).show() })
	add("bolt-again", func(t testing.TB) *trial { return again(t).to(stepOf[sequence.Tighten]).show() })
	add("problem-again", after(func(t testing.TB) *trial { return again(t).to(stepOf[sequence.Tighten]).show() }, "p", "1", "seen to"))
	add("release-wrong-pressure", func(t testing.TB) *trial {
		c := start(t, twelve).to(bolt(6, 3))
		step := c.s.Walk.Next(c.now).(sequence.Tighten)
		return c.do(sequence.ProblemFound{Bolt: step.Bolts[0], What: sequence.WrongPressure, Read: step.Work.Setting.Most + 0.6e5}).show()
	})
	add("release-pressure", func(t testing.TB) *trial {
		c := start(t, twelve).to(setting(3, true))
		return c.do(sequence.PressureSet{AtEnd: true, Running: c.s.Walk.Next(c.now).(sequence.Set).Most + 0.6e5, Sure: true}).show()
	})
	addTools(add)
}

func addTools(add func(string, func(testing.TB) *trial)) {
	list := func(n int, change func(*sequence.Plan)) func(testing.TB) *trial {
		return after(func(t testing.TB) *trial { return start(t, twelve, change).to(bolt(n, 2)).show() }, "t")
	}
	middle := list(6, withSpare)
	add("tool", middle)
	add("tool-alone", after(at(twelve, bolt(6, 2)), "t"))
	add("tool-again", after(middle, "1"))
	add("tool-named", after(middle, "1", "2", "no air", "enter", "Eva Lind", "enter", "responsible engineer"))
	add("tool-first", after(list(1, withSpare), "1", "drops pressure"))
	add("tool-overdue", after(list(6, overdue), "1", "1", "no air"))
	add("tool-overdue-go-on", after(list(6, overdue), "1", "2", "no air"))
	add("tool-file", after(middle, "f", "tools/w-08.toml"))
	add("tool-hose", after(middle, "h", "10 m instead of 5 m"))
	add("tool-set", after(func(t testing.TB) *trial { return start(t, twelve, withSpare).to(setting(2, false)).show() }, "ctrl+t"))
	changed := func(t testing.TB) *trial {
		c := start(t, twelve, withSpare).to(bolt(6, 2))
		d, err := c.s.Walk.ToolChange(0, c.s.Walk.OtherTools()[0], joint.DateOf(c.now))
		if err != nil {
			t.Fatal(err)
		}
		d.Reason = "no air"
		return c.do(d)
	}
	add("tool-question", func(t testing.TB) *trial { return changed(t).show() })
	add("set-new-tool", func(t testing.TB) *trial { return changed(t).to(setting(2, false)).show() })
}
