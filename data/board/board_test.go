package board

import (
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/data/report"
	"evenload/joint"
	"evenload/sequence"
)

const jobs = "../../testdata/jobs/"

// look gives the rows of a folder, with a cache or without.
func lookAt(t *testing.T, dir string, c *Cache) []Row {
	t.Helper()
	b := New(dir)
	if err := Scan(context.Background(), dir, c, joint.DateOf(morning.Add(time.Hour)), b.Add); err != nil {
		t.Fatal(err)
	}
	b.Settle()
	return b.Rows(morning.Add(time.Hour))
}

// rowOf is the one row of a tag.
func rowOf(t *testing.T, rows []Row, tag string) Row {
	t.Helper()
	var found []Row
	for _, r := range rows {
		if r.Tag == tag {
			found = append(found, r)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%d rows of %s in %+v", len(found), tag, rows)
	}
	return found[0]
}

// TestSummaryIsWhatReplaySays: at every line of a card, of one tool and of two,
// the summary is that of reading and replaying the whole card.
func TestSummaryIsWhatReplaySays(t *testing.T) {
	for _, name := range []string{"header-dn400-pn16.toml", "booster-dn300-pn25.toml"} {
		o := frozen(t, jobs+name, "DH-9")
		all := events(t, o, "Ann Berg", nil)
		path := filepath.Join(t.TempDir(), "DH-9.20261125-aaaaaa.card.jsonl")
		for n := 1; n <= len(all); n += 1 + n/20 {
			write(t, path, o, all[:n])
			f, err := os.Open(path)
			if err != nil {
				t.Fatal(err)
			}
			got := Read(path, f)
			f.Close()
			c, err := card.Read(path)
			if err != nil {
				t.Fatal(err)
			}
			want := replayed(t, path, c)
			got.Touches, got.Last, got.Inputs = nil, "", ""
			if !reflect.DeepEqual(got, want) && !(got.Stage == sequence.StageClosed && want.Stage == sequence.StageClosed && got.Hash == want.Hash && got.Operator == want.Operator) {
				t.Fatalf("%s after %d events:\n%+v, want\n%+v", name, n, got, want)
			}
		}
	}
}

func TestBoardOfManyKindsOfFiles(t *testing.T) {
	dir := t.TempDir()
	o := frozen(t, jobs+"header-dn400-pn16.toml", "DH-9")
	all := events(t, o, "Ann Berg", bolt(2, 1))
	whole := lines(t, o, all)
	put(t, filepath.Join(dir, "a", "DH-9.20261125-aaaaaa.card.jsonl"), whole)
	cutAt := strings.LastIndexByte(whole[:len(whole)-1], '\n') + 1
	put(t, filepath.Join(dir, "b", "DH-9.20261125-aaaaaa.card.jsonl"), whole[:cutAt]) // an older copy
	other := append(all[:len(all)-1:len(all)-1], sequence.Event{At: all[len(all)-1].At, By: "Ann Berg", Data: sequence.NoteMade{Text: "elsewhere"}})
	fork := frozen(t, jobs+"header-dn400-pn16.toml", "DH-10")
	put(t, filepath.Join(dir, "a", "DH-10.20261125-bbbbbb.card.jsonl"), lines(t, fork, all))
	put(t, filepath.Join(dir, "b", "DH-10.20261125-bbbbbb.card.jsonl"), lines(t, fork, other))
	hurt := strings.Replace(lines(t, frozen(t, jobs+"header-dn400-pn16.toml", "DH-11"), all), "snugged", "snugged ", 1)
	put(t, filepath.Join(dir, "DH-11.20261125-cccccc.card.jsonl"), hurt)
	put(t, filepath.Join(dir, "DH-12.20261125-dddddd.card.jsonl"), lines(t, frozen(t, jobs+"header-dn400-pn16.toml", "DH-12"), all)+`{"n":`)
	put(t, filepath.Join(dir, "new.toml"), strings.Replace(text(t, jobs+"strainer-8in-300.toml"), "DH-112-F03", "DH-13", 1))
	put(t, filepath.Join(dir, "bad.toml"), "format = 1\n[joint]\n")
	put(t, filepath.Join(dir, "notes.txt"), "none of the board's")
	rows := lookAt(t, dir, nil)
	if len(rows) != 7 {
		t.Fatalf("%d rows: %+v", len(rows), rows)
	}
	if r := rowOf(t, rows, "DH-9"); len(r.Copies) != 1 || !strings.HasPrefix(r.Path, "a/") || r.PassWord() != "2/3 60 %" || r.State() != "whole" {
		t.Errorf("the longer of two copies: %+v", r)
	}
	forks := 0
	for _, r := range rows {
		if r.Tag == "DH-10" && len(r.Forks) == 1 && strings.Contains(r.WaitWord(), "fork: parted at line") {
			forks++
		}
	}
	if forks != 2 {
		t.Errorf("%d ways of a fork are told", forks)
	}
	if r := rowOf(t, rows, "DH-11"); r.State() != "damaged" || r.StageWord() != "DAMAGED" || !strings.Contains(r.WaitWord(), "damaged at line") {
		t.Errorf("a damaged card: %+v", r)
	}
	if r := rowOf(t, rows, "DH-12"); !r.Torn || r.Damage != "" {
		t.Errorf("a torn card: %+v", r)
	}
	if r := rowOf(t, rows, "DH-13"); r.StageWord() != "not begun" {
		t.Errorf("a job: %+v", r)
	}
	var out strings.Builder
	if err := CSV(&out, rows); err != nil {
		t.Fatal(err)
	}
	read, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(out.String(), "\ufeff"))).ReadAll()
	if err != nil || len(read) != len(rows)+1 || len(read[1]) != len(rowHead) || read[1][0] != rows[0].Name() {
		t.Errorf("read back from CSV: %v %v", read, err)
	}
	// The two ways of a fork are told apart, and each names the other.
	at := func(row []string, column string) string { return row[slices.Index(rowHead, column)] }
	hashes := map[string]bool{}
	for i, row := range read[1:] {
		if at(row, "joint") != "DH-10" {
			if at(row, "forks") != "" {
				t.Errorf("no fork: %q", row)
			}
			continue
		}
		hashes[at(row, "hash")] = true
		want := map[string]string{"a": "b", "b": "a"}[at(row, "path")[:1]] + "/DH-10.20261125-bbbbbb.card.jsonl"
		line := fmt.Sprint(len(all) + 1)
		if at(row, "forks") != want || at(row, "fork_lines") != line {
			t.Errorf("of the fork is said %q", row)
		}
		words := "\nFORK: it begins as " + want + " and differs from line " + line + " on: "
		if text, err := New(dir).Text(rows[i], time.Now()); err != nil || !strings.Contains(text, words) {
			t.Errorf("the record does not say %q: %v\n%s", words, err, text)
		}
		if j := jsonOf(rows[i]); !j.Forked || len(j.Forks) != 1 || j.Forks[0].Path != want || *j.Forks[0].Line != len(all)+1 {
			t.Errorf("of the fork is said %+v", j)
		}
	}
	if len(hashes) != 2 {
		t.Errorf("the ways of the fork have the hashes %v", hashes)
	}
}

// TestLinkIsNotFollowed: what lies outside the folder is not read.
func TestLinkIsNotFollowed(t *testing.T) {
	dir, elsewhere := t.TempDir(), t.TempDir()
	o := frozen(t, jobs+"header-dn400-pn16.toml", "DH-9")
	outside := write(t, filepath.Join(elsewhere, "DH-9.20261125-aaaaaa.card.jsonl"), o, events(t, o, "Ann Berg", bolt(1, 1)))
	if err := os.Symlink(outside, filepath.Join(dir, "DH-9.20261125-aaaaaa.card.jsonl")); err != nil {
		t.Skip(err)
	}
	rows := lookAt(t, dir, nil)
	if len(rows) != 1 || rows[0].Kind != Trouble || !strings.Contains(rows[0].Damage, "link") {
		t.Errorf("rows %+v", rows)
	}
}

// TestRecall: every bolt that a tool touched since a day, also by its gauge.
func TestRecall(t *testing.T) {
	dir := t.TempDir()
	o := frozen(t, jobs+"booster-dn300-pn25.toml", "DH-9")
	write(t, filepath.Join(dir, "DH-9.20261125-aaaaaa.card.jsonl"), o, events(t, o, "Ann Berg", bolt(2, 1)))
	rows := lookAt(t, dir, nil)
	day := joint.DateOf(morning)
	hits, unknown := Recall{Tool: "w-22", Since: day}.Find(rows)
	if len(hits) != 1 || len(unknown) != 0 || hits[0].PlaceWord() != "pass 1" || len(hits[0].Touch.Bolts) != 8 {
		t.Errorf("of one of two tools: %+v, %+v", hits, unknown)
	}
	if byGauge, _ := (Recall{Tool: o.Plan.Tools[1].Gauge.ID}).Find(rows); !reflect.DeepEqual(byGauge, hits) {
		t.Errorf("by its gauge: %+v", byGauge)
	}
	if byPaper, _ := (Recall{Tool: o.Plan.Tools[1].Certificate}).Find(rows); o.Plan.Tools[1].Certificate == "" || !reflect.DeepEqual(byPaper, hits) {
		t.Errorf("by certificate %v", byPaper)
	}
	for since, want := range map[joint.Date]string{{}: "touched on any day: 1, on 1 card.", day: "touched since " + day.String() + ": 1"} {
		var out strings.Builder
		if err := HitsPlain(&out, Recall{Tool: "W-22", Since: since}, hits, nil); err != nil || !strings.Contains(out.String(), want) {
			t.Errorf("%q is not said: %v\n%s", want, err, out.String())
		}
	}
	if word := (Recall{Tool: " w-22"}).UnknownWord(rows); word != "" {
		t.Errorf("a tool that worked is unknown: %s", word)
	}
	if word := (Recall{Tool: "W-222"}).UnknownWord(rows); !strings.Contains(word, "no all-clear") || !strings.Contains(word, "W-22") {
		t.Errorf("a tool that nobody knows: %q", word)
	}
	if later, _ := (Recall{Tool: "W-22", Since: joint.Date{Year: 2036, Month: 1, Day: 1}}).Find(rows); len(later) != 0 {
		t.Errorf("since a later day: %+v", later)
	}
}

// TestRecallNamesRoundsAsTheRecordDoes: set and round, on cards that are read with
// and without a replay.
func TestRecallNamesRoundsAsTheRecordDoes(t *testing.T) {
	o := frozen(t, jobs+"header-dn400-pn16.toml", "DH-9")
	spare := o.Plan.Tools[0]
	spare.ID = "W-99"
	o.Plan.Spare = append(o.Plan.Spare, spare)
	takenBack := false
	for name, c := range map[string]struct {
		straight bool
		change   func(w sequence.Walk, s sequence.Step) sequence.Data // nil: the straight way
	}{
		"straight": {true, nil},
		"a nut moved": {true, func(_ sequence.Walk, s sequence.Step) sequence.Data {
			if s, ok := s.(sequence.Check); ok && s.RoundSet == 1 && s.Round == 1 && s.Bolt == 3 {
				return sequence.NutMoved{Round: s.Round, Bolt: s.Bolt}
			}
			return nil
		}},
		"low at the end": {true, func(_ sequence.Walk, s sequence.Step) sequence.Data {
			if s, ok := s.(sequence.Set); ok && s.AtEnd && s.RoundSet == 1 {
				return sequence.PressureSet{AtEnd: true, Tool: s.Slot, Running: 0.7 * s.Set, Sure: true}
			}
			return nil
		}},
		"another tool within a round": {false, func(w sequence.Walk, s sequence.Step) sequence.Data {
			if s, ok := s.(sequence.Check); ok && s.RoundSet == 1 && s.Bolt == 4 {
				d, err := w.ToolChange(0, spare, joint.DateOf(morning))
				if err != nil {
					t.Fatal(err)
				}
				d.Reason = "it whistles"
				return d
			}
			return nil
		}},
		"a nut taken back": {false, func(w sequence.Walk, s sequence.Step) sequence.Data {
			if s, ok := s.(sequence.Check); ok && s.RoundSet == 1 && s.Bolt == 4 && !takenBack {
				takenBack = true
				return sequence.Undone{Bolt: 3}
			}
			return nil
		}},
	} {
		w, err := sequence.New(&o.Plan)
		if err != nil {
			t.Fatal(err)
		}
		var all []sequence.Event
		want := map[string]bool{}
		at := morning
		for range 2000 {
			at = at.Add(20 * time.Second)
			step := w.Next(at)
			if _, closed := step.(sequence.Closed); closed {
				break
			}
			if r, ok := step.(sequence.Rest); ok {
				at = r.Until
				step = w.Next(at)
			}
			var d sequence.Data
			if c.change != nil {
				d = c.change(w, step)
			}
			if _, resting := step.(sequence.Rest); resting {
				d = sequence.RestOver{}
			}
			if d == nil {
				d = straight("Ann Berg", step)
			}
			if said := report.Sentence(w, d); strings.HasPrefix(said, "check round ") {
				place, _, _ := strings.Cut(said, ",")
				want[place] = true
			}
			e := sequence.Event{At: at, By: "Ann Berg", Data: d}
			if w, err = w.Apply(e); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			all = append(all, e)
		}
		if !w.IsClosed() || len(want) < 2 {
			t.Fatalf("%s: closed %v, rounds %v", name, w.IsClosed(), want)
		}
		card := lines(t, o, all)
		quick, ok := read("x", strings.NewReader(card), false)
		if ok != c.straight {
			t.Errorf("%s: read without a replay is %v", name, ok)
		}
		whole, _ := read("x", strings.NewReader(card), true)
		if ok && !reflect.DeepEqual(quick.Touches, whole.Touches) {
			t.Errorf("%s: without a replay\n%+v, with it\n%+v", name, quick.Touches, whole.Touches)
		}
		got := map[string]bool{}
		for _, touch := range Read("x", strings.NewReader(card)).Touches {
			if touch.What == Checked {
				got[touch.PlaceWord()] = true
			}
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: rounds %v, the record has %v", name, got, want)
		}
	}
}
