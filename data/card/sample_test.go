package card

import (
	"os"
	"path/filepath"
	"reflect"
	"testing"
	"time"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// day is when the sample cards were opened, in UTC.
var day = time.Date(2036, 10, 2, 7, 30, 0, 123_000_000, time.UTC)

// sample freezes an invented joint of an invented district-heating works.
func sample(tag string) sequence.CardOpened {
	tool := joint.Tool{ID: "T-07", Reading: joint.Running, Accuracy: 0.04, Due: joint.Date{Year: 2037, Month: 3, Day: 1},
		Chart: joint.Chart{{Pressure: 2e5, Torque: 180}, {Pressure: 4.1e5, Torque: 402.5}},
		Gauge: joint.Gauge{ID: "G-3", High: 1e6, Division: 1e4, Unit: unit.InBar}}
	return sequence.CardOpened{
		Format: 1, Program: "evenload test", OffsetMinutes: 120, JobFile: "f03.toml", JobSHA256: noHash,
		Inputs: []sequence.Input{{Key: "joint.tag", Value: tag, Origin: "job"}},
		Plan: sequence.Plan{
			About:  sequence.About{Tag: tag, Where: "Grünwehr works, \"north\" hall <flow & return>", Bolt1OnDatum: true},
			System: unit.SI, Bolts: 4, Thread: "M20", Aim: joint.Aim{Load: 101_300.5, Torque: 402.5},
			Stations: []sequence.Station{{1}, {3}, {2}, {4}}, Tools: []joint.Tool{tool},
			Passes:    []sequence.Pass{{Share: 1, Settings: []joint.Setting{{Torque: 402.5, Pressure: 4.1e5}}}},
			Questions: []sequence.Question{{ID: "isolated", When: sequence.AtGate, Text: "Is it isolated?", OnNo: sequence.StopPage}},
			Rest:      sequence.Span(4 * time.Hour),
		},
	}
}

// events are n of them, of many kinds, after the one that opens the card.
func events(n int) []sequence.Event {
	kinds := []sequence.Data{
		sequence.SignedOn{Name: "Vroni Ölhafen", Role: "bolting technician"},
		sequence.Answered{Question: "isolated", Answer: sequence.Yes, Typed: "LB-4\u2028"},
		sequence.Snugged{},
		sequence.PressureSet{Running: 4.1e5, Static: 4.6e5},
		sequence.BoltDone{Pass: 1, Bolts: []sequence.Bolt{3}},
		sequence.NoteMade{Text: "said \"ok\" & <went on>\n\x00\t"},
		sequence.GapsMeasured{Readings: []sequence.Gap{{Bolt: 1, Gap: 0.0021}}},
		sequence.Released{Of: sequence.OfBolt, Bolt: 3, Named: sequence.Named{Name: "B. Torf", Role: "engineer", Reason: "stud seized"}},
		sequence.NutStill{Round: 1, Bolt: 2},
	}
	var all []sequence.Event
	for i := range n {
		all = append(all, sequence.Event{At: day.Add(time.Duration(i+1) * 7 * time.Second), By: "Vroni Ölhafen", Data: kinds[i%len(kinds)]})
	}
	return all
}

// write makes a card with n events after the first, and gives its path.
func write(t testing.TB, dir string, n int) string {
	t.Helper()
	j, err := Create(dir, sample("DH-112-F03"), day, "Vroni Ölhafen")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range events(n) {
		if err := j.Append(e); err != nil {
			t.Fatal(err)
		}
	}
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	return j.Path()
}

// wholeCard reads a card and wants exactly these events after the first.
func wholeCard(t testing.TB, path string, want []sequence.Event) Card {
	t.Helper()
	c, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	if c.Torn != nil {
		t.Fatalf("torn at byte %d", c.Torn.Offset)
	}
	same(t, c, want)
	return c
}

// same wants the entries of a card to be its first line and these events.
func same(t testing.TB, c Card, want []sequence.Event) {
	t.Helper()
	first := sequence.Event{At: day, By: "Vroni Ölhafen", Data: sample("DH-112-F03")}
	want = append([]sequence.Event{first}, want...)
	if got := c.Events(); !reflect.DeepEqual(got, want) {
		t.Fatalf("the card holds %d events, want %d:\n%v\n%v", len(got), len(want), got, want)
	}
}

// place puts bytes into a new file that is named like a card.
func place(t testing.TB, text []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "A.card.jsonl")
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}
