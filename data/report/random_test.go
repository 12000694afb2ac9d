package report

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenload/data/card"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// wanderer makes cards of walks in which anything may happen that the walk takes.
type wanderer struct {
	rt    *rapid.T
	w     sequence.Walk
	at    time.Time
	names []string
	spare []joint.Tool
	all   []card.Entry
}

// wander makes a card of up to so many events.
func wander(rt *rapid.T, o sequence.CardOpened, spare []joint.Tool, most int) card.Card {
	w, err := sequence.New(&o.Plan)
	if err != nil {
		rt.Fatal(err)
	}
	m := &wanderer{rt: rt, w: w, at: morning, names: []string{"Ann", "Cy"}, spare: spare}
	m.keep(sequence.Event{At: m.at, By: "Ann", Data: o})
	for range rapid.SampledFrom([]int{most / 8, most / 4, most / 2, most}).Draw(rt, "events") {
		if m.w.IsClosed() {
			break
		}
		m.step()
	}
	return card.Card{Path: "DH-220-D1.20261125-aaaaaa.card.jsonl", Entries: m.all}
}

func (m *wanderer) keep(e sequence.Event) {
	m.all = append(m.all, card.Entry{N: len(m.all) + 1, Event: e, Hash: fmt.Sprintf("%064x", len(m.all)+1)})
}

// step takes the straight way, or one of the others that are open.
func (m *wanderer) step() {
	m.at = m.at.Add(20 * time.Second)
	step := m.w.Next(m.at)
	by := m.w.Operator()
	if by == "" {
		by = "Ann"
	}
	var odd []sequence.Data
	if rapid.IntRange(0, 2).Draw(m.rt, "odd") == 0 {
		odd = m.odd(step)
	}
	if len(odd) > 0 {
		d := rapid.SampledFrom(odd).Draw(m.rt, "event")
		if s, ok := d.(sequence.SignedOn); ok {
			by = s.Name
		}
		if next, err := m.w.Apply(sequence.Event{At: m.at, By: by, Data: d}); err == nil {
			m.w = next
			m.keep(sequence.Event{At: m.at, By: by, Data: d})
		}
		return
	}
	d := straight(by, step)
	switch s := step.(type) {
	case sequence.Release:
		d = sequence.Released{Of: s.Of, Bolt: s.Bolt, Tool: s.Slot, Hold: s.Hold, Named: engineer}
	case sequence.GapCheck:
		d = gapsNow(s)
	case sequence.Closed:
		return
	}
	next, err := m.w.Apply(sequence.Event{At: m.at, By: by, Data: d})
	if err != nil {
		m.rt.Fatalf("%#v at %#v: %v", d, step, err)
	}
	m.w = next
	m.keep(sequence.Event{At: m.at, By: by, Data: d})
}

func gapsNow(s sequence.GapCheck) sequence.Data {
	if s.Over != nil {
		return sequence.GapsAccepted{Named: engineer}
	}
	if s.All {
		return gapsOf(s, 0.001)
	}
	return sequence.GapsMeasured{Readings: []sequence.Gap{{Bolt: 1, Gap: 0.001}, {Bolt: 3, Gap: 0.001}}}
}

// odd is what may come in place of the straight way; the walk refuses some.
func (m *wanderer) odd(step sequence.Step) (all []sequence.Data) {
	if u, ok := m.w.Undoable(); ok {
		all = append(all, u, u)
	}
	for _, b := range m.w.LeftBolts() {
		all = append(all, sequence.Undone{Bolt: b})
	}
	for _, b := range m.w.Out() {
		all = append(all, sequence.Replaced{Bolt: b, Batch: "H-460"})
	}
	problems := func(bolts []sequence.Bolt) {
		for _, b := range bolts {
			for _, what := range []sequence.What{sequence.NoStall, sequence.StudTurns, sequence.Seized, sequence.Broke, sequence.GasketOut} {
				all = append(all, sequence.ProblemFound{Bolt: b, What: what})
			}
			all = append(all, sequence.ProblemFound{Bolt: b, What: sequence.NoStall, Now: true}, sequence.ProblemFound{Bolt: b, What: sequence.WrongPressure, Read: 5.9e5})
		}
		for b := sequence.Bolt(1); int(b) <= m.w.Plan().Bolts; b++ {
			all = append(all, sequence.ProblemFound{Bolt: b, What: sequence.Missed}, sequence.ProblemFound{Bolt: b, What: sequence.WrongBolt, Tool: len(m.w.Plan().Tools) - 1})
		}
	}
	for slot := range m.w.Plan().Tools {
		for _, tool := range append(slices.Clone(m.spare), m.w.Plan().Tools[slot]) {
			if d, err := m.w.ToolChange(slot, tool, joint.DateOf(m.at)); err == nil {
				d.Reason = "loses air"
				all = append(all, d)
				d.GoOn = &engineer
				all = append(all, d)
			}
		}
	}
	switch s := step.(type) {
	case sequence.Tighten:
		problems(s.Bolts)
	case sequence.Check:
		problems([]sequence.Bolt{s.Bolt})
		all = append(all, sequence.NutMoved{Round: s.Round, Bolt: s.Bolt}, sequence.NutMoved{Round: s.Round, Bolt: s.Bolt})
	case sequence.Set:
		if s.AtEnd {
			for _, read := range []unit.Pressure{s.Least - 0.2e5, s.Most + 0.2e5} {
				all = append(all, sequence.PressureSet{AtEnd: true, Tool: s.Slot, Running: read, Sure: true})
			}
		}
	case sequence.Stretch:
		all = append(all, m.w.StretchOf(s.Bolt, s.Expected/3))
	case sequence.Release:
		all = append(all, sequence.StudsAgain{}, sequence.StudsAgain{Rounds: true},
			sequence.Released{Of: s.Of, Bolt: s.Bolt, Tool: s.Slot, Restart: true, Named: engineer})
	case sequence.Rest:
		m.at = m.at.Add(time.Hour)
		all = append(all, sequence.RestOver{})
	}
	return append(all, sequence.Suspended{}, sequence.SignedOn{Name: m.names[len(m.all)%2]}, sequence.NoteMade{Text: "seen"})
}

// kinds of joints that are wandered over: one tool, two, with studs measured, and
// without gaps.
func wandered(t *testing.T) (all []sequence.CardOpened, spare []joint.Tool) {
	for _, tools := range []int{1, 2} {
		j := load(t, "../../testdata/walk/drain-4.toml")
		j.Procedure.StudGive, j.Procedure.StretchReading = unit.Compliance(joint.Elongation(j.Joint.Thread, 1, 0.3, 0.013, 205e9)), 0.01e-3
		more := j.Joint.Tools[0]
		for i := 2; i <= 4; i++ {
			more.ID, more.Gauge.ID = fmt.Sprintf("W-0%d", i), fmt.Sprintf("G-1%d", i)
			if i <= tools {
				j.Joint.Tools = append(j.Joint.Tools, more)
			} else if len(spare) < 1 {
				spare = append(spare, more)
			}
		}
		j.Procedure.ToolsAtOnce = tools
		for _, gaps := range []int{0, 2} {
			j.Procedure.GapPlaces = gaps
			plan, findings := j.Plan(day)
			if joint.Failed(findings) {
				t.Fatal(findings)
			}
			// Few questions: they are not what is wandered for.
			plan.Questions = plan.Questions[:1]
			if gaps == 0 {
				plan.GapPlaces = nil
			}
			all = append(all, sequence.CardOpened{Format: 1, Program: "evenload test", OffsetMinutes: 60, JobFile: "drain-4.toml", JobSHA256: strings.Repeat("0", 64), Plan: plan})
		}
	}
	return all, spare
}

// TestRecordIsWhatTheWalkSays: of any walk each event of a bolt stands once, and
// where the walk stands every bolt has the mark that it has there.
func TestRecordIsWhatTheWalkSays(t *testing.T) {
	all, spare := wandered(t)
	rapid.Check(t, func(rt *rapid.T) {
		for range 10 {
			o := rapid.SampledFrom(all).Draw(rt, "joint")
			d, err := DoneOf(wander(rt, o, spare, 160), nil)
			if err != nil || d.State == Damaged {
				rt.Fatal(err, d.Why)
			}
			eachOnce(rt, d)
			takenBack(rt, d)
			marksAgree(rt, d)
		}
	})
}

// eachOnce holds the events of bolts against the turns.
func eachOnce(rt *rapid.T, d AsDone) {
	type place struct {
		line int
		bolt sequence.Bolt
	}
	want, got := map[place]int{}, map[place]int{}
	for _, e := range d.Events {
		switch data := e.Data.(type) {
		case sequence.BoltDone:
			for _, b := range data.Bolts {
				want[place{e.N, b}]++
			}
		case sequence.NutMoved:
			want[place{e.N, data.Bolt}]++
		case sequence.NutStill:
			want[place{e.N, data.Bolt}]++
		case sequence.ProblemFound:
			if data.Bolt > 0 {
				want[place{e.N, data.Bolt}]++
			}
		case sequence.Replaced:
			want[place{e.N, data.Bolt}]++
		case sequence.Released:
			if data.Of == sequence.OfBolt {
				want[place{e.N, data.Bolt}]++
			}
		}
	}
	for _, t := range d.Turns {
		if t.Line > 0 {
			got[place{t.Line, t.Bolt}]++
		}
	}
	for p, n := range want {
		if n != 1 || got[p] != 1 {
			rt.Fatalf("line %d, bolt %d: %d events, %d turns", p.line, p.bolt, n, got[p])
		}
	}
	if len(want) != len(got) {
		rt.Fatalf("%d events of bolts, %d turns", len(want), len(got))
	}
}

// marksAgree holds the marks of the pass or round under way against the record.
func marksAgree(rt *rapid.T, d AsDone) {
	w := d.Walk.At(d.Events[len(d.Events)-1].At)
	p := w.Progress()
	if p.Stage != sequence.StagePass && p.Stage != sequence.StageCheck {
		return
	}
	p.Place = w.Under()
	passes, rounds := d.Columns()
	i := slices.IndexFunc(slices.Concat(passes, rounds), func(c Column) bool {
		return c.Gasket == d.gasket && c.RoundSet == p.RoundSet && c.Round == p.Round && (c.Round > 0 || c.Pass == p.Pass && c.Latest)
	})
	if i < 0 {
		rt.Fatalf("%+v has no column in %+v %+v", p.Place, passes, rounds)
	}
	c := slices.Concat(passes, rounds)[i]
	if p.Round == 0 && c.Repeat != p.Repeat {
		rt.Fatalf("begun again %d times, the record has %+v", p.Repeat, c)
	}
	for b := sequence.Bolt(1); int(b) <= d.Plan.Bolts; b++ {
		result := ""
		if turn, ok := d.Last(b, c); ok {
			result = turn.Result
		}
		may := map[sequence.Mark][]string{
			sequence.MarkOpen: {"", ResultOpen, ResultProblem, ResultNewParts}, sequence.MarkDone: {ResultDone}, sequence.MarkStill: {ResultStill}, sequence.MarkMoved: {ResultMoved},
			sequence.MarkLeft: {ResultProblem, ResultNewParts, "", ResultOpen}, sequence.MarkReleased: {ResultReleased}}[w.MarkOf(b)]
		if !slices.Contains(may, result) {
			rt.Fatalf("bolt %d of %s is %q, the walk has mark %d", b, d.Text(c), result, w.MarkOf(b))
		}
	}
}

// takenBack holds what the walk took back against the record: by the mark that a
// bolt had then, which is none where a new bolt is brought up alone.
func takenBack(rt *rapid.T, d AsDone) {
	w, err := sequence.New(d.Plan)
	if err != nil {
		rt.Fatal(err)
	}
	for _, e := range d.Events[1:] {
		switch data := e.Data.(type) {
		case sequence.Undone:
			if w.MeasuresStuds() {
				break
			}
			for _, b := range append(data.Bolts, data.Bolt) {
				how := fmt.Sprintf(", taken back by line %d", e.N)
				switch m := w.MarkOf(b); {
				case b == 0:
				case m == sequence.MarkOpen:
					took(rt, d, b, how, 1, func(t BoltTurn) bool { return t.Redo == b && strings.HasPrefix(t.Note, "was: done") })
				case m == sequence.MarkReleased:
					took(rt, d, b, how, 2, func(t BoltTurn) bool { return t.Redo == 0 })
				default:
					took(rt, d, b, how, 1, func(t BoltTurn) bool { return t.Redo == 0 })
				}
			}
		case sequence.ProblemFound:
			if data.What == sequence.Missed {
				took(rt, d, data.Bolt, fmt.Sprintf(", found missed in line %d", e.N), 1, func(t BoltTurn) bool { return true })
			}
		}
		if w, err = w.Apply(sequence.Event{At: e.At, By: e.By, Data: e.Data}); err != nil {
			rt.Fatal(err)
		}
	}
}

func took(rt *rapid.T, d AsDone, b sequence.Bolt, how string, want int, right func(BoltTurn) bool) {
	n := 0
	for _, t := range d.Turns {
		if t.Bolt != b || !strings.HasSuffix(t.Note, how) {
			continue
		}
		if n++; t.Result != ResultTakenBack || !right(t) {
			rt.Fatalf("bolt %d%s: %+v", b, how, t)
		}
	}
	if n != want {
		rt.Fatalf("bolt %d%s: %d marks, want %d", b, how, n, want)
	}
}
