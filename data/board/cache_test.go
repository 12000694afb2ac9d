package board

import (
	"crypto/sha256"
	"encoding/hex"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// TestCacheChangesNoAnswer: with the cache of the look before, after a change of
// every sort and with a cache that is damaged anywhere, the rows are the same.
func TestCacheChangesNoAnswer(t *testing.T) {
	dir, file := t.TempDir(), filepath.Join(t.TempDir(), "cache")
	o := frozen(t, jobs+"header-dn400-pn16.toml", "DH-9")
	all := events(t, o, "Ann Berg", nil)
	path := filepath.Join(dir, "DH-9.20261125-aaaaaa.card.jsonl")
	write(t, path, o, all[:40])
	c := LoadCache(file, "test")
	first := lookAt(t, dir, c)
	if err := c.Save(file, "test"); err != nil {
		t.Fatal(err)
	}
	if again := lookAt(t, dir, LoadCache(file, "test")); !reflect.DeepEqual(again, first) {
		t.Errorf("with the cache\n%+v, without\n%+v", again, first)
	}
	kept := text(t, file)
	for i := 0; i < len(kept); i += 1 + len(kept)/60 {
		put(t, file, kept[:i]+"#"+kept[min(i+1, len(kept)):])
		if again := lookAt(t, dir, LoadCache(file, "test")); !reflect.DeepEqual(again, first) {
			t.Fatalf("with a cache damaged at byte %d\n%+v, want\n%+v", i, again, first)
		}
	}
	put(t, file, kept)
	write(t, path, o, all[:60])
	if again, want := lookAt(t, dir, LoadCache(file, "test")), lookAt(t, dir, nil); !reflect.DeepEqual(again, want) {
		t.Errorf("after more lines\n%+v, want\n%+v", again, want)
	}
}

// FuzzCache: whatever the lines of a cache say, with sums that fit, it gives a
// summary only of the file and the state that the line is of.
func FuzzCache(f *testing.F) {
	f.Add("{\"path\":\"a\"}\n", "a", int64(0))
	f.Add(`{"path":"A.card.jsonl","size":7,"time":"0001-01-01T00:00:00Z","sum":0,"hash":"ab","summary":{"path":"A.card.jsonl","kind":"card","hash":"ab","tag":"A"}}`+"\n", "A.card.jsonl", int64(7))
	f.Fuzz(func(t *testing.T, text, path string, size int64) {
		var cache strings.Builder
		cache.WriteString(header("test") + "\n")
		for line := range strings.SplitSeq(text, "\n") {
			cache.WriteString(sumOf([]byte(line)) + " " + line + "\n")
		}
		c := parseCache([]byte(cache.String()), "test")
		parseCache([]byte(text), "test")
		for known := range c.old {
			c.find(known, key{})
		}
		k := key{Size: size}
		if s, ok := c.find(path, k); ok {
			if s.Path != path {
				t.Fatalf("%q for %q", s.Path, path)
			}
			Row{Summary: s}.texts()
		}
	})
}

// FuzzSummary: a card made by hand, with hashes that fit, makes nothing panic.
func FuzzSummary(f *testing.F) {
	f.Add(`{"n":1,"at":"2026-11-25T08:00:00.000Z","by":"A","kind":"opened","data":{},"hash":""}` + "\n")
	cards, _ := filepath.Glob("../../testdata/cards/*.card.jsonl")
	if len(cards) == 0 {
		f.Fatal("no cards")
	}
	for _, path := range cards {
		lines := strings.SplitAfter(text(f, path), "\n")
		for _, n := range []int{1, 3, 12, len(lines)} {
			f.Add(strings.Join(lines[:min(n, len(lines))], ""))
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, text := range []string{text, forge(text)} {
			s := Read("x.card.jsonl", strings.NewReader(text))
			Row{Summary: s}.texts()
		}
	})
}

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
