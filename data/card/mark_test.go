package card

import (
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenload/sequence"
)

// TestMarksReadAsAllElse: the short way of reading takes what the long way
// takes, with the same event and hash, and refuses what that refuses.
func TestMarksReadAsAllElse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bolt := rapid.Custom(func(t *rapid.T) sequence.Bolt { return sequence.Bolt(rapid.IntRange(-1, 12_000).Draw(t, "bolt")) })
		n := rapid.IntRange(-1, 12_000).Draw(t, "n")
		data := rapid.OneOf(
			rapid.Just[sequence.Data](sequence.BoltDone{Pass: n, Bolts: rapid.SliceOfN(bolt, 0, 5).Draw(t, "bolts")}),
			rapid.Just[sequence.Data](sequence.NutStill{Round: n, Bolt: bolt.Draw(t, "still")}),
			rapid.Just[sequence.Data](sequence.NutMoved{Round: n, Bolt: bolt.Draw(t, "moved")}),
		).Draw(t, "data")
		at := day.Add(time.Duration(rapid.Int64Range(-1e18, 1e18).Draw(t, "ns")))
		text, _, err := newEncoder().encode(3, sequence.Event{At: at, By: "Vroni \"Ö\"", Data: data}, noHash)
		if err != nil {
			t.Fatal(err)
		}
		if rapid.Bool().Draw(t, "change") {
			i := rapid.IntRange(0, len(text)-1).Draw(t, "at")
			text[i] = rapid.SampledFrom([]byte(`0123456789,.:-"{}[] aZ`)).Draw(t, "to")
		}
		before, _, err := newEncoder().encode(2, sequence.Event{At: at, By: "Vroni \"Ö\"", Data: sequence.Snugged{}}, noHash)
		if err != nil {
			t.Fatal(err)
		}
		c := newEncoder()
		if _, _, err := c.decode(2, append([]byte(nil), before...), noHash); err != nil {
			t.Fatal(err)
		}
		got, hash, err := c.decode(3, text, noHash)
		want, wantHash, wantErr := newEncoder().decode(3, text, noHash)
		if (err == nil) != (wantErr == nil) || hash != wantHash || err == nil && !reflect.DeepEqual(got, want) {
			t.Fatalf("%s\n%+v %s %v\n%+v %s %v", text, got, hash, err, want, wantHash, wantErr)
		}
	})
}

// TestMarksReadShort: the usual lines are read the short way.
func TestMarksReadShort(t *testing.T) {
	for _, data := range []sequence.Data{
		sequence.BoltDone{Pass: 1, Bolts: []sequence.Bolt{12}}, sequence.BoltDone{Pass: 3, Bolts: []sequence.Bolt{1, 7, 4, 10}},
		sequence.NutStill{Round: 1, Bolt: 2}, sequence.NutMoved{Round: 2, Bolt: 128},
	} {
		c := newEncoder()
		e := sequence.Event{At: day, By: "Vroni \"Ö\"", Data: sequence.Snugged{}}
		before, _, err := newEncoder().encode(2, e, noHash)
		if err != nil {
			t.Fatal(err)
		}
		if _, _, err := c.decode(2, before, noHash); err != nil {
			t.Fatal(err)
		}
		e.Data = data
		text, want, err := newEncoder().encode(3, e, noHash)
		if err != nil {
			t.Fatal(err)
		}
		at, by, kind, rest, _ := split(3, text)
		if _, hash, ok := c.mark(text, at, by, kind, rest, noHash); !ok || hash != want {
			t.Errorf("%s is not read the short way", text)
		}
	}
}
