package sequence

import (
	"encoding/json"
	"errors"
	"fmt"
	"hash/maphash"
	"reflect"
	"runtime"
	"slices"
	"sync"
	"testing"
	"time"

	"evenload/joint/unit"
)

// few keeps only the questions that differ in what they do, so that an
// exploration stays small.
func few(p *Plan) {
	p.Questions = slices.DeleteFunc(p.Questions, func(q Question) bool {
		return !slices.Contains([]string{"1", "3", "9", "14", "h2", "marks", "tag"}, q.ID)
	})
}

// alphabet is events of every sort, those that no walk should take too.
func alphabet(p *Plan) []Data {
	engineer := Named{Name: "Engineer", Role: "engineer", Reason: "looked at"}
	deciders := []Named{engineer, {Name: "Engineer", Reason: "no role"}, {Name: "A", Role: "engineer", Reason: "mine"}, {Name: "B", Role: "engineer", Reason: "mine"}}
	all := []Data{CardOpened{}, TailCut{}, SignedOn{Name: "A"}, SignedOn{Name: "B"}, SignedOn{Name: "A", Second: "S"}, SignedOn{Name: "A", Permit: "P"}, SignedOn{Name: "B", Permit: "P"},
		Suspended{}, NoteMade{Text: "bolt 1 was tightened twice"}, Snugged{}, RestOver{}, ProblemFound{Reason: "a leak"}}
	for _, n := range deciders {
		all = append(all, RestWaived{n}, GapsAccepted{n}, CardClosed{Witness: n.Name, Role: n.Role},
			Released{Of: OfPressure, Named: n}, Released{Of: OfRounds, Named: n})
		for b := range p.Bolts {
			all = append(all, Released{Of: OfBolt, Bolt: Bolt(b + 1), Named: n})
		}
		for _, q := range p.Questions {
			all = append(all, Released{Of: OfQuestion, Question: q.ID, Named: n})
		}
	}
	for _, q := range p.Questions {
		all = append(all, Answered{Question: q.ID, Answer: Yes, Typed: q.Typed}, Answered{Question: q.ID, Answer: Yes, Typed: "X"},
			Answered{Question: q.ID, Answer: No}, Answered{Question: q.ID, Answer: NotApplicable, Reason: "none"}, Undone{Question: q.ID})
	}
	for _, widest := range []unit.Length{0.001, 0.01} {
		all = append(all, GapsMeasured{[]Gap{{p.GapPlaces[0], widest}, {p.GapPlaces[1], 0.001}}})
	}
	for _, pass := range p.Passes {
		s := pass.Settings[0]
		all = append(all, PressureSet{Running: s.Set}, PressureSet{Static: s.Set}, PressureSet{Tool: 1, Running: s.Set})
		for _, end := range []unit.Pressure{s.Set, s.Least - 0.2e5, s.Most + 0.2e5} {
			all = append(all, PressureSet{AtEnd: true, Running: end})
		}
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

// node is a state of an exploration.
type node struct {
	w   Walk
	f   facts
	at  time.Time
	way int // where its last event stands in explorer.ways
}

// word is an event of the alphabet after a wait.
type word struct {
	event int // of explorer.events
	wait  time.Duration
}

// The waits: one is nothing, the other is longer than a break may be, and
// longer than the rest.
const (
	short = time.Second
	long  = 61 * time.Minute
)

// sum is what stands for a state in memory, where millions of them are kept:
// two hashes of it, which no two states share but by a chance of 1 in 2^80.
type sum [2]uint64

var seeds = [2]maphash.Seed{maphash.MakeSeed(), maphash.MakeSeed()}

func sumOf[T comparable](v T) sum {
	return sum{maphash.Comparable(seeds[0], v), maphash.Comparable(seeds[1], v)}
}

// place is what tells nodes apart: what the walk does next, whether time alone
// has ended a rest, and what happened on the way.
type place struct {
	walk
	f facts
}

// walk is what decides which events are taken.
type walk struct {
	key    string
	rested bool
}

func (n node) walk() walk {
	rest, _ := n.w.Next(n.at).(Rest)
	return walk{n.w.Key(), rest.Over}
}

// explorer tries all events in all states, level by level: all that one event
// leads to, then two, and so on.
type explorer struct {
	plan   *Plan
	events []Data
	most   facts // undos, problems, changes, persons

	mu    sync.Mutex
	seen  map[sum]bool   // places
	takes map[sum][]word // by walk, what is accepted
	ways  []leg
	next  []node // the level that comes next
	tried int
	wrong error
}

// leg is how an exploration came to a state: a word, and the state before it.
type leg struct {
	before int
	word   word
}

// within bounds the exploration.
func (x *explorer) within(f facts) bool {
	return f.undos <= x.most.undos && f.problems <= x.most.problems && f.changes <= x.most.changes && f.persons <= x.most.persons
}

// event is a word said in a state.
func (x *explorer) event(w Walk, at time.Time, said word) Event {
	e := Event{At: at.Add(said.wait), By: w.Operator(), Data: x.events[said.event]}
	if s, ok := e.Data.(SignedOn); ok {
		e.By = s.Name
	}
	return e
}

// events that led to a state, the first one first.
func (x *explorer) eventsTo(n node) []Event {
	var words []word
	for i := n.way; i > 0; i = x.ways[i].before {
		words = append(words, x.ways[i].word)
	}
	slices.Reverse(words)
	w, _ := New(x.plan)
	var events []Event
	at := start
	for _, said := range words {
		e := x.event(w, at, said)
		w, _ = w.Apply(e)
		events, at = append(events, e), e.At
	}
	return events
}

// fault says what is wrong, and how to come there.
func (x *explorer) fault(n node, format string, a ...any) error {
	x.mu.Lock()
	defer x.mu.Unlock()
	text := fmt.Sprintf(format, a...) + ", after"
	for _, e := range x.eventsTo(n) {
		text += fmt.Sprintf("\n%s %s %s %+v", e.At.Format("15:04:05"), e.By, e.Data.Kind(), e.Data)
	}
	return errors.New(text)
}

// from follows every event that is accepted in a state. Where the walk was
// never seen, all events are tried; else those that it accepted then.
func (x *explorer) from(n node) error {
	for _, wait := range []time.Duration{short, long} {
		step := n.w.Next(n.at.Add(wait))
		if err := n.f.shown(x.plan, step, wait == long); err != nil {
			return x.fault(n, "%v: %T is shown", err, step)
		}
	}
	at := sumOf(n.walk())
	x.mu.Lock()
	words, known := x.takes[at]
	x.mu.Unlock()
	if !known {
		var err error
		if words, err = x.accepted(n, at); err != nil {
			return err
		}
	}
	_, resting := n.w.Next(n.at).(Rest)
	for _, said := range words {
		e := x.event(n.w, n.at, said)
		next, err := n.w.Apply(e)
		if err != nil {
			return x.fault(n, "%#v is refused where the same walk took it: %v", e, err)
		}
		m := node{w: next, f: n.f, at: e.At}
		if said.wait == long && !(resting && e.Data.Kind() == "rested") {
			m.f.changes++
		}
		if err := m.f.check(x.plan, e, said.wait == long); err != nil {
			return x.fault(n, "%v: %#v is accepted", err, e)
		}
		if n.f.operator == "" && m.f.operator == "B" {
			continue // as with A: names only have to differ
		}
		if x.within(m.f) {
			x.found(n, said, m)
		}
	}
	return nil
}

// found keeps a state that was never seen for the next level.
func (x *explorer) found(from node, said word, n node) {
	at := sumOf(place{n.walk(), n.f})
	x.mu.Lock()
	defer x.mu.Unlock()
	if !x.seen[at] {
		x.seen[at] = true
		n.way = len(x.ways)
		x.ways = append(x.ways, leg{from.way, said})
		x.next = append(x.next, n)
	}
}

// accepted tries every event.
func (x *explorer) accepted(n node, at sum) ([]word, error) {
	before := n.w.Key()
	var words []word
	for i, d := range x.events {
		for _, wait := range []time.Duration{short, long} {
			said := word{i, wait}
			e := x.event(n.w, n.at, said)
			if _, err := n.w.Apply(e); err != nil {
				continue
			}
			words = append(words, said)
			e.By = "C"
			if _, err := n.w.Apply(e); err == nil && d.Kind() != "tail_cut" {
				return nil, x.fault(n, "rules 1 and 5: %#v is accepted of somebody who has not signed on", e)
			}
		}
	}
	if n.w.Key() != before {
		return nil, x.fault(n, "rule 7: an event changed the walk that it was applied to")
	}
	x.mu.Lock()
	defer x.mu.Unlock()
	if _, known := x.takes[at]; !known {
		x.takes[at] = words
		x.tried += 2*len(x.events) + len(words)
	}
	return words, nil
}

// explore goes from the beginning to wherever events lead.
func (x *explorer) explore(t *testing.T) {
	begin, err := New(x.plan)
	if err != nil {
		t.Fatal(err)
	}
	x.seen, x.takes = map[sum]bool{}, map[sum][]word{}
	x.found(node{}, word{}, node{w: begin, f: nothingYet(x.plan), at: start})
	closed, levels := 0, 0
	for ; len(x.next) > 0; levels++ {
		level := x.next
		x.next = nil
		var group sync.WaitGroup
		workers := runtime.GOMAXPROCS(0)
		for i := range workers {
			group.Go(func() {
				for ; i < len(level); i += workers {
					if err := x.from(level[i]); err != nil {
						x.mu.Lock()
						x.wrong = err
						x.mu.Unlock()
						return
					}
				}
			})
		}
		group.Wait()
		if x.wrong != nil {
			t.Fatal(x.wrong)
		}
		for _, n := range level {
			if n.w.IsClosed() {
				closed++
				again, err := Replay(x.plan, x.eventsTo(n))
				if err != nil || again.Key() != n.w.Key() {
					t.Fatal(x.fault(n, "rule 8: the card does not replay to the same state: %v", err))
				}
			}
		}
	}
	if closed == 0 {
		t.Fatal("no way leads to a closed card")
	}
	t.Logf("%d bolts: %d states, %d of the walk; %d events tried; %d closed cards; the longest way has %d events",
		x.plan.Bolts, len(x.seen), len(x.takes), x.tried, closed, levels-1)
}

// TestNineRulesEverywhere tries every event in every state that a small joint
// can come to.
func TestNineRulesEverywhere(t *testing.T) {
	bolts := 4
	if testing.Short() {
		bolts = 3
	}
	plan := testPlan(t, bolts, 2, 2, time.Hour)
	few(plan)
	x := explorer{plan: plan, events: alphabet(plan), most: facts{undos: 1, problems: 1, changes: 1, persons: 1}}
	for _, d := range x.events {
		data, err := json.Marshal(d)
		if err != nil {
			t.Fatal(err)
		}
		if read, err := DecodeData(d.Kind(), data); err != nil || !reflect.DeepEqual(read, d) {
			t.Fatalf("rule 8: %#v is read from the card as %#v: %v", d, read, err)
		}
	}
	x.explore(t)
}
