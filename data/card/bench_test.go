package card

import (
	"testing"

	"evenload/sequence"
)

// BenchmarkAppend is one event on the disk, its flush included.
func BenchmarkAppend(b *testing.B) {
	j, err := Create(b.TempDir(), sample("DH-112-F03"), day, "Vroni Ölhafen")
	if err != nil {
		b.Fatal(err)
	}
	defer j.Close()
	e := sequence.Event{At: day, By: "Vroni Ölhafen", Data: sequence.BoltDone{Pass: 1, Bolts: []sequence.Bolt{3}}}
	for b.Loop() {
		if err := j.Append(e); err != nil {
			b.Fatal(err)
		}
	}
	b.StopTimer()
	if c, err := Read(j.Path()); err != nil || len(c.Entries) != b.N+1 {
		b.Fatalf("%d entries after %d appends: %v", len(c.Entries), b.N, err)
	}
}

// BenchmarkNewLine is what an event costs before it reaches the disk.
func BenchmarkNewLine(b *testing.B) {
	e := sequence.Event{At: day, By: "Vroni Ölhafen", Data: sequence.BoltDone{Pass: 1, Bolts: []sequence.Bolt{3}}}
	for b.Loop() {
		if _, _, err := newLine(2, e, noHash); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkRead10000 reads a card of 10 000 events.
func BenchmarkRead10000(b *testing.B) {
	path := long(b, 10_000)
	for b.Loop() {
		if c, err := Read(path); err != nil || len(c.Entries) != 10_000 {
			b.Fatalf("%d entries: %v", len(c.Entries), err)
		}
	}
}

// long writes a card of n lines without flushing each.
func long(t testing.TB, n int) string {
	t.Helper()
	return place(t, lines(t, sample("DH-112-F03"), events(n-1)))
}

// lines are those of a card.
func lines(t testing.TB, opened sequence.CardOpened, events []sequence.Event) []byte {
	t.Helper()
	var text []byte
	encoder, before := newEncoder(), noHash
	all := append([]sequence.Event{{At: day, By: "Vroni Ölhafen", Data: opened}}, events...)
	for i, e := range all {
		line, hash, err := encoder.encode(i+1, e, before)
		if err != nil {
			t.Fatal(err)
		}
		text, before = append(append(text, line...), '\n'), hash
	}
	return text
}
