package draw

import (
	"fmt"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"evenload/data/visible"
)

// atWork is the screen of a bolt, as the walk shows it.
func atWork(ring int, w, h int, t Theme) Frame {
	left := halfDone(ring).Draw(w, h, t)
	right := []string{"BOLT"}
	for _, l := range Big(fmt.Sprint(ring/2 + 1)) {
		right = append(right, "   "+t.Paint(BigRole, l))
	}
	right = append(right, "", "then 5, then 11", "", "gauge   3.4 bar running", "torque  187 N·m")
	return Frame{Left: "DH-112-F03   strainer outlet, return header", Right: "PASS 2 of 3  60 %",
		Body:    Columns(left, right, 3, w),
		Caution: "Hands clear of arm and barrel. Foot on its stop. Hold until it stalls.",
		Keys:    []Key{{"SPACE", "done"}, {"u", "undo"}, {"p", "problem"}, {"n", "note"}, {"?", "help"}, {"q", "leave"}}}
}

func TestFrameInEverySize(t *testing.T) {
	for _, theme := range []Theme{newTheme(t, "dark", false, true), newTheme(t, "mono", true, true)} {
		f := atWork(12, 38, 14, theme)
		f.Notice = "NOT DONE: hold or double key. Wait a moment, then press once."
		for w := range 201 {
			for h := range 61 {
				s := f.Render(w, h, theme)
				if w == 0 || h == 0 {
					within(t, s, w, h)
					continue
				}
				within(t, s, max(1, w-1), h)
				text := strings.Join(strings.Fields(ansi.Strip(s)), " ")
				if TooSmall(w, h) {
					if w > 40 && !strings.Contains(text, "window too small: 40 x 10 or more") {
						t.Fatalf("%d x %d: %q", w, h, text)
					}
					continue
				}
				for _, want := range []string{f.Caution, f.Notice, "PASS 2 of 3 60 %", "SPACE done", "u undo", "p problem", "n note", "? help", "q leave"} {
					if !strings.Contains(text, want) {
						t.Fatalf("%d x %d: no %q in\n%s", w, h, want, ansi.Strip(s))
					}
				}
				if h >= 24 && w >= 80 && !strings.Contains(text, "torque 187 N") {
					t.Fatalf("%d x %d: the body was cut in\n%s", w, h, ansi.Strip(s))
				}
				if lines := strings.Count(s, "\n") + 1; lines != h {
					t.Fatalf("%d x %d: %d lines, the keys are not at the bottom", w, h, lines)
				}
			}
		}
	}
}

func TestFrameOfAnything(t *testing.T) {
	ascii := newTheme(t, "light", true, true)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(words(), rapid.Map(rapid.String(), visible.Text))
		f := Frame{Left: text.Draw(t, "left"), Right: text.Draw(t, "right"), Body: rapid.SliceOfN(rapid.OneOf(text, rapid.Just("a\nb\tc")), 0, 70).Draw(t, "body"),
			Notice: rapid.String().Draw(t, "notice"), Caution: text.Draw(t, "caution")}
		for range rapid.IntRange(0, 12).Draw(t, "keys") {
			f.Keys = append(f.Keys, Key{text.Draw(t, "key"), text.Draw(t, "does")})
		}
		w, h := rapid.IntRange(1, 200).Draw(t, "w"), rapid.IntRange(1, 60).Draw(t, "h")
		within(t, f.Render(w, h, Theme{}), max(1, w-1), h)
		s := f.Render(w, h, ascii)
		within(t, s, max(1, w-1), h)
		if !isASCII(s) {
			t.Fatalf("not ASCII: %q", s)
		}
	})
}

func TestFramePlaces(t *testing.T) {
	f := Frame{Left: "DH-112-F03", Right: "GATE", Body: []string{"one", "two"}, Notice: "NOT TAKEN: x\x1b[2J", Caution: "Care.", Keys: []Key{{"y", "yes"}, {"n", "no"}}}
	want := " DH-112-F03                       GATE \n" + strings.Repeat("-", 39) + "\none\ntwo\n\n\n\n NOT TAKEN: x\\u{1b}[2J\n Care.\n y yes   n no"
	if got := f.Render(40, 10, Theme{}); got != want {
		t.Errorf("got\n%s", got)
	}
	f.Notice, f.Caution, f.Keys = "", "", nil
	if got := f.Render(40, 10, Theme{}); strings.Count(got, "\n") != 9 || !strings.HasPrefix(got, want[:40]) {
		t.Errorf("got\n%s", got)
	}
}

func TestFrameCutsTheBodyFirst(t *testing.T) {
	f := Frame{Right: "GATE", Caution: strings.Repeat("care ", 30), Notice: "NOT TAKEN: read first.", Keys: []Key{{"y", "yes"}}}
	for i := range 20 {
		f.Body = append(f.Body, fmt.Sprintf("line %d", i))
	}
	got := f.Render(40, 12, Theme{})
	if strings.Count(got, "care") != 30 || !strings.Contains(got, "NOT TAKEN: read first.") || !strings.Contains(got, "line 1\n more below") || strings.Contains(got, "line 2") {
		t.Errorf("got\n%s", got)
	}
	f.Caution = strings.Repeat("care ", 90)
	got = f.Render(40, 10, Theme{})
	if !strings.Contains(got, "care ~\n y yes") || !strings.Contains(got, "NOT TAKEN: read first.") || !strings.Contains(got, "more below") {
		t.Errorf("a caution that does not fit: got\n%s", got)
	}
	f.Caution, f.Body = "Care.", append([]string{" "}, "", "a", "b", "\x1b[1m \x1b[0m", "")
	if got := f.Render(40, 10, Theme{}); strings.Contains(got, "more below") {
		t.Errorf("empty lines counted: got\n%s", got)
	}
}

func TestTooSmall(t *testing.T) {
	for _, c := range []struct {
		w, h int
		want bool
	}{{40, 10, false}, {39, 10, true}, {40, 9, true}, {80, 24, false}, {0, 0, true}} {
		if got := TooSmall(c.w, c.h); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// BenchmarkFrame draws the screen of a bolt as large as 120 x 40 allows.
func BenchmarkFrame(b *testing.B) {
	for _, name := range []string{"dark", "mono"} {
		theme := newTheme(b, name, name == "mono", true)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				atWork(16, 59, 32, theme).Render(120, 40, theme)
			}
		})
	}
}
