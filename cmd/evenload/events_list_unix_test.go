//go:build !windows

package main

import (
	"fmt"
	"strings"
	"time"

	"evenload/joint/unit"
	"evenload/sequence"
)

func inPass(pass, done int) func(sequence.Step) bool {
	return func(s sequence.Step) bool {
		t, ok := s.(sequence.Tighten)
		return ok && t.Pass == pass && t.Done == done
	}
}

func stepIs[S sequence.Step](s sequence.Step) bool { _, ok := s.(S); return ok }

func questionIs(id string) func(sequence.Step) bool {
	return func(s sequence.Step) bool { a, ok := s.(sequence.Ask); return ok && a.Question.ID == id }
}

func endOf(pass int) func(sequence.Step) bool {
	return func(s sequence.Step) bool { set, ok := s.(sequence.Set); return ok && set.AtEnd && set.Pass == pass }
}

func keys(all ...string) func(sequence.Walk) []string {
	return func(sequence.Walk) []string { return all }
}

// boltEvents are all problems at a bolt, and all that stops the work there.
func boltEvents() []event {
	var all []event
	at := inPass(2, 1)
	bolts := func(w sequence.Walk) (done, later sequence.Bolt) {
		s := w.Plan().Stations
		return s[0][0], s[2][0]
	}
	for _, trouble := range sequence.Troubles {
		e := event{name: string(trouble.What), at: at, wants: []string{trouble.Name}}
		rest := []string{"nut of bolt\r"}
		switch {
		case trouble.Chooses():
			e.keys = func(w sequence.Walk) []string {
				b, later := bolts(w)
				if trouble.What == sequence.WrongBolt {
					b = later
				}
				return []string{"p", trouble.Key, fmt.Sprintf("%d\r", b), "marks\r"}
			}
		case trouble.What == sequence.WrongPressure:
			e.keys = func(w sequence.Walk) []string {
				set := w.Plan().Passes[1].Settings[0].Set + 1e5
				return []string{"p", trouble.Key, set.Reading(unit.InBar, 0.1e5) + "\r", "gauge\r"}
			}
			e.wants = append(e.wants, "WORK HELD at bolt")
		case trouble.Takes():
			rest = []string{"\r", "B-1\r", "squeals\r"}
			e.wants = append(e.wants, "batch B-1", "has new parts, batch N-7", "released, the work after a problem at bolt")
		case trouble.Leaves():
			rest = append([]string{"2"}, rest...)
			e.wants = append(e.wants, "put right at once")
		case trouble.Anywhere():
			rest = append([]string{"\r"}, rest...)
			e.wants = append(e.wants, "WORK HELD at bolt", "by Wim, inspector: looked at")
		case trouble.Stops():
			e.wants = append(e.wants, "WORK STOPPED: "+trouble.Name, "permit P-2")
		}
		if trouble.What == sequence.OtherTrouble {
			e.wants[0] = "nut of bolt"
		}
		if e.keys == nil {
			e.keys = keys(append([]string{"p", trouble.Key}, rest...)...)
		}
		all = append(all, e)
	}
	for _, kind := range sequence.StopKinds {
		all = append(all, event{name: "stop " + string(kind.What), at: at, keys: keys("p", "p", kind.Key, "seen\r"), wants: []string{"WORK STOPPED: ", "seen", "permit P-2"}})
	}
	for _, kind := range sequence.StopKinds {
		all = append(all, event{name: "gate " + string(kind.What), at: questionIs("work"), keys: keys("n", kind.Key, "order 7\r"),
			wants: []string{"WORK STOPPED: ", "order 7", "permit P-2"}, twice: []string{"yes: Tag reads?"}})
	}
	return append(all,
		event{name: "left and released", at: at, keys: keys("p", "1", "1", "\r"), wants: []string{"left undone: did not stall", "by Wim, inspector: looked at"}},
		event{name: "another stud breaks", at: at, keys: keys("p", "4", "1\r", "B-1\r", "a bang\r"),
			wants: []string{"bolt 1 out: stud broke, a bang, batch B-1", "bolt 1 has new parts, batch N-7"}, twice: []string{"pass 2, bolt 1 done"}},
		event{name: "undone", at: at, keys: keys("u"), wants: []string{"taken back"}},
		event{name: "note", at: at, keys: keys("n", "scaffold tag 7\r"), wants: []string{"note: scaffold tag 7"}},
		event{name: "tool", at: at, keys: keys("t", "1", "1", "no air\r"), wants: []string{"W-02", "no air"}},
		event{name: "hose", at: at, keys: keys("t", "h", "longer hose\r"), wants: []string{"hose or regulator changed: longer hose"}},
		event{name: "handover", at: at, keys: keys("h", "tool hangs\r"), then: "Cy", wants: []string{"handed over; on the flange: tool hangs", "yes: Did you speak with the one before you"}},
	)
}

// otherEvents are those at other places of the walk.
func otherEvents() []event {
	finish := func(text string) string {
		return with("alignment", "")(with("procedure", "elongation = true\nleak_test = true")(text))
	}
	setting := func(pass int, more unit.Pressure) func(sequence.Walk) []string {
		return func(w sequence.Walk) []string {
			set := w.Plan().Passes[pass-1].Settings[0].Set + more
			return []string{set.Reading(unit.InBar, 0.1e5) + "\r", "\r"}
		}
	}
	snug := func(s sequence.Step) bool { g, ok := s.(sequence.GapCheck); return ok && g.After == "snug" }
	twoTools := func(text string) string {
		return strings.Replace(text, "[procedure]\n", "[procedure]\ntools_at_once = 2\n", 1)
	}
	cover := func(text string) string {
		text = strings.Replace(text, "gap_places = 2", "gap_places = 4", 1)
		return with("bolts", `positions = [{ x = "-200 mm", y = "100 mm" }, { x = "200 mm", y = "100 mm" }, { x = "200 mm", y = "-100 mm" }, { x = "-200 mm", y = "-100 mm" }]`)(text)
	}
	return []event{
		{name: "sign-on of a trainee", at: stepIs[sequence.SignOn], keys: keys("Ann\r", "\t", "fitter\r", "Works crew\r", "Q-4\r", "2036-03-31\r", "Eva\r"), wants: []string{"TRAINEE, supervised by Eva", "TRAINEE Ann, supervised by Eva", "qualification Q-4"}},
		{name: "qualification expired", at: stepIs[sequence.SignOn], keys: keys("Ann\r", "\t", "\r", "\r", "Q-4\r", "2020-03-31\r", "\r"), wants: []string{"released, the work with a qualification that has expired, by Wim"}},
		{name: "batches", job: with("record", "batches = true"), at: stepIs[sequence.Materials], keys: keys("G-1\r", "S-1\r", "N-1\r", "L-1\r", "12\r"), wants: []string{"gasket batch G-1", "ambient temperature 12"}},
		{name: "gate stop", at: questionIs("3"), keys: keys("n"), wants: []string{"no: Is the line isolated", "permit P-2"}},
		{name: "gate override", at: questionIs("7"), keys: keys("n"), wants: []string{"no: Are both faces clean", "released, Are both faces clean and undamaged?, by Wim, inspector: looked at"}},
		{name: "hold point", job: with("procedure", `hold = ["gate", "before 100 %", "before close"]`), at: inPass(1, 2), keys: keys(" "), wants: []string{"hold point gate", "hold point before 100 %, by Wim, inspector: looked at", "hold point before close"}},
		{name: "gaps", at: snug, keys: keys("1\r", "3\r"), wants: []string{"gaps 1 mm beside bolt 1, 3 mm beside bolt 3", "gaps beyond the limit accepted by Wim, inspector"}},
		{name: "stud breaks at the gaps", at: func(s sequence.Step) bool {
			g, ok := s.(sequence.GapCheck)
			return ok && strings.HasPrefix(g.After, "pass at")
		},
			keys: keys("\x10", "9", "4", "3\r", "B-1\r", "a bang\r"), wants: []string{"bolt 3 out: stud broke, a bang, batch B-1", "bolt 3 has new parts, batch N-7", "released, the work after a problem at bolt 3"}},
		{name: "stud seized at the setting", at: func(s sequence.Step) bool { set, ok := s.(sequence.Set); return ok && !set.AtEnd && set.Pass == 2 },
			keys: keys("\x10", "9", "3", "2\r", "\r", "\r"), wants: []string{"bolt 2 out: seized or galled", "bolt 2 has new parts, batch N-7"}},
		{name: "gasket in the rest", job: func(text string) string { return strings.Replace(text, `"0 min"`, `"4 h"`, 1) }, at: stepIs[sequence.Rest],
			keys:  keys("p", "9", "a", "2\r", "bulges\r", "r", "Wim\r", "inspector\r", "looked at\r", "w", "Wim\r", "inspector\r", "agreed\r"),
			wants: []string{"WORK HELD at bolt 2: gasket comes out between the faces, bulges", "rest waived by Wim"}},
		{name: "low at the end", at: endOf(1), keys: setting(1, -0.5e5), wants: []string{"end reading"}, twice: []string{"pass 1, bolt 1 done", "pass 1, bolt 4 done"}},
		{name: "high at the end", at: endOf(2), keys: setting(2, 0.5e5), wants: []string{"above the band", "released, the pressure above its band at the end of the pass, by Wim"}},
		{name: "long break", at: inPass(2, 2), ago: 2 * time.Hour, keys: keys(" "), twice: []string{"yes: Is the permit live today", "yes: Is the line isolated", "yes: Foot on solid metal"}},
		{name: "nut moves", at: stepIs[sequence.Check], keys: keys("m"), wants: []string{"check round 1.1, nut 1 moved", "check round 1.2, nut 1 still"}},
		{name: "rest waived", job: func(text string) string { return strings.Replace(text, `"0 min"`, `"4 h"`, 1) }, at: stepIs[sequence.Rest], keys: keys("w", "Wim\r", "inspector\r", "agreed\r"), wants: []string{"rest waived by Wim, inspector: agreed"}},
		{name: "two tools", job: twoTools, at: inPass(2, 2), keys: keys(" "), wants: []string{"with tool A W-01", "with tool B W-02"}},
		{name: "problem with two tools", job: twoTools, at: inPass(1, 0), keys: keys("p", "b", "1", "2", "hose\r"), wants: []string{"did not stall, hose, put right at once (tool B W-02)"}},
		{name: "no ring", job: cover, at: inPass(2, 2), keys: keys(" "), wants: []string{"outward"}},
		{name: "alignment", job: finish, at: questionIs("9"), keys: keys("2\r", "0.5\r", "1\r"), wants: []string{"Centre offset 2 mm, at most 1.5 mm: BEYOND", "released, "}},
		{name: "stretch", job: finish, at: stepIs[sequence.Stretch], keys: keys("0.01\r"), wants: []string{"OUTSIDE the band", "released, studs whose load by stretch is outside the band, by Wim", "in the band"}},
		{name: "tight", job: finish, at: stepIs[sequence.LeakTest], keys: keys("1", "T-9\r"), wants: []string{"leak test: tight, test sheet T-9"}},
		{name: "leak", job: finish, at: stepIs[sequence.LeakTest], keys: keys("2", "3, 4\r", "drips\r"), wants: []string{"LEAKED at its leak test", "leak test: leaked, beside bolt 3, 4, drips"}},
		{name: "not tested", job: finish, at: stepIs[sequence.LeakTest], keys: keys("3", "the site tests\r"), wants: []string{"leak test: not tested, the site tests"}},
	}
}
