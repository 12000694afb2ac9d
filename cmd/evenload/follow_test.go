package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/data/report"
	"evenload/sequence"
)

// closedCard is one that was closed so many minutes after the others began.
func closedCard(name, hash string, minutes int, follows *sequence.Follows, leaked ...sequence.Bolt) card.Card {
	at := time.Date(2036, 10, 2, 8, 0, 0, 0, time.UTC)
	end := at.Add(time.Duration(minutes) * time.Minute)
	result := sequence.LeakTested{Result: sequence.Tight}
	if len(leaked) > 0 {
		result = sequence.LeakTested{Result: sequence.Leaked, Bolts: leaked}
	}
	return card.Card{Path: filepath.Join("x", name), Entries: []card.Entry{
		{N: 1, Event: sequence.Event{At: at, Data: sequence.CardOpened{JobFile: "a.toml", Follows: follows}}},
		{N: 2, Event: sequence.Event{At: end, Data: result}},
		{N: 3, Event: sequence.Event{At: end, Data: sequence.CardClosed{Witness: "Wim"}}, Hash: strings.Repeat(hash, 64)},
	}}
}

// A card follows the last of its joint, whatever the names of the files say,
// and even when the clock was set back between them.
func TestLastOfManyCards(t *testing.T) {
	first := closedCard("c.card.jsonl", "1", 30, nil, 3, 4)
	second := closedCard("a.card.jsonl", "2", 60, &sequence.Follows{Card: "c.card.jsonl", Seal: first.Seal()}, 5)
	third := closedCard("b.card.jsonl", "3", 10, &sequence.Follows{Card: "a.card.jsonl", Seal: second.Seal()})
	strange := closedCard("d.card.jsonl", "4", 5, &sequence.Follows{Card: "b.card.jsonl", Seal: "0000-0000-0000"})
	for want, all := range map[string][]card.Card{"c.card.jsonl": {first}, "a.card.jsonl": {second, first}, "b.card.jsonl": {second, third, first, strange}, "": nil} {
		f, notice := follow(all)
		if want == "" {
			if f != nil || notice != "" {
				t.Errorf("without cards it follows %+v, %q", f, notice)
			}
			continue
		}
		if f == nil || f.Card != want || !strings.Contains(notice, want) {
			t.Errorf("it follows %+v, not %s: %q", f, want, notice)
		}
	}
	if f, notice := follow([]card.Card{first, second}); sequence.BoltList(f.Leaked) != "5" || !strings.Contains(notice, "LEAKED beside bolt 5") {
		t.Errorf("after a leak: %+v, %q", f, notice)
	}
	if got := doneOf([]card.Card{first, second}, "a.toml"); !strings.HasPrefix(got, "LEAKED beside bolt 5, a.card.jsonl") {
		t.Errorf("the list says %q", got)
	}
	if got := doneOf([]card.Card{first, second, third}, "a.toml"); !strings.HasPrefix(got, "closed 2036-10-") || !strings.HasSuffix(got, ", b.card.jsonl") {
		t.Errorf("of a tight joint the list says %q", got)
	}
	if got := doneOf([]card.Card{first}, "b.toml"); got != "" {
		t.Errorf("of a job without a card the list says %q", got)
	}
}

// verify holds a card against the one that it follows, where that lies beside it.
func TestVerifyTheLink(t *testing.T) {
	const first, second = "DH-220-D1.20261125-bbbbbb.card.jsonl", "DH-220-D1.20261125-cccccc.card.jsonl"
	dir := t.TempDir()
	put := func(name, as string) {
		text, err := os.ReadFile("../../testdata/cards/" + name)
		if err == nil {
			err = os.WriteFile(filepath.Join(dir, as), text, 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	says := func(want string, wantOK bool) {
		t.Helper()
		if text, ok := report.Verify(filepath.Join(dir, second)); ok != wantOK || !strings.Contains(text, want) {
			t.Errorf("verify says %q, whole %t", text, ok)
		}
	}
	put(second, second)
	says("which is not beside it", true)
	put(first, first)
	says("WHOLE", true)
	says("seal eb30-7d6a-955a, which is beside it, unchanged", true)
	put("DH-220-D1.20261125-aaaaaa.card.jsonl", first) // another one under its name
	says("WHICH HAS SEAL ", false)
	if err := os.WriteFile(filepath.Join(dir, first), []byte("no card\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	says("LINK ", false)
	says("WHICH DOES NOT VERIFY", false)
}

// TestCardGoneOnWithTwice: of a card that two machines went on with, none is gone on
// with before somebody has found out what was done; nor is a copy that is behind.
func TestCardGoneOnWithTwice(t *testing.T) {
	job, one := begun(t)
	two := filepath.Join(filepath.Dir(one), "copy of "+filepath.Base(one))
	text, err := os.ReadFile(one)
	if err != nil || os.WriteFile(two, text, 0o644) != nil {
		t.Fatal(err)
	}
	goOn := func(path string) error {
		s, _, err := session(path, walkFlags{})
		if err != nil {
			return err
		}
		defer s.Close()
		at := card.Stamp(time.Now())
		return s.Write(sequence.Event{At: at, By: "Ann", Data: sequence.SignedOn{Name: "Ann"}})
	}
	if err := goOn(one); err != nil {
		t.Fatal(err)
	}
	if err := goOn(two); err == nil || !strings.Contains(err.Error(), "gone on with further") {
		t.Errorf("a copy that is behind: %v", err)
	}
	j, _, err := card.Open(two) // as another machine did
	if err != nil {
		t.Fatal(err)
	}
	if err := j.Append(sequence.Event{At: card.Stamp(time.Now()), By: "Cy", Data: sequence.SignedOn{Name: "Cy"}}); err != nil {
		t.Fatal(err)
	}
	j.Close()
	for _, path := range []string{one, two, job} {
		if err := goOn(path); err == nil || !strings.Contains(err.Error(), "otherwise from line") {
			t.Errorf("%s: %v", path, err)
		}
	}
}

// TestForkOfClosedCards: of a card that was closed in two ways a new one follows neither.
func TestForkOfClosedCards(t *testing.T) {
	job, one := begun(t)
	two := filepath.Join(filepath.Dir(one), "copy of "+filepath.Base(one))
	text, err := os.ReadFile(one)
	if err != nil || os.WriteFile(two, text, 0o644) != nil {
		t.Fatal(err)
	}
	for i, path := range []string{one, two} { // no walk ends so: what counts is that both are closed
		j, _, err := card.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		at := card.Stamp(time.Now().Add(time.Duration(i) * time.Minute))
		if err := j.Append(sequence.Event{At: at, By: "Ann", Data: sequence.CardClosed{Witness: "Wim", Role: "inspector"}}); err != nil {
			t.Fatal(err)
		}
		j.Close()
	}
	if _, _, err := session(job, walkFlags{}); err == nil || !strings.Contains(err.Error(), "otherwise from line") {
		t.Errorf("a new card of the joint: %v", err)
	}
	if err := os.Remove(two); err != nil {
		t.Fatal(err)
	}
	s, _, err := session(job, walkFlags{})
	if err != nil || s.Opened().Follows == nil {
		t.Fatalf("with one of them left: %v", err)
	}
	s.Close()
}
