package card

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"time"

	"evenload/sequence"
)

// mark reads the line of a bolt that was done, or found still or moved, by far
// the most of every card, without the JSON library. It takes only what would be
// written letter for letter as it stands: the name is that of a line before,
// which was written again to see. For all else ok is false, and decode looks.
func (c *encoder) mark(text, at, by, kind, data []byte, before string) (e sequence.Event, hash string, ok bool) {
	if c.spelt == nil || c.by != c.speltBy || !bytes.Equal(by, c.name) || !bytes.Equal(by, c.spelt) {
		return e, "", false
	}
	switch sequence.Kind(kind) {
	case "done":
		pass, rest, ok := number(data, `{"pass":`)
		bolts, ok2 := boltList(rest)
		if !ok || !ok2 {
			return e, "", false
		}
		e.Data = sequence.BoltDone{Pass: pass, Bolts: bolts}
	case "still", "moved":
		round, rest, ok := number(data, `{"round":`)
		bolt, rest, ok2 := number(rest, `,"bolt":`)
		if !ok || !ok2 || string(rest) != "}" {
			return e, "", false
		}
		e.Data = sequence.NutStill{Round: round, Bolt: sequence.Bolt(bolt)}
		if string(kind) == "moved" {
			e.Data = sequence.NutMoved{Round: round, Bolt: sequence.Bolt(bolt)}
		}
	default:
		return e, "", false
	}
	var err error
	if e.At, err = time.Parse(time.RFC3339Nano, string(at)); err != nil {
		return e, "", false
	}
	var again [len(timeForm)]byte
	if !bytes.Equal(appendTime(again[:0], e.At), at) {
		return e, "", false
	}
	c.b.Reset()
	c.b.WriteString(before)
	c.b.Write(text[:len(text)-hashBytes])
	sum := sha256.Sum256(c.b.Bytes())
	hash = hex.EncodeToString(sum[:])
	end, ok := bytes.CutPrefix(text[len(text)-hashBytes:], []byte(beforeHash))
	e.By = c.by
	return e, hash, ok && string(end[:len(hash)]) == hash && string(end[len(hash):]) == lineEnd
}

// number reads a whole number of one to four digits behind a fixed text, as it
// would be written: positive, without a zero in front.
func number(text []byte, before string) (n int, rest []byte, ok bool) {
	rest, ok = bytes.CutPrefix(text, []byte(before))
	if !ok {
		return 0, nil, false
	}
	i := 0
	for ; i < len(rest) && i < 5 && rest[i] >= '0' && rest[i] <= '9'; i++ {
		n = 10*n + int(rest[i]-'0')
	}
	return n, rest[i:], i > 0 && i < 5 && rest[0] != '0'
}

// boltList reads the bolts of a station and the end of the data.
func boltList(text []byte) ([]sequence.Bolt, bool) {
	b, rest, ok := number(text, `,"bolts":[`)
	bolts := []sequence.Bolt{sequence.Bolt(b)}
	for ok && len(bolts) < sequence.MostTools && bytes.HasPrefix(rest, []byte{','}) {
		b, rest, ok = number(rest, `,`)
		bolts = append(bolts, sequence.Bolt(b))
	}
	return slices.Clip(bolts), ok && string(rest) == "]}"
}
