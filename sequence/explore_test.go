package sequence

import (
	"errors"
	"flag"
	"fmt"
	"hash/maphash"
	"runtime"
	"slices"
	"sync"
	"testing"
	"time"
)

var deep = flag.Bool("deep", false, "explore 4 bolts and more on one way: some minutes more")

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

// place is what tells states apart: what the walk does next, whether time alone
// has ended a rest, and what happened on the way.
type place struct {
	key    string
	rested bool
	f      facts
}

// sum stands for a place, of which there are too many to keep: two hashes, that
// no two places are expected to share.
type sum [2]uint64

var seeds = [2]maphash.Seed{maphash.MakeSeed(), maphash.MakeSeed()}

// sum is that of the walk with what happened, or without when f is empty.
func (n node) sum(f facts) sum {
	rest, _ := n.w.Next(n.at).(Rest)
	p := place{n.w.Key(), rest.Over, f}
	return sum{maphash.Comparable(seeds[0], p), maphash.Comparable(seeds[1], p)}
}

// explorer tries all events in all states, level by level: all that one event
// leads to, then two, and so on.
type explorer struct {
	plan   *Plan
	events []Data
	most   facts // undos, problems, changes, persons

	mu    sync.Mutex
	seen  map[sum]bool   // with what happened
	takes map[sum][]word // what is accepted, whatever happened
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
	at := n.sum(facts{})
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
	at := n.sum(n.f)
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
	before := fmt.Sprint(n.w)
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
	if fmt.Sprint(n.w) != before {
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
	t.Logf("%d tools, %d bolts: %d states, %d of the walk; %d events tried; %d closed cards; the longest way has %d events",
		len(x.plan.Tools), x.plan.Bolts, len(x.seen), len(x.takes), x.tried, closed, levels-1)
}

// TestNineRulesEverywhere tries every event, allowed or not, in every state
// that a joint of 4 bolts and 2 passes with a rest and two check rounds can come
// to with one undo, one problem, one change and one second person all on one
// way. A problem is a bolt left undone or a hazard; a change is a long break or
// the first person coming back after the second; the second person takes the
// work over. Answers no, gaps and pressures out of their limits, signing on
// again, stop pages, notes, nuts that move and releases are not counted: a way
// has as many as it likes. What one event more than that leads to is held
// against the rules as well, and not followed.
//
// States are the same that have one Key, and one history as facts keep it. What
// the walk refuses is its Key's alone, so that is tried once for each Key.
// All hold points that the joint can have are there, each released once.
// A tool that the job does not have is in the alphabet, and always refused.
// Questions are kept one of each sort, and the first to sign on is always A.
//
// The same is done with two tools on 4 bolts in 2 passes, with one check round and
// no rest: from there on the walk is that of one tool.
//
// That is with -deep, which takes some minutes more. Without it one tool has 3
// bolts, and two tools have two of the four on one way; short, one tool too.
func TestNineRulesEverywhere(t *testing.T) {
	bolts, bounds := 3, []facts{{undos: 1, problems: 1, changes: 1, persons: 1}}
	switch {
	case *deep:
		bolts = 4
	case testing.Short():
		bounds = []facts{{undos: 1, problems: 1}, {changes: 1, persons: 1}, {problems: 1, persons: 1}}
	}
	plans := []*Plan{testPlan(t, bolts, 2, 2, time.Hour), teamPlan(t, 2, 4, 2, 1, 0)}
	for i, plan := range plans {
		if i == 1 && !*deep && !testing.Short() {
			bounds = []facts{{undos: 1, problems: 1}, {changes: 1, persons: 1}}
		}
		few(plan)
		plan.Hold = HoldPoints(sharesOf(plan), plan.Rest > 0)
		for _, most := range bounds {
			x := explorer{plan: plan, events: alphabet(plan), most: most, seen: map[sum]bool{}, takes: map[sum][]word{}}
			x.explore(t)
		}
	}
}

// TestPeopleEverywhere explores a joint of 3 bolts with what people bring when
// they sign on and with handovers, one sign-on with papers or long break, or a second person, on
// one way, with -deep all of them and a problem.
func TestPeopleEverywhere(t *testing.T) {
	plan := testPlan(t, 3, 1, 1, time.Hour)
	few(plan)
	plan.Hold = HoldPoints(sharesOf(plan), true)
	plan.Batches = true
	bounds := []facts{{changes: 1}, {persons: 1}}
	if *deep {
		bounds = []facts{{problems: 1, changes: 1, persons: 1}}
	}
	for _, most := range bounds {
		x := explorer{plan: plan, events: ofPeople(plan), most: most, seen: map[sum]bool{}, takes: map[sum][]word{}}
		x.explore(t)
	}
}

// TestTroublesEverywhere is the same with the problems at a bolt, new parts,
// another tool and another hose in the alphabet, on 3 bolts: two problems on one
// way, so that a second bolt can go out, in one pass, and a problem and an undo in
// two. With -deep it is two problems in two passes, a problem, an undo and a change,
// two changes, and a problem and a second person. Tool and hose count as changes.
// Short, it is a problem and a change.
//
// With two tools on 4 bolts it is a problem and an undo, or a change, with -deep a
// problem and a change and two changes too; short, a problem or a change.
func TestTroublesEverywhere(t *testing.T) {
	one := []facts{{problems: 1, undos: 1}}
	two := []facts{{changes: 1}, {problems: 1, undos: 1}}
	switch {
	case *deep:
		one, two = append(one, facts{problems: 2}, facts{problems: 1, persons: 1}, facts{problems: 1, undos: 1, changes: 1}, facts{changes: 2}), append(two, facts{problems: 1, changes: 1}, facts{changes: 2})
	case testing.Short():
		one, two = []facts{{problems: 1, changes: 1}}, []facts{{problems: 1}, {changes: 1}}
	}
	explore := func(plan *Plan, bounds []facts) {
		few(plan)
		for _, most := range bounds {
			x := explorer{plan: plan, events: append(alphabet(plan), troubles(plan)...), most: most, seen: map[sum]bool{}, takes: map[sum][]word{}}
			x.explore(t)
		}
	}
	if !testing.Short() {
		explore(testPlan(t, 3, 1, 2, time.Hour), []facts{{problems: 2}})
	}
	explore(testPlan(t, 3, 2, 2, time.Hour), one)
	explore(teamPlan(t, 2, 4, 2, 1, 0), two)
}
