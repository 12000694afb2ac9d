package report

import (
	"crypto/sha256"
	"encoding/hex"
	"path/filepath"
	"strings"
	"testing"

	"evenload/data/card"
	"evenload/data/visible"
)

// forge makes the hashes of a card fit whatever its lines say.
func forge(text string) string {
	const cut = `,"hash":"`
	var b strings.Builder
	before := strings.Repeat("0", 64)
	for line := range strings.SplitSeq(strings.TrimSuffix(text, "\n"), "\n") {
		if i := strings.LastIndex(line, cut); i >= 0 {
			line = line[:i]
		}
		sum := sha256.Sum256([]byte(before + line))
		before = hex.EncodeToString(sum[:])
		b.WriteString(line + cut + before + "\"}\n")
	}
	return b.String()
}

// FuzzForged: a card made by hand, with hashes that fit, makes nothing panic,
// and nothing unclean is shown of it.
func FuzzForged(f *testing.F) {
	cards, _ := filepath.Glob("../../testdata/cards/*.card.jsonl")
	if len(cards) == 0 {
		f.Fatal("no cards")
	}
	for _, path := range cards {
		lines := strings.SplitAfter(read(f, path), "\n")
		for _, n := range []int{1, 3, 12, len(lines)} {
			f.Add(strings.Join(lines[:min(n, len(lines))], ""))
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		c := card.Card{Path: "A.card.jsonl"}
		_, err := card.Stream(c.Path, strings.NewReader(forge(text)), func(e card.Entry) error {
			c.Entries = append(c.Entries, e)
			return nil
		})
		if err != nil {
			checkShown(t, visible.Text(err.Error())) // as main says it
		}
		if len(c.Entries) == 0 {
			return
		}
		var record, csv, asJSON strings.Builder
		if err := Record(&record, c); err == nil {
			checkShown(t, record.String())
		}
		done, err := DoneOf(c, err)
		if err != nil {
			return
		}
		if err := CSV(&csv, done, false); err != nil {
			t.Fatal(err)
		}
		checkShown(t, strings.ReplaceAll(strings.TrimPrefix(csv.String(), "\ufeff"), "\r\n", "\n"))
		if err := RecordJSON(&asJSON, done); err == nil {
			checkShown(t, asJSON.String())
		}
	})
}
