// Package card is the as-done card: append, verify, read back. It is the only
// package that knows the card's lines.
package card

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"evenload/sequence"
)

// format is the form of the lines and of what line 1 freezes.
const format = 1

// timeForm is the time as a card keeps it: UTC, always three decimals.
const timeForm = "2006-01-02T15:04:05.000Z"

// appendTime adds a time in timeForm. The library is much quicker with the
// forms of RFC 3339, here and in reading.
func appendTime(b []byte, t time.Time) []byte {
	b = t.UTC().AppendFormat(b, time.RFC3339)
	ms := t.Nanosecond() / int(time.Millisecond)
	return append(b[:len(b)-len("Z")], '.', byte('0'+ms/100), byte('0'+ms/10%10), byte('0'+ms%10), 'Z')
}

// noHash stands before line 1.
var noHash = strings.Repeat("0", 2*sha256.Size)

// The fixed text of a line, in the order in which it stands there.
const (
	beforeN    = `{"n":`
	beforeAt   = `,"at":"`
	beforeBy   = `","by":`
	beforeKind = `,"kind":"`
	beforeData = `","data":`
	beforeHash = `,"hash":"`
	lineEnd    = `"}`
)

const hashBytes = len(beforeHash) + 2*sha256.Size + len(lineEnd)

// encoder makes lines one after the other in the same memory.
type encoder struct {
	b    bytes.Buffer
	json *json.Encoder
	by   string // the last name that was read, and how it stood in its line
	name []byte

	speltBy string // the last name that was written, and how it has to stand in a line
	spelt   []byte
}

func newEncoder() *encoder {
	var c encoder
	c.json = json.NewEncoder(&c.b)
	c.json.SetEscapeHTML(false)
	return &c
}

// encode makes a line, without its line feed, and its hash: SHA-256 of the
// hash before followed by the bytes of this line before `,"hash"`. The text
// holds until the next line is made.
func (c *encoder) encode(n int, e sequence.Event, before string) (text []byte, hash string, err error) {
	if e.Data == nil {
		return nil, "", errors.New("an event without data cannot be written")
	}
	c.b.Reset()
	c.b.WriteString(before)
	c.b.Write(appendStart(c.b.AvailableBuffer(), n))
	c.b.Write(appendTime(c.b.AvailableBuffer(), e.At))
	c.b.WriteString(beforeBy)
	if c.spelt == nil || e.By != c.speltBy {
		start := c.b.Len()
		if err := c.value(e.By); err != nil {
			return nil, "", fmt.Errorf("name cannot be written: %w", err)
		}
		c.speltBy, c.spelt = e.By, append(c.spelt[:0], c.b.Bytes()[start:]...)
	} else {
		c.b.Write(c.spelt)
	}
	c.b.WriteString(beforeKind)
	c.b.WriteString(string(e.Data.Kind()))
	c.b.WriteString(beforeData)
	if err := c.value(e.Data); err != nil {
		return nil, "", fmt.Errorf("event %q cannot be written: %w", string(e.Data.Kind()), err)
	}
	sum := sha256.Sum256(c.b.Bytes())
	var digits [2 * sha256.Size]byte
	hex.Encode(digits[:], sum[:])
	hash = string(digits[:])
	c.b.WriteString(beforeHash)
	c.b.WriteString(hash)
	c.b.WriteString(lineEnd)
	return c.b.Bytes()[len(before):], hash, nil
}

// value adds JSON without the line feed that ends it.
func (c *encoder) value(v any) error {
	if err := c.json.Encode(v); err != nil {
		return err
	}
	c.b.Truncate(c.b.Len() - 1)
	return nil
}

// newLine is encode for an event that is new: it must read back as it is, and
// its line feed stands at the end. A flush takes far longer than the check.
func newLine(n int, e sequence.Event, before string) (text []byte, hash string, err error) {
	text, hash, err = newEncoder().encode(n, e, before)
	if err != nil {
		return nil, "", err
	}
	if len(text) > mostLineBytes {
		return nil, "", fmt.Errorf("event %q cannot be written: its line is longer than %d MiB", string(e.Data.Kind()), mostLineBytes>>20)
	}
	back, _, err := newEncoder().decode(n, text, before)
	if err != nil {
		return nil, "", fmt.Errorf("event %q cannot be written, it would not read back: %w", string(e.Data.Kind()), err)
	}
	if back.By != e.By || !back.At.Equal(e.At.Truncate(time.Millisecond)) || !reflect.DeepEqual(back.Data, e.Data) {
		return nil, "", fmt.Errorf("event %q cannot be written, it would read back otherwise", string(e.Data.Kind()))
	}
	return append(text, '\n'), hash, nil
}

// appendStart adds line n up to its time.
func appendStart(b []byte, n int) []byte {
	b = strconv.AppendInt(append(b, beforeN...), int64(n), 10)
	return append(b, beforeAt...)
}

// decode reads line n. What would be written otherwise than it stands is damage.
func (c *encoder) decode(n int, text []byte, before string) (e sequence.Event, hash string, err error) {
	if !utf8.Valid(text) {
		return e, "", errors.New("it is not UTF-8 text")
	}
	if bytes.HasSuffix(text, []byte{'\r'}) {
		return e, "", errors.New("its line ends with CR LF, as a mail or copy program writes it: take the file from where it was written")
	}
	at, by, kind, data, ok := split(n, text)
	if !ok {
		return e, "", fmt.Errorf("it is not a line of a card, or not line %d", n)
	}
	if e, hash, ok := c.mark(text, at, by, kind, data, before); ok {
		return e, hash, nil
	}
	if e.At, err = time.Parse(time.RFC3339Nano, string(at)); err != nil {
		return e, "", errors.New("its time is not readable")
	}
	if !bytes.Equal(by, c.name) {
		if err := json.Unmarshal(by, &c.by); err != nil {
			return e, "", errors.New("its name is not readable")
		}
		c.name = append(c.name[:0], by...)
	}
	e.By = c.by
	if e.Data, err = sequence.DecodeData(sequence.Kind(kind), data); err != nil {
		return e, "", err
	}
	opened, isOpened := e.Data.(sequence.CardOpened)
	if isOpened != (n == 1) {
		return e, "", errors.New("a card begins with the line that opens it, and has only one")
	}
	if isOpened && opened.Format != format {
		return e, "", fmt.Errorf("its format is %d, this version reads %d", opened.Format, format)
	}
	again, hash, err := c.encode(n, e, before)
	if err != nil {
		return e, "", err
	}
	if !bytes.Equal(again, text) {
		return e, "", errors.New("its hash or its text has changed since it was written")
	}
	return e, hash, nil
}

// split cuts line n at its fixed text. It only finds the parts: that nothing
// else stands in the line shows when it is encoded again.
func split(n int, text []byte) (at, by, kind, data []byte, ok bool) {
	var start [len(beforeN) + 20 + len(beforeAt)]byte // any number fits
	rest, ok := bytes.CutPrefix(text, appendStart(start[:0], n))
	if !ok || len(rest) < len(timeForm)+hashBytes {
		return nil, nil, nil, nil, false
	}
	at, rest = rest[:len(timeForm)], rest[len(timeForm):len(rest)-hashBytes]
	if rest, ok = bytes.CutPrefix(rest, []byte(beforeBy)); !ok {
		return nil, nil, nil, nil, false
	}
	// A quote inside the name is escaped, so this text cannot stand in it.
	if by, rest, ok = bytes.Cut(rest, []byte(beforeKind)); !ok {
		return nil, nil, nil, nil, false
	}
	kind, data, ok = bytes.Cut(rest, []byte(beforeData))
	return at, by, kind, data, ok
}
