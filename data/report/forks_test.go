package report

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/sequence"
)

// TestForkBesideIsSaid: a card that another file in its folder went on with says so,
// with that file and the line, in text, CSV and JSON; a copy and a beginning of it, a
// card of its own, and a fork elsewhere say nothing.
func TestForkBesideIsSaid(t *testing.T) {
	c := begin(t, opened(t))
	c.toBolt(1, 2)
	path := c.close()
	dir := filepath.Dir(path)
	begun := read(t, path)
	alone := asText(t, path)
	const other = "from-the-other-laptop.card.jsonl"
	place(t, filepath.Join(dir, other), begun)
	place(t, filepath.Join(dir, "copy.card.jsonl"), begun)
	stranger := begin(t, opened(t))
	stranger.at = stranger.at.Add(time.Hour)
	stranger.do(sequence.SignedOn{Name: "Ann", Second: "Wim"})
	place(t, filepath.Join(dir, "stranger.card.jsonl"), read(t, stranger.close()))
	if text := asText(t, path); text != alone {
		t.Errorf("a copy and another card beside it change the record:\n%s", text)
	}
	for i, name := range []string{filepath.Base(path), other} {
		s, err := card.Resume(filepath.Join(dir, name), "", "", c.at)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Write(sequence.Event{At: card.Stamp(c.at.Add(time.Duration(i+1) * time.Minute)), By: "Ann", Data: sequence.NoteMade{Text: "on"}}); err != nil {
			t.Fatal(err)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	done, err := card.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	want := []Fork{{other, len(strings.Split(begun, "\n"))}}
	var text strings.Builder
	var fork ForkError
	if err := Record(&text, done); !errors.As(err, &fork) || !slices.Equal(fork.Forks, want) {
		t.Errorf("the record gives %v, want the fork %+v", err, want)
	}
	if said := "\nFORK: " + want[0].Words() + "\n"; !strings.Contains(text.String(), said) || strings.Contains(alone, "FORK") {
		t.Errorf("the record does not say %q, or did before:\n%s", said, text.String())
	}
	d, err := DoneBeside(done, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range csvRows(t, d) {
		if row["fork"] != d.ForkWords() || row["fork"] == "" {
			t.Fatalf("a row says of the fork %q", row["fork"])
		}
	}
	var out strings.Builder
	var got recordJSON
	if err := RecordJSON(&out, d); err != nil || json.Unmarshal([]byte(out.String()), &got) != nil || !slices.Equal(got.Forks, want) {
		t.Errorf("the JSON has %+v: %v", got.Forks, err)
	}
	if err := os.Remove(filepath.Join(dir, other)); err != nil {
		t.Fatal(err)
	}
	if text := asText(t, path); strings.Contains(text, "FORK") {
		t.Errorf("a fork that is gone is said:\n%s", text)
	}
}

// asText is the record of a card that has no fork.
func asText(t *testing.T, path string) string {
	t.Helper()
	c, err := card.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if err := Record(&out, c); err != nil {
		t.Fatal(err)
	}
	return out.String()
}
