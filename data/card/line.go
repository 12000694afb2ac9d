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
	"strings"
	"time"
	"unicode/utf8"

	"evenload/sequence"
)

// line is one line of a card, in the order in which it stands there.
type line struct {
	N    int             `json:"n"`
	At   string          `json:"at"`
	By   string          `json:"by"`
	Kind string          `json:"kind"`
	Data json.RawMessage `json:"data"`
	Hash string          `json:"hash"`
}

// timeForm is the time as a card keeps it: UTC, always three decimals.
const timeForm = "2006-01-02T15:04:05.000Z"

// noHash stands before line 1.
var noHash = strings.Repeat("0", 64)

// encode makes a line, without its line feed, and its hash: SHA-256 of the
// hash before followed by the bytes of this line before `,"hash"`.
func encode(n int, e sequence.Event, before string) (text []byte, hash string, err error) {
	data, err := plainJSON(e.Data)
	if err != nil {
		return nil, "", fmt.Errorf("event %q cannot be written: %w", string(e.Data.Kind()), err)
	}
	by, err := plainJSON(e.By)
	if err != nil {
		return nil, "", fmt.Errorf("name cannot be written: %w", err)
	}
	var b bytes.Buffer
	b.Grow(len(data) + len(by) + 200)
	fmt.Fprintf(&b, `{"n":%d,"at":"%s","by":%s,"kind":"%s","data":%s`, n, e.At.UTC().Format(timeForm), by, e.Data.Kind(), data)
	hash = sum(before, b.Bytes())
	fmt.Fprintf(&b, `,"hash":"%s"}`, hash)
	return b.Bytes(), hash, nil
}

func sum(before string, text []byte) string {
	h := sha256.New()
	h.Write([]byte(before))
	h.Write(text)
	return hex.EncodeToString(h.Sum(nil))
}

// plainJSON is JSON without HTML escapes.
func plainJSON(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}

// decode reads line n. What would be written otherwise than it stands is damage.
func decode(n int, text []byte, before string) (e sequence.Event, hash string, err error) {
	if !utf8.Valid(text) {
		return e, "", errors.New("it is not UTF-8 text")
	}
	var l line
	if err := json.Unmarshal(text, &l); err != nil {
		return e, "", errors.New("it is not a line of a card")
	}
	if l.N != n {
		return e, "", fmt.Errorf("it says that it is line %d", l.N)
	}
	at, err := time.Parse(timeForm, l.At)
	if err != nil {
		return e, "", errors.New("its time is not readable")
	}
	data, err := sequence.DecodeData(sequence.Kind(l.Kind), l.Data)
	if err != nil {
		return e, "", err
	}
	if _, opened := data.(sequence.CardOpened); opened != (n == 1) {
		return e, "", errors.New("a card begins with the line that opens it, and has only one")
	}
	e = sequence.Event{At: at, By: l.By, Data: data}
	again, hash, err := encode(n, e, before)
	if err != nil {
		return e, "", err
	}
	if !bytes.Equal(again, text) {
		return e, "", errors.New("its hash or its text has changed since it was written")
	}
	return e, hash, nil
}
