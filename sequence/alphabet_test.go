package sequence

import (
	"encoding/json"
	"reflect"
	"slices"
	"testing"
	"time"

	"evenload/joint"
	"evenload/joint/unit"
)

// few keeps only the questions that differ in what they do, so that an
// exploration stays small.
func few(p *Plan) {
	p.Questions = slices.DeleteFunc(p.Questions, func(q Question) bool {
		return !slices.Contains([]string{"1", "3", "9", "14", "h2", "marks", "tag", lengthsQuestion, newLengthQuestion}, q.ID)
	})
}

// lapsedOn is the last day of a qualification that has expired.
var lapsedOn = joint.Date{Year: 2026, Month: 11, Day: 24}

// alphabet is events of every sort, those that no walk should take too.
func alphabet(p *Plan) []Data {
	engineer := Named{Name: "Engineer", Role: "engineer", Reason: "looked at"}
	deciders := []Named{engineer, {Name: "Engineer", Reason: "no role"}, {Name: "A", Role: "engineer", Reason: "mine"}, {Name: "B", Role: "engineer", Reason: "mine"}}
	all := []Data{CardOpened{}, TailCut{}, SignedOn{Name: "A"}, SignedOn{Name: "B"}, SignedOn{Name: "A", Permit: "P"}, SignedOn{Name: "B", Permit: "P"},
		Suspended{}, NoteMade{Text: "bolt 1 was tightened twice"}, Snugged{}, RestOver{}, ProblemFound{Reason: "a leak"}}
	for _, n := range deciders {
		all = append(all, RestWaived{n}, GapsAccepted{n}, CardClosed{Witness: n.Name, Role: n.Role},
			Released{Of: OfRounds, Named: n})
		for slot := range max(2, len(p.Tools)) {
			all = append(all, Released{Of: OfPressure, Tool: slot, Named: n})
		}
		// Who may not decide is tried once of each sort: the name is looked at apart
		// from what it decides.
		for i, h := range p.Hold {
			if n == engineer || i == 0 {
				all = append(all, Released{Of: OfHold, Hold: h.Name, Named: n})
			}
		}
		for b := range p.Bolts {
			if n == engineer || b == 0 {
				all = append(all, Released{Of: OfBolt, Bolt: Bolt(b + 1), Named: n})
			}
		}
		for _, q := range p.Questions {
			if n == engineer || q.OnNo == Override {
				all = append(all, Released{Of: OfQuestion, Question: q.ID, Named: n})
			}
		}
	}
	for _, q := range p.Questions {
		all = append(all, Answered{Question: q.ID, Answer: Yes, Typed: q.Typed}, Answered{Question: q.ID, Answer: No}, Answered{Question: q.ID, Answer: NotApplicable, Reason: "none"}, Undone{Question: q.ID})
		if q.Typed != "" {
			all = append(all, Answered{Question: q.ID, Answer: Yes, Typed: "X"})
		}
		if told := tell(q); told != nil {
			all = append(all, Answered{Question: q.ID, Answer: Yes, Told: told}, Answered{Question: q.ID, Answer: Yes, Told: append(told[1:], "")})
		}
	}
	for _, widest := range []unit.Length{0.001, 0.01} {
		all = append(all, GapsMeasured{[]Gap{{p.GapPlaces[0], widest}, {p.GapPlaces[1], 0.001}}})
	}
	for _, pass := range p.Passes {
		for slot, s := range pass.Settings {
			all = append(all, PressureSet{Tool: slot, Running: s.Set}, PressureSet{Tool: slot, Static: s.Set}, PressureSet{Tool: slot + 1, Running: s.Set})
			for _, end := range []unit.Pressure{s.Set, s.Least - 0.2e5, s.Most + 0.2e5} {
				all = append(all, PressureSet{AtEnd: true, Tool: slot, Running: end}, PressureSet{AtEnd: true, Tool: slot, Running: end, Sure: true})
			}
		}
	}
	for _, s := range p.Stations {
		if len(s) < 2 {
			continue
		}
		backwards := slices.Clone(s)
		slices.Reverse(backwards)
		for pass := range p.Passes {
			all = append(all, BoltDone{Pass: pass + 1, Bolts: s}, BoltDone{Pass: pass + 1, Bolts: backwards})
		}
		all = append(all, Undone{Bolts: s}, Undone{Bolts: backwards}, BoltDone{Pass: 1, Bolts: []Bolt{p.Stations[0][0], p.Stations[1][0]}})
	}
	for b := Bolt(1); int(b) <= p.Bolts; b++ {
		for pass := range p.Passes {
			all = append(all, BoltDone{Pass: pass + 1, Bolts: []Bolt{b}})
		}
		for round := 1; round <= p.CheckRounds; round++ {
			all = append(all, NutStill{round, b}, NutMoved{round, b})
		}
		all = append(all, ProblemFound{Bolt: b, Reason: "seized"}, Undone{Bolt: b})
	}
	return all
}

// ofPeople is the alphabet with what people bring when they sign on, and with
// handovers. Each multiplies the states, so that smaller joints are explored with it.
func ofPeople(p *Plan) []Data {
	all := append(alphabet(p), SignedOn{Name: "A", QualifiedUntil: lapsedOn}, SignedOn{Name: "A", QualifiedUntil: joint.Date{Year: 2036, Month: 5, Day: 1}},
		SignedOn{Name: "A", Supervisor: "S"}, SignedOn{Name: "B", Supervisor: "B"}, SignedOn{Name: "B", Supervisor: "A"},
		HandedOver{State: "the tool hangs, air off"}, HandedOver{State: " "})
	helper := Named{Name: "T", Role: "fitter", Reason: "looked at"}
	all = append(all, SignedOn{Name: "A", Second: "T"}, RestWaived{helper}, GapsAccepted{helper}, CardClosed{Witness: helper.Name, Role: helper.Role}, Released{Of: OfRounds, Named: helper}, Released{Of: OfPressure, Named: helper})
	supervisor := Named{Name: "S", Role: "foreman", Reason: "looked at"}
	all = append(all, RestWaived{supervisor}, CardClosed{Witness: supervisor.Name, Role: supervisor.Role})
	for _, h := range p.Hold {
		all = append(all, Released{Of: OfHold, Hold: h.Name, Named: helper}, Released{Of: OfHold, Hold: h.Name, Named: supervisor})
	}
	warm, hot := unit.Temperature(20), unit.Temperature(200)
	all = append(all, MaterialsNoted{}, MaterialsNoted{Gasket: "G 1", Ambient: &warm}, MaterialsNoted{Ambient: &hot})
	for _, name := range []string{"A", "B", "Engineer"} {
		all = append(all, Released{Of: OfQualification, Named: Named{Name: name, Role: "engineer", Reason: "course is booked"}})
	}
	return all
}

// troubles are events about problems at a bolt, new parts, another tool and
// another hose, those that no walk should take too.
func troubles(p *Plan) []Data {
	engineer := Named{Name: "Engineer", Role: "engineer", Reason: "looked at"}
	mine := Named{Name: "A", Role: "engineer", Reason: "mine"}
	all := []Data{ProblemFound{What: Injury, Reason: "a hand"}, ProblemFound{What: Seized, Reason: "no bolt"}}
	for b := Bolt(1); int(b) <= p.Bolts; b++ {
		for _, what := range []What{Seized, Broke, Missed, GasketOut} {
			all = append(all, ProblemFound{Bolt: b, What: what})
		}
		all = append(all, ProblemFound{Bolt: b, What: NoStall, Now: true}, Replaced{Bolt: b, Batch: "N-1"}, Replaced{Bolt: b},
			ProblemFound{Bolt: b, What: WrongPressure, Read: p.Passes[0].Settings[0].Set}, ProblemFound{Bolt: b, What: WrongPressure, Read: 6.5e5},
			Released{Of: OfBolt, Bolt: b, Named: engineer, Restart: true})
		for slot := range p.Tools {
			all = append(all, ProblemFound{Bolt: b, What: WrongBolt, Tool: slot}, Released{Of: OfProblem, Bolt: b, Tool: slot, Named: engineer},
				Released{Of: OfProblem, Bolt: b, Tool: slot, Named: mine}, Released{Of: OfProblem, Bolt: b, Tool: slot, Named: engineer, Restart: true})
		}
	}
	w, _ := New(p)
	for slot, in := range p.Tools {
		for _, t := range []joint.Tool{in, p.Spare[0]} {
			d, err := w.ToolChange(slot, t, joint.DateOf(start))
			if err != nil {
				panic(err)
			}
			d.Reason = "no air"
			all = append(all, d)
			d.GoOn = &engineer
			all = append(all, d)
			d.GoOn = &mine
			all = append(all, d)
		}
		for _, pass := range p.Passes {
			s, _ := p.Spare[0].Setting(pass.Settings[slot].Torque, p.ReadBack)
			all = append(all, PressureSet{Tool: slot, Running: s.Set}, PressureSet{AtEnd: true, Tool: slot, Running: s.Set})
		}
		all = append(all, AirChanged{Slot: slot, Reason: "longer hose"}, AirChanged{Slot: slot})
	}
	return all
}

// TestCardsReadBackEveryEvent is the part of rule 8 that is the event's own: a
// card gives back what was put in.
func TestCardsReadBackEveryEvent(t *testing.T) {
	plan := testPlan(t, 4, 2, 2, time.Hour)
	readBack(t, append(ofPeople(plan), troubles(plan)...))
}

func readBack(t *testing.T, all []Data) {
	t.Helper()
	for _, d := range all {
		data, err := json.Marshal(d)
		if err != nil {
			t.Fatal(err)
		}
		if read, err := DecodeData(d.Kind(), data); err != nil || !reflect.DeepEqual(read, d) {
			t.Errorf("rule 8: %#v is read from the card as %#v: %v", d, read, err)
		}
	}
}
