package report

import (
	"strings"
	"testing"

	"evenload/data/card"
	"evenload/sequence"
)

// TestOldCard: a card that an earlier version wrote, before a sign-on could say
// more than names and before hold points, reads back line by line and replays
// to the same end.
func TestOldCard(t *testing.T) {
	c, err := card.Read("../../testdata/cards/DH-220-D1.20261125-aaaaaa.card.jsonl")
	if err != nil || c.Torn != nil || len(c.Entries) != 98 {
		t.Fatalf("%d lines, torn %v: %v", len(c.Entries), c.Torn, err)
	}
	opened := c.Opened()
	w, err := sequence.Replay(&opened.Plan, c.Events()[1:])
	if err != nil || !w.IsClosed() || len(w.Exceptions()) != 7 {
		t.Fatalf("closed %t, exceptions %q: %v", w.IsClosed(), w.Exceptions(), err)
	}
	text := recordOf(t, c.Path)
	for _, want := range []string{"signed on, second person Bo\n", "signed on, permit P-3371\n", "released, bolt 2, by Eva, engineer: looked at\n", "closed; witness Wim, inspector\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in its record", want)
		}
	}
}

// TestOldFinishedCards: cards with alignment, studs and leak test as they were
// first written, and the one that follows, read back and say the same.
func TestOldFinishedCards(t *testing.T) {
	first := "../../testdata/cards/DH-220-D1.20261125-bbbbbb.card.jsonl"
	for path, wants := range map[string][]string{
		first: {"Centre offset 1.6 mm, at most 1.5 mm: BEYOND", "bolt 3 stretched 0.091 mm, about 15 kN give or take 2.4 kN: OUTSIDE the band",
			"by Eva, engineer: measured by ultrasound, good", "stretch of bolt 2 taken back",
			"released, the alignment beyond its limits, by Eva, engineer: spool is short",
			"STUDS BY STRETCH  stretch   load   give or take  band 39 kN to 71 kN\n", "\n3                 0.091 mm  15 kN  2.4 kN        LOW\n",
			"\n2                 0.310 mm  51 kN  3.5 kN        in\n", "leak test: leaked, beside bolt 2, 3, test sheet T-12, drips"},
		"../../testdata/cards/DH-220-D1.20261125-cccccc.card.jsonl": {"card DH-220-D1.20261125-bbbbbb.card.jsonl, seal eb30-7d6a-955a", "leak test: not tested, the site tests it"},
	} {
		c, err := card.Read(path)
		if err != nil {
			t.Fatal(err)
		}
		opened := c.Opened()
		w, err := sequence.Replay(&opened.Plan, c.Events()[1:])
		if err != nil || !w.IsClosed() {
			t.Fatalf("%s: closed %t: %v", path, w.IsClosed(), err)
		}
		if leaked := w.Leak() == sequence.Leaked; leaked != (path == first) {
			t.Errorf("%s: the leak test gave %q", path, w.Leak())
		}
		text := recordOf(t, path)
		for _, want := range wants {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is not in its record", path, want)
			}
		}
	}
}
