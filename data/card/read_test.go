package card

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"evenload/sequence"
)

// TestEveryPrefix cuts a card at every byte, as a loss of power may.
func TestEveryPrefix(t *testing.T) {
	text, err := os.ReadFile(write(t, t.TempDir(), 19))
	if err != nil {
		t.Fatal(err)
	}
	all := events(19)
	for cut := range len(text) + 1 {
		whole := bytes.Count(text[:cut], []byte("\n"))
		start := bytes.LastIndexByte(text[:cut], '\n') + 1
		c, err := parse("x", text[:cut])
		if whole == 0 {
			if !errors.Is(err, ErrNothingRecorded) {
				t.Fatalf("cut at %d: error %v, want %v", cut, err, ErrNothingRecorded)
			}
			continue
		}
		if err != nil {
			t.Fatalf("cut at %d: %v", cut, err)
		}
		if torn := c.Torn != nil; torn != (start < cut) {
			t.Fatalf("cut at %d: torn is %t", cut, torn)
		}
		same(t, c, all[:whole-1])
		// Opening flushes, which takes long: near the ends of lines and now and then.
		if cut-start > 1 && cut%41 != 0 {
			continue
		}
		path := place(t, text[:cut])
		j, c, err := Open(path)
		if err != nil {
			t.Fatalf("cut at %d: %v", cut, err)
		}
		if c.Torn != nil {
			kept, err := os.ReadFile(filepath.Join(filepath.Dir(path), c.Torn.Copy))
			if err != nil || !bytes.Equal(kept, text[start:cut]) || c.Torn.Bytes != cut-start {
				t.Fatalf("cut at %d: the torn copy has %q, want %q: %v", cut, kept, text[start:cut], err)
			}
		}
		if err := j.Append(all[0]); err != nil {
			t.Fatal(err)
		}
		j.Close()
		wholeCard(t, path, append(slices.Clone(all[:whole-1]), all[0]))
	}
}

// TestEveryByteChanged turns each bit of each byte, and sets it to what means
// something in a card: nothing else than what was written is ever read.
func TestEveryByteChanged(t *testing.T) {
	text, err := os.ReadFile(write(t, t.TempDir(), 9))
	if err != nil {
		t.Fatal(err)
	}
	all := events(9)
	lastLine := bytes.LastIndexByte(text[:len(text)-1], '\n') + 1
	for i, was := range text {
		for _, now := range []byte{was ^ 1, was ^ 2, was ^ 4, was ^ 8, was ^ 16, was ^ 32, was ^ 64, was ^ 128, 0, '\n', '"', ' '} {
			if now == was {
				continue
			}
			text[i] = now
			c, err := parse("x", text)
			var damage *DamageError
			switch {
			case errors.As(err, &damage):
				line := bytes.Count(text[:i], []byte("\n")) + 1
				if damage.Line != line || damage.Offset > int64(i) || int64(i) > damage.Offset+4000 {
					t.Fatalf("byte %d of line %d changed to %#x: %v", i, line, now, err)
				}
			case err != nil || c.Torn == nil:
				t.Fatalf("byte %d changed from %q to %q: torn %v, error %v", i, was, now, c.Torn, err)
			case i == len(text)-1 && now != 0, now == 0 && i >= lastLine-1:
				// The last line's end is gone, or it holds a NUL.
			default:
				t.Fatalf("byte %d changed from %q to %q is taken for a torn last line", i, was, now)
			}
			if n := len(c.Entries); n > 0 {
				same(t, c, all[:n-1])
			}
		}
		text[i] = was
	}
}

// forge gives a line with a hash that fits, whatever its text.
func forge(before, text string) (line, hash string) {
	s := sha256.Sum256([]byte(before + text))
	hash = hex.EncodeToString(s[:])
	return text + `,"hash":"` + hash + `"}`, hash
}

// TestDamage forges lines whose hash fits but that this program never writes.
func TestDamage(t *testing.T) {
	text, err := os.ReadFile(write(t, t.TempDir(), 0))
	if err != nil {
		t.Fatal(err)
	}
	first := strings.TrimSuffix(string(text), "\n")
	hash := first[len(first)-66 : len(first)-2]
	opened := first[:len(first)-hashBytes]
	const at = `"at":"2036-10-02T07:31:00.000Z"`
	good := `{"n":2,` + at + `,"by":"x","kind":"snugged","data":{}`
	// The base of the table below has no fault of its own.
	line, _ := forge(hash, good)
	if _, err := parse("x", []byte(first+"\n"+line+"\n")); err != nil {
		t.Fatal(err)
	}
	for name, line := range map[string]string{
		"a space":             strings.Replace(good, `{}`, `{ }`, 1),
		"no data":             strings.Replace(good, `{}`, `null`, 1),
		"a field too many":    strings.Replace(good, `{}`, `{"a":1}`, 1),
		"two values":          strings.Replace(good, `{}`, `{},"more":{}`, 1),
		"no name":             strings.Replace(good, `"x"`, `null`, 1),
		"an escape too many":  strings.Replace(good, `"x"`, `"\u0078"`, 1),
		"not UTF-8":           strings.Replace(good, `"x"`, "\"\xff\"", 1),
		"another number":      strings.Replace(good, `"n":2`, `"n":3`, 1),
		"an unknown kind":     strings.Replace(good, `snugged`, `smudged`, 1),
		"no milliseconds":     strings.Replace(good, `00.000Z`, `00Z`, 1),
		"an impossible time":  strings.Replace(good, `10-02T`, `13-02T`, 1),
		"two tops":            strings.Replace(opened, `"n":1`, `"n":2`, 1),
		"a carriage return":   good + "\r",
		"a name in capitals":  strings.Replace(good, `"kind"`, `"Kind"`, 1),
		"nothing":             "",
		"a byte order mark":   "\ufeff" + good,
		"another order":       `{"n":2,"by":"x",` + at + `,"kind":"snugged","data":{}`,
		"an HTML escape":      strings.Replace(good, `"x"`, `"\u003c"`, 1),
		"a number otherwise":  strings.Replace(good, `"snugged","data":{}`, `"still","data":{"round":1e0,"bolt":2}`, 1),
		"a name given twice":  strings.Replace(good, `"snugged","data":{}`, `"note","data":{"text":"a","text":"b"}`, 1),
		"a name of data else": strings.Replace(good, `"snugged","data":{}`, `"note","data":{"Text":"a"}`, 1),
	} {
		t.Run(name, func(t *testing.T) {
			forged, _ := forge(hash, line)
			c, err := parse("A.card.jsonl", []byte(first+"\n"+forged+"\n"))
			var damage *DamageError
			if !errors.As(err, &damage) || damage.Line != 2 || damage.Offset != int64(len(first)+1) {
				t.Fatalf("error %v, want damage at line 2, byte %d", err, len(first)+1)
			}
			same(t, c, nil)
		})
	}
	for name, line := range map[string]string{
		"not opened":     strings.Replace(good, `"n":2`, `"n":1`, 1),
		"another format": strings.Replace(opened, `"format":1`, `"format":2`, 1),
	} {
		t.Run(name, func(t *testing.T) {
			forged, _ := forge(noHash, line)
			c, err := parse("A.card.jsonl", []byte(forged+"\n"))
			var damage *DamageError
			if !errors.As(err, &damage) || damage.Line != 1 || len(c.Entries) != 0 {
				t.Fatalf("error %v, want damage at line 1", err)
			}
			if c.Seal() != "" || len(c.Events()) != 0 || c.Opened().Program != "" {
				t.Error("a card without a first line must hold nothing")
			}
		})
	}
}

func TestLineLeftOutMovedOrDoubled(t *testing.T) {
	text, err := os.ReadFile(write(t, t.TempDir(), 5))
	if err != nil {
		t.Fatal(err)
	}
	lines := bytes.SplitAfter(text, []byte("\n"))
	for name, order := range map[string][]int{
		"left out": {0, 1, 3, 4, 5}, "moved": {0, 1, 3, 2, 4, 5}, "doubled": {0, 1, 1, 2, 3, 4, 5}, "first left out": {1, 2, 3},
	} {
		var changed []byte
		for _, i := range order {
			changed = append(changed, lines[i]...)
		}
		var damage *DamageError
		if _, err := parse("x", changed); !errors.As(err, &damage) {
			t.Errorf("a line %s: error %v, want damage", name, err)
		}
	}
}

func TestBounds(t *testing.T) {
	first, err := os.ReadFile(write(t, t.TempDir(), 0))
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string][]byte{
		"too many lines": bytes.Repeat([]byte("\n"), mostLines+1),
		"a long line":    append(append(first, bytes.Repeat([]byte("x"), mostLineBytes+1)...), '\n'),
		"a large file":   make([]byte, mostBytes+1),
	} {
		if _, err := parse("x", text); err == nil || errors.Is(err, ErrNothingRecorded) {
			t.Errorf("%s: error %v", name, err)
		}
	}
	path := write(t, t.TempDir(), 1)
	for name, fill := range map[string]func(*Journal, *sequence.Event){
		"a long line": func(_ *Journal, e *sequence.Event) {
			e.Data = sequence.NoteMade{Text: strings.Repeat("x", mostLineBytes)}
		},
		"a full card":     func(j *Journal, _ *sequence.Event) { j.size = mostBytes - 10 },
		"a line too many": func(j *Journal, _ *sequence.Event) { j.n = mostLines },
		"a person too many": func(j *Journal, e *sequence.Event) {
			for i := range mostPeople {
				j.people[strings.Repeat("x", i)] = true
			}
			e.By = "Ann"
		},
	} {
		j, _, err := Open(path)
		if err != nil {
			t.Fatal(err)
		}
		e := events(1)[0]
		fill(j, &e)
		if err := j.Append(e); err == nil || errors.Is(err, ErrBroken) {
			t.Errorf("%s: error %v", name, err)
		}
		j.Close()
	}
	wholeCard(t, path, events(1))
}

func TestNothingRecorded(t *testing.T) {
	for name, text := range map[string]string{"empty": "", "torn": `{"n":1,`, "zeros": "\x00\x00\x00", "zeros and a line feed": "\x00\x00\n"} {
		path := place(t, []byte(text))
		if _, err := Read(path); !errors.Is(err, ErrNothingRecorded) {
			t.Errorf("%s: Read gives %v", name, err)
		}
		if _, _, err := Open(path); !errors.Is(err, ErrNothingRecorded) {
			t.Errorf("%s: Open gives %v", name, err)
		}
		if now, err := os.ReadFile(path); err != nil || string(now) != text {
			t.Errorf("%s: the file was changed", name)
		}
	}
}

// TestManyPeople: a card holds the most that can be written, and no one more.
func TestManyPeople(t *testing.T) {
	var text []byte
	before := noHash
	var last int // where the line of the one too many begins
	for n := 1; n <= mostPeople+1; n++ {
		e := sequence.Event{At: day, By: "A" + strings.Repeat("x", n), Data: sequence.Snugged{}}
		if n == 1 {
			e.Data = sample("DH-112-F03")
		}
		line, hash, err := newLine(n, e, before)
		if err != nil {
			t.Fatal(err)
		}
		last = len(text)
		text, before = append(text, line...), hash
	}
	if c, err := parse("x", text[:last]); err != nil || len(c.Entries) != mostPeople {
		t.Errorf("%d lines: %v", len(c.Entries), err)
	}
	if _, err := parse("x", text); err == nil {
		t.Error("one more was read")
	}
}

// TestLineEndsOfAMail: what happened to a card on its way is said, not what the
// library makes of it.
func TestLineEndsOfAMail(t *testing.T) {
	text, err := os.ReadFile(write(t, t.TempDir(), 3))
	if err != nil {
		t.Fatal(err)
	}
	_, err = parse("x", bytes.ReplaceAll(text, []byte("\n"), []byte("\r\n")))
	var damage *DamageError
	if !errors.As(err, &damage) || damage.Line != 1 || !strings.Contains(damage.Why, "CR LF") {
		t.Errorf("%v", err)
	}
}

// TestUnreadableBehindZeros: zeros at the end are a torn line; zeros before a place
// that the disk cannot read are not the end.
func TestUnreadableBehindZeros(t *testing.T) {
	text, err := os.ReadFile(write(t, t.TempDir(), 3))
	if err != nil {
		t.Fatal(err)
	}
	zeros := append(slices.Clip(text), "\x00\x00\n"...)
	end, err := Stream("x", bytes.NewReader(zeros), func(Entry) error { return nil })
	if err != nil || end.Torn == nil {
		t.Fatalf("torn %v: %v", end.Torn, err)
	}
	spoilt := errors.New("input/output error")
	end, err = Stream("x", io.MultiReader(bytes.NewReader(zeros), iotest.ErrReader(spoilt)), func(Entry) error { return nil })
	if !errors.Is(err, spoilt) || end.Torn != nil {
		t.Errorf("torn %v: %v", end.Torn, err)
	}
}
