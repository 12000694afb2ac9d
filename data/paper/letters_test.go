package paper

import (
	"bytes"
	"testing"
	"unicode"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
)

// The fonts are those of golang.org/x/image; after a change of them
// gzip -9 -n -c Go-Regular.ttf >data/paper/fonts/Go-Regular.ttf.gz, and the bold one.
func TestFontsAreUnpacked(t *testing.T) {
	if !bytes.Equal(regular(), goregular.TTF) || !bytes.Equal(bold(), gobold.TTF) {
		t.Error("the fonts are other ones")
	}
	if got := unpacked([]byte("no font")); got != nil {
		t.Errorf("of a spoilt file there are %d bytes", len(got))
	}
}

// The letters are those that both fonts have, and no other.
func TestLettersAreThoseOfTheFonts(t *testing.T) {
	for name, ttf := range map[string][]byte{"regular": goregular.TTF, "bold": gobold.TTF} {
		font, err := sfnt.Parse(ttf)
		if err != nil {
			t.Fatal(err)
		}
		var buf sfnt.Buffer
		for r := rune(0); r <= 0xffff; r++ {
			i, err := font.GlyphIndex(&buf, r)
			if has := err == nil && i != 0; has != unicode.Is(letters, r) {
				t.Errorf("%U: the %s font has it: %v", r, name, has)
			}
		}
	}
}
