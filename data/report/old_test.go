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
	if err != nil || !w.IsClosed() || len(w.Exceptions()) != 5 {
		t.Fatalf("closed %t, exceptions %q: %v", w.IsClosed(), w.Exceptions(), err)
	}
	text := recordOf(t, c.Path)
	for _, want := range []string{"signed on, second person Bo\n", "signed on, permit P-3371\n", "released, bolt 2, by Eva, engineer: looked at\n", "closed; witness Wim, inspector\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in its record", want)
		}
	}
}
