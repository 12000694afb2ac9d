package visible

import (
	"encoding/json"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
)

// TestText: the characters are those of Unicode Standard Annex 9 (direction)
// and of the property Default_Ignorable_Code_Point, beside the controls of C0 and C1.
func TestText(t *testing.T) {
	for in, want := range map[string]string{
		"strainer outlet, 40 °C":  "strainer outlet, 40 °C",
		"Bärbel 日本語 N·m":          "Bärbel 日本語 N·m",
		"e\u0301 decomposed":      "e\u0301 decomposed",
		"\x1b[2Jgone":             `\u{1b}[2Jgone`,
		"\u009b31m":               `\u{9b}31m`,
		"two\nlines\tand\rback":   `two\u{a}lines\u{9}and\u{d}back`,
		"\x7f\x00":                `\u{7f}\u{0}`,
		"a\u202etxt":              `a\u{202e}txt`,
		"a\u2066b\u2069":          `a\u{2066}b\u{2069}`,
		"a\u200fb":                `a\u{200f}b`,
		"zero\u200bwidth\ufeff":   `zero\u{200b}width\u{feff}`,
		"join\u200der \u00adsoft": `join\u{200d}er \u{ad}soft`,
		"selector\ufe0f":          `selector\u{fe0f}`,
		"filler\u3164":            `filler\u{3164}`,
		"blank\u2800":             `blank\u{2800}`,
		"line\u2028":              `line\u{2028}`,
		"private\ue000":           `private\u{e000}`,
		"tag\U000e0041":           `tag\u{e0041}`,
		"\u0301first":             `\u{301}first`,
		"bad \xff":                `bad \u{fffd}`,
		"":                        "",
	} {
		if got := Text(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

func FuzzText(f *testing.F) {
	for _, s := range []string{"", "bolt 7", "\x1b]0;x\x07", "\u202e\u2066", "\u0301", "\xff\xfe", "👷\u200d♀\ufe0f", "\u009b"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got := Text(s)
		if !utf8.ValidString(got) || ansi.Strip(got) != got || Text(got) != got {
			t.Fatalf("%q became %q", s, got)
		}
		if i := strings.IndexFunc(got, func(r rune) bool {
			return unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Bidi_Control, unicode.Zl, unicode.Zp)
		}); i >= 0 {
			t.Fatalf("%q became %q", s, got)
		}
		if utf8.RuneCountInString(got) < utf8.RuneCountInString(s) {
			t.Fatalf("%q lost something: %q", s, got)
		}
	})
}

// TestJSON: a program reads the text as it is, a terminal is not moved by it.
func TestJSON(t *testing.T) {
	for _, text := range []string{"40 °C, N·m, 日本語", "\x1b[2J\x7f\x00", "\u009b31m\u0085", "a\u202eb\u2066\u200f", "a\u2028b\nc", "\u00ad\ufeff\u200d", "tag\U000e0041 👷", "<&>\"\\u202e"} {
		var out strings.Builder
		if err := JSON(&out, map[string]string{"text": text}); err != nil {
			t.Fatal(err)
		}
		if strings.ContainsFunc(strings.ReplaceAll(out.String(), "\n", ""), Hides) {
			t.Errorf("%q is written as %q", text, out.String())
		}
		var back map[string]string
		if err := json.Unmarshal([]byte(out.String()), &back); err != nil || back["text"] != text {
			t.Errorf("%q came back as %q: %v", text, back["text"], err)
		}
	}
}

// TestNoCellIsAFormula: names and notes that a spreadsheet would run.
func TestNoCellIsAFormula(t *testing.T) {
	for _, s := range []string{"=1+1", "+1", "-1", "@x", "  =1", "\t=1", "\r=1", "＝1", " ＠x", "\ufeff=1"} {
		if got := Cell(s); strings.ContainsAny(got[:1], "=+-@\t\r ") || strings.HasPrefix(got, "＝") {
			t.Errorf("%q becomes %q", s, got)
		}
	}
	if got := Cell("Ann-Marie = 2"); got != "Ann-Marie = 2" {
		t.Errorf("a plain name becomes %q", got)
	}
}
