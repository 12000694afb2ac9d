package paper

import (
	"testing"
	"unicode"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
)

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
