package tui

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/joint"
	"evenload/sequence"
	"evenload/tui/desk"
	"evenload/tui/draw"
)

// screen is one screen as a person meets it, reached by events and keys.
type screen struct {
	name  string
	reach func(testing.TB) *trial
	other func(testing.TB, draw.Theme) tea.Model // of one without a walk, other than the list
}

// model gives the screen in a theme.
func (s screen) model(t testing.TB, th draw.Theme) tea.Model {
	t.Helper()
	if s.other != nil {
		return s.other(t, th)
	}
	if s.reach == nil {
		return desk.New(items, th)
	}
	c := s.reach(t)
	c.root.opt.Theme = th
	return c.root
}

// items are a list such as the works' folder gives.
var items = []desk.Item{
	{Kind: "open card", Name: "DH-112-F03.20261125-4F7K2M.card.jsonl", Text: "last 2026-11-25 08:31 Ann Berg"},
	{Kind: "card", Name: "DH-104-F11.20261119-Q2Z8AA.card.jsonl", Text: "cannot be read: evenload verify says why"},
	{Kind: "job", Name: "exchanger-cover-32.toml"},
	{Kind: "job", Name: "pump-house-6in-150.toml"},
	{Kind: "practice", Name: "PRACTICE-4", Text: "Training loop, four bolts"},
	{Kind: "practice", Name: "PRACTICE-8", Text: "Training loop, eight bolts"},
}

// steps of a kind, to be reached.
func stepOf[S sequence.Step](s sequence.Step) bool { _, ok := s.(S); return ok }

func question(id string) func(sequence.Step) bool {
	return func(s sequence.Step) bool { a, ok := s.(sequence.Ask); return ok && a.Question.ID == id }
}

func bolt(n, pass int) func(sequence.Step) bool {
	return func(s sequence.Step) bool {
		t, ok := s.(sequence.Tighten)
		return ok && t.Pass == pass && t.Done+1 == n
	}
}

func setting(pass int, atEnd bool) func(sequence.Step) bool {
	return func(s sequence.Step) bool {
		set, ok := s.(sequence.Set)
		return ok && set.Pass == pass && set.AtEnd == atEnd
	}
}

func gapsAfter(after string) func(sequence.Step) bool {
	return func(s sequence.Step) bool { g, ok := s.(sequence.GapCheck); return ok && g.After == after }
}

// at is the screen of a step of a job.
func at(job string, here func(sequence.Step) bool, more ...sequence.Data) func(testing.TB) *trial {
	return func(t testing.TB) *trial { return start(t, job).to(here).do(more...).show() }
}

// after is a screen with keys pressed on it; more than one letter is typed.
func after(reach func(testing.TB) *trial, keys ...string) func(testing.TB) *trial {
	return func(t testing.TB) *trial {
		c := reach(t)
		for _, k := range keys {
			if named := key(k); len(named.Runes) > 1 {
				c.write(k)
			} else {
				c.press(k)
			}
		}
		return c
	}
}

// moved goes through check rounds in which the nuts of some bolts move.
func moved(c *trial, rounds int, bolts ...sequence.Bolt) *trial {
	for range rounds {
		for b := range c.s.Walk.Plan().Bolts {
			check, ok := c.s.Walk.Next(c.now).(sequence.Check)
			if !ok {
				return c
			}
			var d sequence.Data = sequence.NutStill{Round: check.Round, Bolt: check.Bolt}
			for _, m := range bolts {
				if sequence.Bolt(b+1) == m {
					d = sequence.NutMoved{Round: check.Round, Bolt: check.Bolt}
				}
			}
			c.do(d)
		}
	}
	return c
}

var (
	readings = []sequence.Gap{{Bolt: 1, Gap: 0.0034}, {Bolt: 4, Gap: 0.0032}, {Bolt: 7, Gap: 0.0021}, {Bolt: 10, Gap: 0.003}}
	uneven   = sequence.GapsMeasured{Readings: readings}
	lopsided = sequence.GapsMeasured{Readings: []sequence.Gap{{Bolt: 1, Gap: 0.0021}, {Bolt: 2, Gap: 0.0024}, {Bolt: 4, Gap: 0.0031},
		{Bolt: 5, Gap: 0.0033}, {Bolt: 6, Gap: 0.0034}, {Bolt: 7, Gap: 0.0029}, {Bolt: 9, Gap: 0.0024}, {Bolt: 10, Gap: 0.0022}}}
	leaking = sequence.ProblemFound{Reason: "water drips from the joint at bolt 6"}
	noBolt  = func(b sequence.Bolt) sequence.Data {
		return sequence.ProblemFound{Bolt: b, Reason: "the nut binds, thread damaged"}
	}
	isCheck = stepOf[sequence.Check]
	isRest  = stepOf[sequence.Rest]
	typed   = []string{"Eva Lind", "enter", "responsible engineer", "enter", "wait agreed"}
)

// screens are all screens of the program, each with a name of its own.
func screens() []screen {
	all := append([]screen{{name: "list"}}, benches()...)
	add := func(name string, reach func(testing.TB) *trial) { all = append(all, screen{name: name, reach: reach}) }
	add("sign-on", at(twelve, stepOf[sequence.SignOn]))
	add("sign-on-again", at(twelve, bolt(5, 2), sequence.Suspended{}))
	signOn := at(twelve, stepOf[sequence.SignOn])
	add("sign-on-second", after(signOn, "Carl Holm", "enter"))
	add("sign-on-more", after(signOn, "Carl Holm", "enter", "Bo Lund", "tab", "technician", "enter", "Works crew 2", "enter", "BT-114", "enter", "2036-03-31", "enter", "Eva Lind"))
	add("stop-more", after(at(twelve, bolt(6, 2), leaking), "Carl Holm", "enter", "enter", "P-3371", "tab"))
	add("qualification", func(t testing.TB) *trial {
		c := start(t, twelve)
		return c.do(sequence.SignedOn{Name: c.by, Qualification: "BT-114", QualifiedUntil: joint.Date{Year: 2026, Month: 11, Day: 20}}).show()
	})
	add("bolt-trainee", func(t testing.TB) *trial {
		c := start(t, twelve)
		return c.do(sequence.SignedOn{Name: c.by, Supervisor: "Eva Lind"}).to(bolt(6, 2)).show()
	})
	addGate(add)
	batches := func(p *sequence.Plan) { p.Batches = true }
	add("materials", after(func(t testing.TB) *trial { return start(t, twelve, batches).to(stepOf[sequence.Materials]).show() }, "G-4471", "enter", "S-0932"))
	add("snug", at(twelve, stepOf[sequence.Snug]))
	addGaps(add)
	addCover(add)
	addSettings(add)
	addBolts(add)
	addTeam(add)
	addTeamTroubles(add)
	addChecks(add)
	addDecisions(add)
	addFinish(add)
	addPractice(add)
	for _, s := range all {
		if s.reach == nil || s.name == "handed-over" || strings.HasPrefix(s.name, "sign-on") || s.name == "close" {
			continue // a form on a whole page has no key for help
		}
		if c := s.reach; helped[s.name] {
			add("help-"+s.name, after(c, "?"))
		}
	}
	add("writing", func(t testing.TB) *trial {
		c := start(t, twelve).to(bolt(6, 2)).show()
		c.send(key(" ")) // and the disk does not answer yet
		return c
	})
	add("disk-full", func(t testing.TB) *trial {
		c := start(t, twelve).to(bolt(6, 2)).show()
		c.send(key(" "))
		c.send(recorded{walk: c.s.Walk, err: errors.New("the disk took 0 of 214 bytes: no space left on device")})
		return c
	})
	add("too-early", func(t testing.TB) *trial {
		c := after(at(twelve, bolt(6, 2)), "x")(t)
		c.send(key(" "))
		return c
	})
	return all
}

// helped are screens whose help is shown too.
var helped = map[string]bool{"gate": true, "snug": true, "gaps-uneven": true, "bolt-12-middle": true, "check": true, "rest": true, "hold": true,
	"release-bolt": true, "stretch": true, "leak-test": true, "problem": true, "problem-choice": true, "tool": true, "closed": true, "team-2-middle": true, "team-2-check": true}

func addGate(add func(string, func(testing.TB) *trial)) {
	no := func(id string) sequence.Data { return sequence.Answered{Question: id, Answer: sequence.No} }
	add("gate", at(twelve, question("6")))
	add("gate-tag", at(twelve, question("1")))
	add("gate-work", at(twelve, question("work")))
	add("gate-work-no", after(at(twelve, question("work")), "n"))
	add("gate-limits", at(twelve, question("9")))
	add("gate-may-not", at(twelve, question("14")))
	add("gate-reason", after(at(twelve, question("14")), "a", "rigid pipe"))
	add("gate-no", at(twelve, question("6"), no("6")))
	add("gate-no-override", at(twelve, question("9"), no("9")))
	add("gate-release", after(at(twelve, question("9"), no("9")), append([]string{"r"}, typed...)...))
	add("gate-stop", at(twelve, question("3"), no("3")))
	add("stop", at(twelve, bolt(6, 2), leaking))
	add("resume", at(twelve, bolt(6, 2), sequence.Suspended{}, sequence.SignedOn{Name: "Ann Berg"}))
	add("handover", func(t testing.TB) *trial {
		c := start(t, twelve).to(bolt(6, 2)).do(sequence.Suspended{})
		c.by = "Carl Holm"
		return c.do(sequence.SignedOn{Name: c.by}, sequence.Answered{Question: "h1", Answer: sequence.Yes}).show()
	})
	add("closing", at(twelve, question("engagement")))
}

func addGaps(add func(string, func(testing.TB) *trial)) {
	snug := at(twelve, gapsAfter("snug"))
	add("gaps", after(snug, "0.13", "enter", "0.12"))
	add("gaps-pass", after(at(twelve, gapsAfter("pass at 30 %")), "0.13", "enter", "7"))
	add("gaps-si", after(at(cover, gapsAfter("pass at 25 %")), "3.4", "enter", "7", "enter", "3.1"))
	judged := at(twelve, gapsAfter("snug"), uneven)
	add("gaps-uneven", judged)
	add("gaps-accept", after(judged, append([]string{"a"}, typed...)...))
	add("gaps-final", at(twelve, gapsAfter("check rounds"), uneven))
}

// addCover are the screens that draw the joint, with bolts that are no ring.
func addCover(add func(string, func(testing.TB) *trial)) {
	add("snug-cover", at(filter, stepOf[sequence.Snug]))
	add("bolt-cover-first", at(filter, bolt(1, 2)))
	add("bolt-cover-middle", at(filter, bolt(6, 2)))
	add("bolt-cover-last", at(filter, bolt(10, 2)))
	add("check-cover", func(t testing.TB) *trial {
		c := moved(start(t, filter).to(isCheck), 1, 2, 3, 6).show()
		c.press(" ", "m", " ", " ")
		return c
	})
	typed := []string{}
	for _, gap := range []string{"3.4", "3.25", "3.1", "2.8", "2.6"} {
		typed = append(typed, gap, "enter")
	}
	add("gaps-cover", after(at(filter, gapsAfter("snug")), typed...))
	add("gaps-cover-pass", after(at(filter, gapsAfter("pass at 60 %")), "3.1", "enter", "6", "enter", "2.7", "enter", "10"))
	add("gaps-cover-uneven", at(filter, gapsAfter("snug"), lopsided))
	add("gaps-cover-pass-uneven", at(filter, gapsAfter("pass at 30 %"), sequence.GapsMeasured{Readings: []sequence.Gap{{Bolt: 6, Gap: 0.0031}, {Bolt: 1, Gap: 0.0024}}}))
}

func addSettings(add func(string, func(testing.TB) *trial)) {
	first := at(twelve, setting(2, false))
	add("set", after(first, "3.4"))
	add("set-static-low", after(first, "3.4", "enter", "3.4", "enter"))
	add("set-out-of-band", after(first, "3.9", "enter", "enter"))
	add("set-wrong-unit", after(first, "46", "enter", "enter"))
	add("set-at-rest", func(t testing.TB) *trial { return start(t, twelve, atRest).to(setting(2, false)).show() })
	add("set-psi", at(eight, setting(3, false)))
	end := at(twelve, setting(2, true))
	add("end-reading", end)
	add("end-reading-low", after(end, "2.5", "enter"))
	add("end-reading-high", after(end, "3.9", "enter"))
	rounds := at(twelve, func(s sequence.Step) bool { set, ok := s.(sequence.Set); return ok && set.AtEnd && set.Round > 0 })
	add("end-rounds", rounds)
	add("end-rounds-low", after(rounds, "4.9", "enter"))
}

func addBolts(add func(string, func(testing.TB) *trial)) {
	for _, j := range []struct {
		path  string
		bolts int
	}{{four, 4}, {eight, 8}, {twelve, 12}, {cover, 32}} {
		add(fmt.Sprintf("bolt-%d-first", j.bolts), at(j.path, bolt(1, 2)))
		add(fmt.Sprintf("bolt-%d-middle", j.bolts), at(j.path, bolt(j.bolts/2+1, 2)))
		add(fmt.Sprintf("bolt-%d-last", j.bolts), at(j.path, bolt(j.bolts, 2)))
	}
	add("bolt-left", func(t testing.TB) *trial {
		c := start(t, twelve).to(bolt(6, 2))
		b := c.s.Walk.Next(c.now).(sequence.Tighten).Bolts[0]
		return c.do(noBolt(b)).show()
	})
	add("undone", after(at(twelve, bolt(6, 2)), "u"))
}

func addChecks(add func(string, func(testing.TB) *trial)) {
	add("check", func(t testing.TB) *trial { return moved(start(t, twelve).to(isCheck), 1, 3, 4, 8).show() })
	add("check-first", at(twelve, isCheck))
	add("check-moved", func(t testing.TB) *trial {
		c := moved(start(t, twelve).to(isCheck), 3, 1, 4, 8)
		return after(func(testing.TB) *trial { return c.show() }, "m", " ", " ", "m", " ")(t)
	})
	add("check-32", func(t testing.TB) *trial {
		c := moved(start(t, cover).to(isCheck), 3, 1, 2, 5, 7, 8, 12, 13, 17, 22, 27, 31).show()
		c.press(" ", " ", "m", " ", " ", "m")
		return c
	})
	add("rest", at(twelve, isRest))
	add("rest-waive", after(at(twelve, isRest), append([]string{"w"}, typed...)...))
	add("rest-over", func(t testing.TB) *trial {
		c := start(t, twelve).to(isRest)
		c.now = c.s.Walk.Next(c.now).(sequence.Rest).Until.Add(pace)
		return c.show()
	})
}

// heldAt is the screen of a hold point.
func heldAt(name string) func(testing.TB) *trial {
	return func(t testing.TB) *trial {
		return start(t, twelve, held).to(func(s sequence.Step) bool { r, ok := s.(sequence.Release); return ok && r.Hold == name }).show()
	}
}

func addDecisions(add func(string, func(testing.TB) *trial)) {
	left := func(t testing.TB) *trial {
		c := start(t, twelve).to(bolt(6, 2))
		b := c.s.Walk.Next(c.now).(sequence.Tighten).Bolts[0]
		return c.do(noBolt(b)).to(stepOf[sequence.Release]).show()
	}
	add("release-bolt", left)
	add("hold", heldAt("before 60 %"))
	add("hold-rest", heldAt("before rest"))
	add("hold-deciding", after(heldAt("before 60 %"), "r", "Wim Falk", "enter", "inspector", "enter", "gaps, marks, setting"))
	add("release-deciding", after(left, append([]string{"r"}, typed...)...))
	add("release-rounds", func(t testing.TB) *trial {
		c := moved(start(t, twelve).to(isCheck), 4, 3)
		return c.do(sequence.PressureSet{AtEnd: true, Running: c.s.Walk.Next(c.now).(sequence.Set).Set}).show()
	})
	middle := at(twelve, bolt(6, 2))
	add("problem", after(middle, "p"))
	add("hand-over", after(middle, "h", "tool hangs on bolt 8, air off"))
	add("hand-over-set", after(at(twelve, setting(3, false)), "h"))
	add("hand-over-busy", func(t testing.TB) *trial {
		c := start(t, twelve, held).to(gapsAfter("snug")).do(uneven, sequence.GapsAccepted{Named: engineer}).to(bolt(6, 2))
		b := c.s.Walk.Next(c.now).(sequence.Tighten).Bolts[0]
		return after(func(testing.TB) *trial { return c.do(noBolt(b)).show() }, "h")(t)
	})
	add("handed-over", at(twelve, bolt(6, 2), sequence.HandedOver{State: "tool hangs on bolt 8, air off"}))
	addTroubles(add, middle)
	add("note", after(middle, "n", "scaffold tag 7"))
	add("close", at(twelve, stepOf[sequence.Close]))
	add("closed", func(t testing.TB) *trial {
		c := start(t, four).to(stepOf[sequence.Close])
		c.show()
		c.write("Wim Falk")
		c.press("enter")
		c.write("inspector")
		c.press("enter")
		return c
	})
}
