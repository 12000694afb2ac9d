package report

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenload/data/card"
	"evenload/sequence"
)

const noIntent = "\n         (the chain shows damage and careless edits; without a key it cannot show intent)"

// verified wants a text of a card, its path taken out.
func verified(t *testing.T, path, want string, ok bool) {
	t.Helper()
	text, good := Verify(path)
	if got := strings.ReplaceAll(text, path, "CARD"); got != want || good != ok {
		t.Errorf("%t, %q\nwant %t, %q", good, got, ok, want)
	}
}

// place puts a text into a file.
func place(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestVerifyWholeCards(t *testing.T) {
	c := begin(t, opened(t))
	c.toBolt(1, 1)
	verified(t, c.close(), fmt.Sprintf("WHOLE    CARD: open, 23 lines, seal %s", c.s.Seal())+noIntent, true)

	c = begin(t, opened(t))
	c.toTheEnd()
	verified(t, c.close(), fmt.Sprintf("WHOLE    CARD: closed, 48 lines, seal %s", c.s.Seal())+noIntent, true)

	c = begin(t, opened(t))
	c.do(sequence.SignedOn{Name: "Ann"})
	c.at = morning
	c.do(sequence.NoteMade{Text: "clock set"}, sequence.NoteMade{Text: "once"})
	c.at = morning
	c.do(sequence.NoteMade{Text: "and again"})
	verified(t, c.close(), fmt.Sprintf("WHOLE    CARD: open, 5 lines, seal %s; the clock went back at line 5", c.s.Seal())+noIntent, true)
}

func TestVerifyTornAndDamagedCards(t *testing.T) {
	c := begin(t, opened(t))
	c.toBolt(1, 1)
	path := c.close()
	whole := read(t, path)
	place(t, path, whole+`{"n":23`)
	verified(t, path, "TORN     CARD: the last line is torn, 7 bytes; walk cuts it off", false)

	// One letter of line 3.
	at := strings.Index(whole, `"kind":"answered"`)
	place(t, path, strings.Replace(whole, `"yes","typed":"-D1"`, `"yes","typed":"-D2"`, 1))
	line := 1 + strings.Count(whole[:at], "\n")
	start := strings.LastIndexByte(whole[:at], '\n') + 1
	verified(t, path, fmt.Sprintf("DAMAGED  CARD:%d: damaged, at byte %d: its hash or its text has changed since it was written; leave the file as it is. The foreman looks for its second copy and at the marks on the flange, keeps this file, and lets the work go on with the copy or with a new card", line, start), false)

	// A line taken out.
	lines := strings.SplitAfter(whole, "\n")
	place(t, path, strings.Join(append(lines[:3:3], lines[4:]...), ""))
	if text, ok := Verify(path); ok || !strings.HasPrefix(text, "DAMAGED  "+path+":4: ") {
		t.Errorf("%t, %s", ok, text)
	}
}

// TestVerifyCardsThatCannotHaveBeen: the chain is whole, the order of the work is not.
func TestVerifyCardsThatCannotHaveBeen(t *testing.T) {
	j, err := card.Create(t.TempDir(), opened(t), morning, "Ann")
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range []sequence.Data{sequence.SignedOn{Name: "Ann"}, sequence.Snugged{}} {
		if err := j.Append(sequence.Event{At: morning, By: "Ann", Data: d}); err != nil {
			t.Fatal(err)
		}
	}
	j.Close()
	verified(t, j.Path(), `DAMAGED  CARD: it does not follow its own plan: event 3 of the card, "snugged": `+
		"not now: next is the question: Tag reads? Type its last three characters.", false)
}

func TestVerifyWhatIsNoCard(t *testing.T) {
	dir := t.TempDir()
	if text, ok := Verify(filepath.Join(dir, "none")); ok || !strings.HasPrefix(text, "NO CARD  card: ") {
		t.Errorf("%t, %s", ok, text)
	}
	path := filepath.Join(dir, "A.card.jsonl")
	place(t, path, `{"n":1`)
	verified(t, path, "NO CARD  card CARD: nothing was ever recorded in it: begin a new card from the job file", false)
	path = filepath.Join(dir, "B\u202e.card.jsonl")
	place(t, path, "")
	if text, _ := Verify(path); !strings.Contains(text, `B\u{202e}.card`) {
		t.Errorf("a name that turns the line: %q", text)
	}
}

// TestFork: one card that was gone on with twice is whole twice, and said to be a
// fork when both are looked at; a copy of its beginning is none.
func TestFork(t *testing.T) {
	c := begin(t, opened(t))
	c.toBolt(1, 3)
	path := c.close()
	begun, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var paths []string
	for i, d := range []sequence.Data{sequence.NoteMade{Text: "one"}, sequence.NoteMade{Text: "two"}} {
		p := filepath.Join(t.TempDir(), fmt.Sprintf("C%d.20261125-aaaaaa.card.jsonl", i))
		place(t, p, string(begun))
		s, err := card.Resume(p, "", "", c.at)
		if err != nil {
			t.Fatal(err)
		}
		on := &crew{t: t, s: s, at: c.at, name: "Ann"}
		on.do(sequence.SignedOn{Name: "Ann"}, d)
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, p)
	}
	lines := strings.Count(string(begun), "\n")
	for _, v := range VerifyCards(paths) {
		if v.OK() || v.State != "whole" || !strings.Contains(v.Text(), fmt.Sprintf("differs from line %d on", lines+2)) {
			t.Errorf("of a fork is said %s", v.Text())
		}
	}
	for _, v := range VerifyCards([]string{path, paths[0]}) {
		if !v.OK() {
			t.Errorf("of a copy is said %s", v.Text())
		}
	}
}

func TestVerifyNamesAJobFile(t *testing.T) {
	if v := VerifyCard("../../testdata/jobs/strainer-8in-300.toml"); v.State != "no card" || v.OK() || !strings.Contains(v.Text(), "evenload check") {
		t.Errorf("of a job file is said %s", v.Text())
	}
}
