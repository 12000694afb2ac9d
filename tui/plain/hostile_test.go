package plain

import (
	"os"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"pgregory.net/rapid"

	"evenload/data/card"
	"evenload/data/report"
	"evenload/sequence"
)

// TestHostileInput: bytes that move a terminal or hide are refused at entry.
func TestHostileInput(t *testing.T) {
	for _, bad := range []string{"\x1b[2JAnn", "An\x00n", "Ann\u202e", "A\u200bnn", "An\x9bn", "\xff\xfe", "A\u2028nn", "A\tnn", "\u0301"} {
		w := walk(t, t.TempDir(), drain(t), bad)
		w.says(t, "NOT TAKEN: that line holds characters that cannot be shown\nSTEP: SIGN ON")
		if w.Path() != "" {
			t.Errorf("%q is on a card", bad)
		}
	}
}

// TestHostilePlan: what a card froze is made visible too.
func TestHostilePlan(t *testing.T) {
	o := drain(t)
	o.Plan.About.Where = "hall\x1b[2J\u202e"
	o.Plan.Questions[0].Text = "Tag\nRECORDED: answered"
	w := walk(t, t.TempDir(), o, "Ann", "")
	w.says(t, `JOINT: DH-220___ hall\u{1b}[2J\u{202e}`, `QUESTION: Tag\u{a}RECORDED: answered`)
}

// TestInputThatBreaks: a line without end is said.
func TestInputThatBreaks(t *testing.T) {
	s, err := card.Begin(t.TempDir(), "", drain(t))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	var out strings.Builder
	now := func() time.Time { return morning }
	err = Walk(s, strings.NewReader("Ann\n\n"+strings.Repeat("n", 1<<17)), &out, Options{Now: now})
	walked{Session: s, text: out.String()}.says(t, "RECORDED: signed_on", "NOT TAKEN: the input cannot be read on: ", "RECORDED: suspended", "LEFT: ")
	if err != nil {
		t.Error(err)
	}
}

// TestDiskRefuses: what could not be written is not done, and ends the walk
// with an error, when leaving too.
func TestDiskRefuses(t *testing.T) {
	for _, last := range []string{"yes", "q"} {
		dir := t.TempDir()
		s, err := card.Begin(dir, "", drain(t))
		if err != nil {
			t.Fatal(err)
		}
		p := &typist{lines: slices.Concat(gate[:3], []string{last}), at: morning}
		err = Walk(s, &losing{p, s}, &p.all, Options{Now: p.now})
		if err == nil || !strings.Contains(err.Error(), "NOT RECORDED, so not done: ") || strings.Contains(p.all.String(), "LEFT") {
			t.Errorf("%q: %v\n%s", last, err, p.all.String())
		}
	}
}

// losing closes the card under the walk before its last line is read.
type losing struct {
	*typist
	s *card.Session
}

func (l *losing) Read(b []byte) (int, error) {
	if len(l.lines) == 1 {
		l.s.Close()
	}
	return l.typist.Read(b)
}

// TestAnyLines: whatever lines come, the walk ends with its input, shows
// nothing that moves a terminal, and leaves a card that is whole and stands
// where the walk stood.
func TestAnyLines(t *testing.T) {
	known := rapid.SampledFrom([]string{"", "y", "yes", "no", "n", "a", "r", "u", "d", "s", "m", "p", "t", "w", "g", "1", "2", "3", "4", "7", "8", "9", "e", "x", "f", "h", "b", "done", "-D1", "2.7", "4.8", "4,9", "2.4", "3.0",
		"1.0", "1.2", "9", "0.9", "Ann", "Bo", "Eva", "engineer", "P-1", "+31m", "+-2h", "q", "\x1b[A", "\u202e", "\xff"})
	line := rapid.OneOf(known, known, known, rapid.Map(rapid.String(), func(s string) string { return strings.ReplaceAll(s, "\n", " ") }))
	o := drain(t)
	rapid.Check(t, func(r *rapid.T) {
		straightOn := rapid.IntRange(0, len(straight)).Draw(r, "straight on")
		lines := slices.Concat(straight[:straightOn], rapid.SliceOfN(line, 0, 40).Draw(r, "lines"))
		dir, err := os.MkdirTemp("", "lines")
		if err != nil {
			r.Fatal(err)
		}
		defer os.RemoveAll(dir)
		w := walk(r, dir, o, lines...)
		for _, c := range w.shown {
			if c != '\n' && (unicode.IsControl(c) || unicode.In(c, unicode.Cf, unicode.Zl, unicode.Zp) || c == utf8.RuneError) {
				r.Fatalf("U+%04X is shown: %q", c, w.shown)
			}
		}
		if w.Path() == "" {
			return
		}
		if text, ok := report.Verify(w.Path()); !ok {
			r.Fatalf("%s\n%s", text, w.text)
		}
		c, err := card.Read(w.Path())
		if err != nil {
			r.Fatal(err)
		}
		if again, err := sequence.Replay(&o.Plan, c.Events()[1:]); err != nil || again.Key() != w.Walk.Key() {
			r.Fatalf("the card says otherwise than the walk: %v\n%s", err, w.text)
		}
	})
}
