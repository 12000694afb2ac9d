package plain

import (
	"os"
	"slices"
	"strings"
	"testing"

	"evenload/data/card"
	"evenload/sequence"
)

// TestExpectedRoundsAreSaid in the check rounds before the rest, estimated once, and
// stand nowhere on the card.
func TestExpectedRoundsAreSaid(t *testing.T) {
	s, err := card.Begin(t.TempDir(), "", drain(t))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	asked := 0
	opt := Options{Rounds: func() sequence.Expected { asked++; return sequence.Expected{Low: 3, High: 5, Looked: 25} }}
	var shown strings.Builder
	p := &typist{lines: slices.Clone(straight), at: morning}
	if err := WalkWith(s, p, &shown, "", p.now, opt); err != nil || !s.Walk.IsClosed() {
		t.Fatal(err, shown.String())
	}
	const said = "EXPECT: Rounds to expect: 3 to 5"
	before, after, _ := strings.Cut(shown.String(), "REST: until")
	if strings.Count(before, said) != 4 || strings.Contains(after, said) || asked != 1 {
		t.Errorf("said %d times before the rest, after it %v; asked %d times", strings.Count(before, said), strings.Contains(after, said), asked)
	}
	if text, err := os.ReadFile(s.Path()); err != nil || strings.Contains(strings.ToLower(string(text)), "expect") {
		t.Error("the estimate is on the card: ", err)
	}
}
