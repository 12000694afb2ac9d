package card

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"

	"evenload/sequence"
)

// FuzzRead: nothing makes reading panic, and what is taken for whole lines is
// what would be written for the same events.
func FuzzRead(f *testing.F) {
	text, err := os.ReadFile(write(f, f.TempDir(), 19))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text)
	f.Add(text[:len(text)-5])
	f.Add(bytes.Replace(text, []byte("Torf"), []byte("Dorf"), 1))
	f.Add([]byte(`{"n":1,"at":"","by":"","kind":"","data":{},"hash":""}` + "\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		c, err := parse("x", text)
		var damage *DamageError
		if err != nil && !errors.As(err, &damage) && !errors.Is(err, ErrNothingRecorded) {
			t.Fatalf("error %v of no known kind", err)
		}
		var again []byte
		before := noHash
		for _, e := range c.Entries {
			line, hash, err := newLine(e.N, e.Event, before)
			if err != nil {
				t.Fatal(err)
			}
			again, before = append(again, line...), hash
		}
		if !bytes.HasPrefix(text, again) || int64(len(again)) != c.size {
			t.Fatalf("what was read is written otherwise:\n%s\n%s", text, again)
		}
		if err == nil && c.Torn == nil && len(again) != len(text) {
			t.Fatalf("%d bytes were passed over", len(text)-len(again))
		}
	})
}

// Any text comes back as it was, and what is not UTF-8 is refused.
func TestAnyText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		by, note := rapid.String().Draw(t, "by"), rapid.String().Draw(t, "note")
		if rapid.Bool().Draw(t, "bytes") {
			note = string(rapid.SliceOf(rapid.Byte()).Draw(t, "note bytes"))
		}
		at := day.Add(time.Duration(rapid.Int64Range(-1e18, 1e18).Draw(t, "ns")))
		text, hash, err := newLine(2, sequence.Event{At: at, By: by, Data: sequence.NoteMade{Text: note}}, noHash)
		if !utf8.ValidString(by + "|" + note) {
			if err == nil {
				t.Fatalf("%q by %q was not refused", note, by)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if bytes.IndexByte(text, '\n') != len(text)-1 || bytes.IndexByte(text, 0) >= 0 {
			t.Fatalf("%q is not one line", text)
		}
		e, again, err := newEncoder().decode(2, text[:len(text)-1], noHash)
		if err != nil || again != hash || e.By != by || e.Data != (sequence.NoteMade{Text: note}) || at.Sub(e.At) < 0 || at.Sub(e.At) >= time.Millisecond {
			t.Fatalf("%+v came back: %v", e, err)
		}
	})
}

// A tag that is accepted never leaves the folder and is a name on every system.
func TestAnyTag(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tag := rapid.OneOf(rapid.String(), rapid.StringMatching(`[A-Za-z0-9._/\\: -]{0,70}`)).Draw(t, "tag")
		if CheckTag(tag) != nil {
			return
		}
		if len(tag) > 64 || strings.ContainsAny(tag, `/\:*?"<>|`) || strings.ContainsFunc(tag, func(r rune) bool { return r <= ' ' || r > '~' }) ||
			strings.HasPrefix(tag, ".") || strings.HasSuffix(tag, ".") {
			t.Fatalf("%q was accepted", tag)
		}
	})
}
