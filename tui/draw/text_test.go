package draw

import (
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

// words draws text with long words, wide characters and marks of its own.
func words() *rapid.Generator[string] {
	piece := rapid.SampledFrom([]string{"a", "nut", "gasket", "DH-112-F03", "Bärbel", "日本語", "e\u0301", "N·m", "👷", "   ", " ", "-", strings.Repeat("x", 90)})
	return rapid.Custom(func(t *rapid.T) string { return strings.Join(rapid.SliceOfN(piece, 0, 25).Draw(t, "pieces"), "") })
}

// tester is what tests and properties have in common.
type tester interface {
	Helper()
	Fatalf(format string, args ...any)
}

// within fails if a frame is larger than w by h cells.
func within(t tester, s string, w, h int) {
	t.Helper()
	if w < 1 || h < 1 {
		if s != "" {
			t.Fatalf("%q drawn in %d x %d", s, w, h)
		}
		return
	}
	lines := strings.Split(s, "\n")
	if len(lines) > h {
		t.Fatalf("%d lines in %d x %d", len(lines), w, h)
	}
	for _, l := range lines {
		if ansi.StringWidth(l) > w {
			t.Fatalf("%q is %d wide in %d x %d", l, ansi.StringWidth(l), w, h)
		}
	}
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		text string
		w    int
		want []string
	}{
		{"Hands clear of arm and barrel.", 12, []string{"Hands clear", "of arm and", "barrel."}},
		{"bolts 10-12 of DH-112-F03", 9, []string{"bolts", "10-12 of", "DH-112-F0", "3"}}, // a range stays whole
		{"one  two\nthree", 20, []string{"one two three"}},
		{"日本語", 5, []string{"日本", "語"}},
		{"日", 1, []string{"~"}},
		{"", 9, nil},
		{"x", 0, nil},
	} {
		if got := Wrap(c.text, c.w); !slices.Equal(got, c.want) {
			t.Errorf("%q in %d: %q, want %q", c.text, c.w, got, c.want)
		}
	}
}

func TestWrapKeepsEverything(t *testing.T) {
	bare := strings.NewReplacer(" ", "", "\n", "")
	rapid.Check(t, func(t *rapid.T) {
		text, w := words().Draw(t, "text"), rapid.IntRange(2, 200).Draw(t, "w")
		lines := Wrap(text, w)
		for _, l := range lines {
			if ansi.StringWidth(l) > w {
				t.Fatalf("%q is wider than %d", l, w)
			}
		}
		if got := strings.Join(lines, ""); bare.Replace(got) != bare.Replace(text) {
			t.Fatalf("%q became %q", text, got)
		}
	})
}

func TestClamp(t *testing.T) {
	if got := Clamp("abcdef\nxy\nz", 4, 2); got != "abc~\nxy" {
		t.Errorf("%q", got)
	}
	if got := Clamp("a\tb\rc", 9, 2); got != "a b c" {
		t.Errorf("%q", got)
	}
	if got := Clamp("\x1b[1mabcdef\x1b[0m", 4, 1); !strings.HasSuffix(got, "\x1b[0m") || ansi.Strip(got) != "abc~" {
		t.Errorf("%q", got)
	}
}

func TestClampHolds(t *testing.T) {
	dark := newTheme(t, "dark", false, true)
	painted := rapid.Map(words(), func(s string) string { return dark.Paint(Danger, s) + "\n" + s + "\t" + s })
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.OneOf(rapid.String(), words(), painted).Draw(t, "s")
		w, h := rapid.IntRange(0, 200).Draw(t, "w"), rapid.IntRange(0, 60).Draw(t, "h")
		within(t, Clamp(s, w, h), w, h)
	})
}

func TestColumns(t *testing.T) {
	got := Columns([]string{"ab", "日本", "\x1b[1mxyz\x1b[0m", "much too wide"}, []string{"1", "2", "3", "4", "5"}, 2, 5)
	want := []string{"ab     1", "日本   2", "\x1b[1mxyz\x1b[0m    3", "much too wide 4", "       5"}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	if got := Columns([]string{"a", "b"}, []string{"1"}, 1, 3); !slices.Equal(got, []string{"a   1", "b"}) {
		t.Errorf("%q", got)
	}
}

// TestWidthOfStyledText: the quick way counts as the library does.
func TestWidthOfStyledText(t *testing.T) {
	piece := rapid.SampledFrom([]string{"a", " ", "~", "\x1b[1;96m", "\x1b[0m", "\x1b[2J", "\x1b[", "\x1b", ";", "7", "m", "ö", "世"})
	rapid.Check(t, func(t *rapid.T) {
		s := strings.Join(rapid.SliceOf(piece).Draw(t, "pieces"), "")
		if got, want := width(s), ansi.StringWidth(s); got != want {
			t.Fatalf("%q: %d cells, want %d", s, got, want)
		}
	})
}
