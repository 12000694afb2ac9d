package visible

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"unicode/utf16"
)

// JSON writes a value as indented JSON. What Text would make visible stands as
// \uXXXX there: a program reads what it is, and a terminal is not moved by it.
func JSON(out io.Writer, v any) error {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(v); err != nil {
		return err
	}
	text := b.Bytes()
	if bytes.IndexFunc(text, escapes) < 0 {
		_, err := out.Write(text)
		return err
	}
	var clean bytes.Buffer
	for _, r := range string(text) {
		switch high, low := utf16.EncodeRune(r); {
		case !escapes(r):
			clean.WriteRune(r)
		case r > 0xFFFF:
			fmt.Fprintf(&clean, `\u%04x\u%04x`, high, low)
		default:
			fmt.Fprintf(&clean, `\u%04x`, r)
		}
	}
	_, err := out.Write(clean.Bytes())
	return err
}

// escapes says what is escaped. Line feeds stand between values only.
func escapes(r rune) bool { return r != '\n' && Hides(r) }
