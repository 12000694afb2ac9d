package report

import (
	"encoding/csv"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"pgregory.net/rapid"

	"evenload/data/card"
	"evenload/joint"
	"evenload/sequence"
)

// hostile draws text that tries to move the cursor, to turn the line, to hide
// itself, to begin a new line or a new column.
func hostile() *rapid.Generator[string] {
	sharp := rapid.SampledFrom([]string{"\x1b[2J", "\x1b]0;x\x07", "\u009b31m", "\n", "\r", "\t", "\v", "\f", "\x00", "\x7f", "\u202e", "\u2066", "\u200f",
		"\u061c", "\u2028", "\u2029", "\ufeff", "\u200b", "\u00ad", "\ufe0f", "\u3164", "\u0301", "\xff", "\xff\xff", "\U000e0041", "\u0085"})
	return rapid.Custom(func(t *rapid.T) string {
		parts := rapid.SliceOfN(rapid.OneOf(sharp, rapid.String()), 0, 4).Draw(t, "text")
		return "x" + strings.Join(parts, "")
	})
}

// poison puts text into every text of a value that has one, deep down.
func poison(v reflect.Value, text func() string) {
	switch v.Kind() {
	case reflect.String:
		if v.String() != "" {
			v.SetString(text())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			poison(v.Field(i), text)
		}
	case reflect.Slice:
		for i := range v.Len() {
			poison(v.Index(i), text)
		}
	}
}

// poisoned is the plan of a card with text everywhere, as somebody could write
// it by hand; only what steers the walk stays.
func poisoned(o sequence.CardOpened, text func() string) sequence.CardOpened {
	questions, reading := slices.Clone(o.Plan.Questions), o.Plan.Tools[0].Reading
	poison(reflect.ValueOf(&o).Elem(), text)
	for i, q := range questions {
		p := &o.Plan.Questions[i]
		p.ID, p.When, p.OnNo, p.Typed = q.ID, q.When, q.OnNo, q.Typed
	}
	o.Plan.Tools[0].Reading = reading
	return o
}

// typedIn walks a joint with text wherever a person can type some.
func typedIn(t fataler, o *sequence.CardOpened, text func() string) card.Card {
	w, err := sequence.New(&o.Plan)
	if err != nil {
		t.Fatalf("%v", err)
	}
	name := text()
	named := func() sequence.Named { return sequence.Named{Name: "other " + text(), Role: text(), Reason: text()} }
	at := morning
	c := card.Card{Path: "A.card.jsonl"}
	take := func(d sequence.Data) {
		at = at.Add(time.Second)
		e := sequence.Event{At: at, By: name, Data: d}
		if w, err = w.Apply(e); err != nil {
			t.Fatalf("%#v: %v", d, err)
		}
		c.Entries = append(c.Entries, card.Entry{N: len(c.Entries) + 2, Event: e, Hash: strings.Repeat("a", 64)})
	}
	take(sequence.SignedOn{Name: name, Second: "second " + text()})
	take(sequence.ProblemFound{Reason: text()})
	take(sequence.SignedOn{Name: name, Permit: text()})
	take(sequence.TailCut{File: text(), Bytes: 7})
	for !w.IsClosed() {
		take(sequence.NoteMade{Text: text()})
		d := straight(name, w.Next(at.Add(time.Second)))
		switch s := w.Next(at.Add(time.Second)).(type) {
		case sequence.Ask:
			if s.Question.MayNot {
				d = sequence.Answered{Question: s.Question.ID, Answer: sequence.NotApplicable, Reason: text()}
			}
			if s.Question.OnNo == sequence.Override {
				take(sequence.Answered{Question: s.Question.ID, Answer: sequence.No})
				d = sequence.Released{Of: sequence.OfQuestion, Question: s.Question.ID, Named: named()}
			}
		case sequence.GapCheck:
			take(gapsOf(s, 0.01))
			d = sequence.GapsAccepted{Named: named()}
		case sequence.Tighten:
			if s.Done == 3 {
				take(sequence.ProblemFound{Bolt: s.Bolts[0], Reason: text()})
				d = sequence.Released{Of: sequence.OfBolt, Bolt: s.Bolts[0], Named: named()}
			}
		case sequence.Rest:
			d = sequence.RestWaived{Named: named()}
		case sequence.Close:
			d = sequence.CardClosed{Witness: "other " + text(), Role: text()}
		}
		take(d)
	}
	first := card.Entry{N: 1, Event: sequence.Event{At: morning, By: name, Data: *o}, Hash: strings.Repeat("a", 64)}
	c.Entries = append([]card.Entry{first}, c.Entries...)
	return c
}

// fataler is what a test and a property have in common.
type fataler interface{ Fatalf(string, ...any) }

// checkShown says what in a text could move a terminal or hide. It goes by the
// classes of Unicode, not by the tables of the code under test.
func checkShown(t fataler, text string) {
	if !utf8.ValidString(text) {
		t.Fatalf("no UTF-8: %q", text)
	}
	for _, r := range text {
		if r != '\n' && (unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Co, unicode.Zl, unicode.Zp, unicode.Variation_Selector, unicode.Other_Default_Ignorable_Code_Point)) {
			t.Fatalf("U+%04X came through: %q", r, text)
		}
	}
}

// TestNoHostileTextInRecord: whatever was typed into the events of a card, or
// stands in the plan that it froze. It makes no line of its own either.
func TestNoHostileTextInRecord(t *testing.T) {
	record := func(t fataler, text func() string, o sequence.CardOpened) string {
		o = poisoned(o, text)
		var out strings.Builder
		if err := Record(&out, typedIn(t, &o, text)); err != nil {
			t.Fatalf("%v", err)
		}
		return out.String()
	}
	lines := strings.Count(record(t, func() string { return "x" }, opened(t)), "\n")
	rapid.Check(t, func(r *rapid.T) {
		text := record(r, func() string { return hostile().Draw(r, "text") }, opened(t))
		checkShown(r, text)
		if got := strings.Count(text, "\n"); got != lines {
			r.Fatalf("%d lines, not %d: %q", got, lines, text)
		}
	})
}

// TestNoHostileTextInCSV: no cell of a card that was written by hand moves a terminal,
// or is a formula.
func TestNoHostileTextInCSV(t *testing.T) {
	for _, text := range []string{"=1+1", " +1", "\x1b[2J", "@a", "-1\u202e"} {
		o := poisoned(opened(t), func() string { return text })
		o.Plan.Tools[0].Reading = joint.Reading(text)
		d, err := DoneOf(typedIn(t, &o, func() string { return text }), nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, comma := range []bool{false, true} {
			var out strings.Builder
			if err := CSV(&out, d, comma); err != nil {
				t.Fatal(err)
			}
			in := csv.NewReader(strings.NewReader(strings.TrimPrefix(out.String(), "\ufeff")))
			if comma {
				in.Comma = ';'
			}
			rows, err := in.ReadAll()
			if err != nil {
				t.Fatal(err)
			}
			for _, row := range rows {
				for i, cell := range row {
					checkShown(t, cell)
					if cell = strings.TrimLeft(cell, " "); cell != "" && strings.ContainsAny(cell[:1], "=+-@") {
						t.Fatalf("%s is %q", rows[0][i], cell)
					}
				}
			}
		}
	}
}

// TestNoHostileTextInPlanAndFindings: a job file cannot hold such text, its
// name and folder can.
func TestNoHostileTextInPlanAndFindings(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		text := func() string { return hostile().Draw(r, "text") }
		o := poisoned(opened(t), text)
		j := load(t, jobs+"strainer-8in-300.toml")
		j.Path, j.Inputs = text(), o.Inputs
		findings := []joint.Finding{{Severity: joint.Error, Code: text(), Key: text(), Text: text()}}
		var out strings.Builder
		if err := Plan(&out, j, o.Plan, findings); err != nil {
			r.Fatalf("%v", err)
		}
		checkShown(r, out.String())
		checkShown(r, Located(j, findings[0]).String())
	})
}
