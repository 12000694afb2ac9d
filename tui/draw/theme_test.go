package draw

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func newTheme(t testing.TB, name string, ascii, styles bool) Theme {
	t.Helper()
	theme, err := NewTheme(name, ascii, styles)
	if err != nil {
		t.Fatal(err)
	}
	return theme
}

// rgb is a colour of a palette.
type rgb [3]uint8

// The sixteen colours of two wide-spread palettes, from memory: the text mode
// of VGA and the defaults of the X terminal.
var consoles = map[string][16]rgb{
	"vga": {{0, 0, 0}, {170, 0, 0}, {0, 170, 0}, {170, 85, 0}, {0, 0, 170}, {170, 0, 170}, {0, 170, 170}, {170, 170, 170},
		{85, 85, 85}, {255, 85, 85}, {85, 255, 85}, {255, 255, 85}, {85, 85, 255}, {255, 85, 255}, {85, 255, 255}, {255, 255, 255}},
	"x": {{0, 0, 0}, {205, 0, 0}, {0, 205, 0}, {205, 205, 0}, {0, 0, 238}, {205, 0, 205}, {0, 205, 205}, {229, 229, 229},
		{127, 127, 127}, {255, 0, 0}, {0, 255, 0}, {255, 255, 0}, {92, 92, 255}, {255, 0, 255}, {0, 255, 255}, {255, 255, 255}},
}

// luminance is the relative luminance of WCAG 2.1.
func (c rgb) luminance() float64 {
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		v := float64(c[i]) / 255
		if v <= 0.03928 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		sum += weight * v
	}
	return sum
}

// contrast is the contrast ratio of WCAG 2.1.
func contrast(a, b rgb) float64 {
	hi, lo := max(a.luminance(), b.luminance()), min(a.luminance(), b.luminance())
	return (hi + 0.05) / (lo + 0.05)
}

// TestReadable holds every colour against its ground: WCAG 2.1, success
// criterion 1.4.3, asks for a contrast of 4.5 to 1. Where bold is shown as
// bright, the bright colour counts as well.
func TestReadable(t *testing.T) {
	// The ratio of black and white is 21 to 1 by the same definition.
	if r := contrast(rgb{}, rgb{255, 255, 255}); math.Abs(r-21) > 1e-9 {
		t.Errorf("contrast of black and white is %v", r)
	}
	for name, ground := range map[string]rgb{"dark": {0, 0, 0}, "light": {255, 255, 255}} {
		held := 0
		for role, code := range palettes[name] {
			params := strings.Split(code, ";")
			for console, colours := range consoles {
				for _, p := range params {
					for _, c := range shown(p, slices.Contains(params, "1"), colours) {
						held++
						if r := contrast(c, ground); r < 4.5 {
							t.Errorf("%s, role %d, %s on %s: contrast %.1f", name, role, code, console, r)
						}
					}
				}
			}
		}
		if held == 0 {
			t.Errorf("%s has no colour", name)
		}
	}
}

// shown gives the colours that an SGR parameter can come out as.
func shown(param string, bold bool, colours [16]rgb) []rgb {
	n, _ := strconv.Atoi(param)
	switch {
	case n >= 30 && n <= 37 && bold:
		return []rgb{colours[n-30], colours[n-30+8]}
	case n >= 30 && n <= 37:
		return []rgb{colours[n-30]}
	case n >= 90 && n <= 97:
		return []rgb{colours[n-90+8]}
	}
	return nil
}

// TestCodes: the sixteen colours as text colours, bold and reverse, no more
// (ECMA-48, 8.3.117, and the bright colours 90 to 97 of common consoles).
func TestCodes(t *testing.T) {
	for name, codes := range palettes {
		for role, code := range codes {
			if code == "" {
				continue
			}
			for p := range strings.SplitSeq(code, ";") {
				n, err := strconv.Atoi(p)
				colour := n >= 30 && n <= 37 || n >= 90 && n <= 97
				style := n == 1 || n == 7 && name == "mono"
				if err != nil || !style && (!colour || name == "mono") {
					t.Errorf("%s, role %d: code %q", name, role, code)
				}
			}
		}
	}
}

func TestPaint(t *testing.T) {
	for _, c := range []struct {
		theme  string
		styles bool
		role   Role
		want   string
	}{
		{"dark", true, Danger, "\x1b[1;91mx\x1b[0m"},
		{"light", true, Danger, "\x1b[31mx\x1b[0m"},
		{"mono", true, Now, "\x1b[7mx\x1b[0m"},
		{"mono", true, Ready, "x"},
		{"mono", false, Danger, "x"},
		{"dark", false, Danger, "x"},
		{"dark", true, Plain, "x"},
		{"dark", true, Role(-1), "x"},
		{"dark", true, roles, "x"},
	} {
		if got := newTheme(t, c.theme, false, c.styles).Paint(c.role, "x"); got != c.want {
			t.Errorf("%+v: %q", c, got)
		}
	}
	if got := (Theme{}).Paint(Danger, "x"); got != "x" {
		t.Errorf("zero theme: %q", got)
	}
	if got := newTheme(t, "dark", false, true).Paint(Danger, ""); got != "" {
		t.Errorf("nothing painted: %q", got)
	}
}

func TestNewThemeUnknown(t *testing.T) {
	_, err := NewTheme("neon", false, true)
	if err == nil || !strings.Contains(err.Error(), `"neon"`) || !strings.Contains(err.Error(), "dark, light or mono") {
		t.Errorf("error %v", err)
	}
}

func TestSpell(t *testing.T) {
	ascii, all := newTheme(t, "mono", true, true), newTheme(t, "mono", false, true)
	for in, want := range map[string]string{
		"187 N·m": "187 N.m", "mm²": "mm2", "1–5": "1-5", "40 °C": "40 deg C", "at 90°": "at 90 deg", "±3 %": "+/-3 %", "µm": "um",
		"M20×2.5": "M20x2.5", "Bärbel": "B?rbel", "日本": "??", "a\x7fb": "a?b", "\x1b[1mx\x1b[0m": "\x1b[1mx\x1b[0m", "": "", "bad \xff": "bad ?",
	} {
		if got := ascii.Spell(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
		if got := all.Spell(in); got != in {
			t.Errorf("%q was changed to %q", in, got)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		if got := ascii.Spell(rapid.String().Draw(t, "s")); !isASCII(got) {
			t.Fatalf("%q", got)
		}
	})
}
