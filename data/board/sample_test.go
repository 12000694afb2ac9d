package board

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

var morning = time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC)

var engineer = sequence.Named{Name: "Eva", Role: "engineer", Reason: "looked at"}

// frozen is line 1 of a card of a job file.
func frozen(t testing.TB, path, tag string) sequence.CardOpened {
	t.Helper()
	j, err := job.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	plan, _ := j.Plan(joint.DateOf(morning))
	if tag != "" {
		plan.About.Tag = tag
	}
	return sequence.CardOpened{Format: 1, Program: "evenload test", OffsetMinutes: 60, JobFile: filepath.Base(path), JobSHA256: j.SHA256, Inputs: j.Inputs, Plan: plan}
}

// straight answers a step the straight way.
func straight(name string, s sequence.Step) sequence.Data {
	switch s := s.(type) {
	case sequence.SignOn:
		return sequence.SignedOn{Name: name}
	case sequence.Ask:
		return sequence.Answered{Question: s.Question.ID, Answer: sequence.Yes, Typed: s.Question.Typed}
	case sequence.Materials:
		warm := unit.Temperature(12)
		return sequence.MaterialsNoted{Gasket: "G-4471", Ambient: &warm}
	case sequence.Snug:
		return sequence.Snugged{}
	case sequence.GapCheck:
		places := s.Places
		if !s.All {
			places = places[:2]
		}
		var g sequence.GapsMeasured
		for _, b := range places {
			g.Readings = append(g.Readings, sequence.Gap{Bolt: b, Gap: 0.001})
		}
		return g
	case sequence.Set:
		return sequence.PressureSet{AtEnd: s.AtEnd, Tool: s.Slot, Running: s.Set}
	case sequence.Tighten:
		return sequence.BoltDone{Pass: s.Pass, Bolts: s.Bolts}
	case sequence.Check:
		return sequence.NutStill{Round: s.Round, Bolt: s.Bolt}
	case sequence.Release:
		return sequence.Released{Of: s.Of, Bolt: s.Bolt, Hold: s.Hold, Tool: s.Slot, Named: engineer}
	case sequence.Rest:
		return sequence.RestWaived{Named: engineer}
	}
	return sequence.CardClosed{Witness: "Wim", Role: "inspector"}
}

// events walk a joint the straight way, an event every 20 seconds, up to a step
// that stop wants or until it is closed.
func events(t testing.TB, o sequence.CardOpened, name string, stop func(sequence.Step) bool) []sequence.Event {
	t.Helper()
	w, err := sequence.New(&o.Plan)
	if err != nil {
		t.Fatal(err)
	}
	var all []sequence.Event
	at := morning
	for range 2000 {
		at = at.Add(20 * time.Second)
		step := w.Next(at)
		if _, closed := step.(sequence.Closed); closed || stop != nil && stop(step) {
			return all
		}
		e := sequence.Event{At: at, By: name, Data: straight(name, step)}
		if w, err = w.Apply(e); err != nil {
			t.Fatal(err)
		}
		all = append(all, e)
	}
	t.Fatal("the straight way does not end")
	return nil
}

// bolt stops at a bolt of a pass.
func bolt(pass int, b sequence.Bolt) func(sequence.Step) bool {
	return func(s sequence.Step) bool {
		t, ok := s.(sequence.Tighten)
		return ok && t.Pass == pass && t.Bolts[0] == b
	}
}

// write puts a card on the disk under a name.
func write(t testing.TB, path string, o sequence.CardOpened, events []sequence.Event) string {
	t.Helper()
	put(t, path, lines(t, o, events))
	return path
}

// lines are those of a card, written here anew: the hash of each is that of the
// hash before and of the line up to its own.
func lines(t testing.TB, o sequence.CardOpened, events []sequence.Event) string {
	t.Helper()
	var text bytes.Buffer
	enc := json.NewEncoder(&text)
	enc.SetEscapeHTML(false)
	value := func(v any) {
		if err := enc.Encode(v); err != nil {
			t.Fatal(err)
		}
		text.Truncate(text.Len() - 1)
	}
	before := strings.Repeat("0", 64)
	for i, e := range append([]sequence.Event{{At: morning, By: "Ann Berg", Data: o}}, events...) {
		start := text.Len()
		fmt.Fprintf(&text, `{"n":%d,"at":"%s","by":`, i+1, e.At.UTC().Format("2006-01-02T15:04:05.000Z"))
		value(e.By)
		fmt.Fprintf(&text, `,"kind":"%s","data":`, e.Data.Kind())
		value(e.Data)
		sum := sha256.Sum256(append([]byte(before), text.Bytes()[start:]...))
		before = hex.EncodeToString(sum[:])
		fmt.Fprintf(&text, `,"hash":"%s"}`+"\n", before)
	}
	return text.String()
}

func text(t testing.TB, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func put(t testing.TB, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// replayed is the summary by reading the whole card into memory and replaying
// all of it: what Read has to say in a cheaper way.
func replayed(t testing.TB, path string, c card.Card) Summary {
	t.Helper()
	o := c.Opened()
	w, err := sequence.New(&o.Plan)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range c.Events()[1:] {
		if w, err = w.Apply(e); err != nil {
			t.Fatal(err)
		}
	}
	p := w.Progress()
	last := c.Entries[len(c.Entries)-1]
	s := Summary{Path: path, Kind: Card, ID: c.Entries[0].Hash, Lines: len(c.Entries), Hash: last.Hash, Torn: c.Torn != nil,
		Tag: o.Plan.About.Tag, Where: o.Plan.About.Where, JobFile: o.JobFile, JobSHA256: o.JobSHA256, Approved: o.Plan.About.ApprovedBy != "",
		Offset: o.OffsetMinutes, Bolts: o.Plan.Bolts, Stage: p.Stage, Pass: p.Pass, Of: p.Of, Share: p.Share, Round: p.Round, Redo: p.Place.Redo, Done: p.Done,
		Operator: p.Operator, Working: p.Working, Silence: time.Duration(o.Plan.RestartAfter), LastAt: last.Event.At, LastBy: last.Event.By}
	for i := 1; i < len(c.Entries) && s.Back == 0; i++ {
		if c.Entries[i].Event.At.Before(c.Entries[i-1].Event.At) {
			s.Back = c.Entries[i].N
		}
	}
	if !w.IsClosed() {
		s.Tools, s.Holds = dueOf(w.Tools()), holds(w, p)
		if rest, ok := p.Next.(sequence.Rest); ok {
			s.RestEnds = rest.Until
		}
	}
	return s
}

// many are n cards of 150 lines in folders of a hundred, each with a tag of its
// own. open of ten are not closed.
func many(t testing.TB, n, open int) string {
	t.Helper()
	dir := t.TempDir()
	closed := frozen(t, "../../testdata/jobs/header-dn400-pn16.toml", "")
	done := events(t, closed, "Ann Berg", nil)
	for len(done) < 149 { // the crew writes notes between the last bolts
		last := done[len(done)-2]
		done = slices.Insert(done, len(done)-2, sequence.Event{At: last.At, By: last.By, Data: sequence.NoteMade{Text: "nut ran free by hand"}})
	}
	cover := frozen(t, "../../testdata/jobs/exchanger-cover-32.toml", "")
	half := events(t, cover, "Ann Berg", nil)[:149]
	for i := range n {
		one, all := closed, done
		if i%10 < open {
			one, all = cover, half
		}
		one.Plan.About.Tag = fmt.Sprintf("DH-%05d", i)
		put(t, filepath.Join(dir, fmt.Sprint(i/100), one.Plan.About.Tag+".20261125-aaaaaa.card.jsonl"), lines(t, one, all))
	}
	return dir
}

// long is a card of n lines that is not closed: one nut after the other is
// taken back and done again.
func long(t testing.TB, n int) string {
	t.Helper()
	o := frozen(t, "../../testdata/jobs/strainer-8in-300.toml", "")
	all := events(t, o, "Ann Berg", bolt(1, 1))
	at := all[len(all)-1].At
	for len(all) < n-1 {
		at = at.Add(20 * time.Second)
		all = append(all, sequence.Event{At: at, By: "Ann Berg", Data: sequence.BoltDone{Pass: 1, Bolts: []sequence.Bolt{1}}})
		if len(all) < n-1 {
			all = append(all, sequence.Event{At: at, By: "Ann Berg", Data: sequence.Undone{Bolt: 1}})
		}
	}
	return write(t, filepath.Join(t.TempDir(), "DH-112-F03.20261125-aaaaaa.card.jsonl"), o, all)
}

// heldReading is the most memory in use while a card is read, beyond what was
// in use before.
func heldReading(t testing.TB, path string, n int) uint64 {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var before, now runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	var most uint64
	watch := watched{f, func() {
		runtime.GC()
		runtime.ReadMemStats(&now)
		if now.HeapAlloc > before.HeapAlloc {
			most = max(most, now.HeapAlloc-before.HeapAlloc)
		}
	}, 0}
	if s := Read(filepath.Base(path), &watch); s.Damage != "" || s.Lines != n {
		t.Fatalf("%d lines: %s", s.Lines, s.Damage)
	}
	return most
}

// watched calls look after every MiB that is read.
type watched struct {
	*os.File
	look func()
	n    int
}

func (w *watched) Read(p []byte) (int, error) {
	n, err := w.File.Read(p)
	if w.n += n; w.n >= 1<<20 || err != nil {
		w.n = 0
		w.look()
	}
	return n, err
}
