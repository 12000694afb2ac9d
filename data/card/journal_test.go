package card

import (
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"evenload/sequence"
)

func TestCreate(t *testing.T) {
	dir := t.TempDir()
	practice := sample("DH-112-F03")
	practice.Practice = true
	late := time.Date(2036, 10, 2, 22, 30, 0, 0, time.UTC) // the next day, two hours east
	for _, test := range []struct {
		opened sequence.CardOpened
		at     time.Time
		want   string
	}{
		{sample("DH-112-F03"), day, `^DH-112-F03\.20361002-[0-9a-f]{6}\.card\.jsonl$`},
		{sample("DH-112-F03"), late, `^DH-112-F03\.20361003-[0-9a-f]{6}\.card\.jsonl$`},
		{practice, day, `^DH-112-F03\.20361002-[0-9a-f]{6}\.practice\.jsonl$`},
	} {
		j, err := Create(dir, test.opened, test.at, "x")
		if err != nil {
			t.Fatal(err)
		}
		j.Close()
		if name := filepath.Base(j.Path()); !regexp.MustCompile(test.want).MatchString(name) {
			t.Errorf("name %s, want %s", name, test.want)
		}
		if IsPractice(j.Path()) != test.opened.Practice || !IsCard(j.Path()) {
			t.Errorf("%s: its ending does not say what it is", j.Path())
		}
		c, err := Read(j.Path())
		if err != nil || !strings.HasPrefix(filepath.Base(j.Path()), ID(c.Opened(), test.at, c.Entries[0].Hash)+".") {
			t.Errorf("%s does not have the signs of its record: %v", j.Path(), err)
		}
		if err != nil || len(c.Entries) != 1 || c.Opened().Practice != test.opened.Practice {
			t.Errorf("%d entries, %v", len(c.Entries), err)
		}
		if !regexp.MustCompile(`^[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}$`).MatchString(j.Seal()) || j.Seal() != c.Seal() ||
			!strings.HasPrefix(c.Entries[0].Hash, strings.ReplaceAll(j.Seal(), "-", "")) {
			t.Errorf("seal %q of hash %s", j.Seal(), c.Entries[0].Hash)
		}
	}
	found, err := Find(dir)
	if err != nil || len(found) != 3 || !slices.IsSorted(found) {
		t.Errorf("found %v, %v", found, err)
	}
}

func TestCheckTag(t *testing.T) {
	for tag, ok := range map[string]bool{
		"DH-112-F03": true, "a": true, "A.b_c-1": true, strings.Repeat("x", 64): true, "CONE": true, "com10": true, "nul-1": true,
		"": false, strings.Repeat("x", 65): false, ".a": false, "a.": false, "..": false, "../a": false, `a\b`: false, "a/b": false,
		"a b": false, "ä": false, "a\n": false, "CON": false, "con": false, "nul.x": false, "LPT1": false, "com9.a": false, "a:b": false,
	} {
		if err := CheckTag(tag); (err == nil) != ok {
			t.Errorf("tag %q: error %v, accepted should be %t", tag, err, ok)
		}
		dir := t.TempDir()
		j, err := Create(dir, sample(tag), day, "x")
		if (err == nil) != ok {
			t.Errorf("tag %q: card made should be %t: %v", tag, ok, err)
		}
		if err == nil {
			j.Close()
			if c, err := Read(j.Path()); err != nil || c.Opened().Plan.About.Tag != tag || filepath.Dir(j.Path()) != dir {
				t.Errorf("tag %q: %v", tag, err)
			}
		}
	}
}

func TestNeverOverAnExistingFile(t *testing.T) {
	path := write(t, t.TempDir(), 2)
	text, hash, err := newLine(1, sequence.Event{At: day, By: "x", Data: sample("DH-112-F03")}, noHash)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := create(path, "x", text, hash); err == nil {
		t.Error("a card was made over another")
	}
	wholeCard(t, path, events(2))
}

func TestBusy(t *testing.T) {
	path := write(t, t.TempDir(), 2)
	j, _, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := Open(path); !errors.Is(err, ErrBusy) {
		t.Errorf("error %v, want %v", err, ErrBusy)
	}
	wholeCard(t, path, events(2)) // reading needs no lock
	j.Close()
	again, _, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	again.Close()
}

// A reader beside the writer sees at least what was written before it looked.
func TestReadWhileWriting(t *testing.T) {
	j, err := Create(t.TempDir(), sample("DH-112-F03"), day, "Vroni Ölhafen")
	if err != nil {
		t.Fatal(err)
	}
	all := events(100)
	var written atomic.Int64
	done := make(chan error, 1)
	go func() {
		for _, e := range all {
			if err := j.Append(e); err != nil {
				done <- err
				return
			}
			written.Add(1)
		}
		done <- nil
	}()
	for written.Load() < int64(len(all)) && len(done) == 0 {
		least := int(written.Load())
		c, err := Read(j.Path())
		if err != nil || len(c.Entries)-1 < least {
			t.Fatalf("%d events read, %d written: %v", len(c.Entries)-1, least, err)
		}
		same(t, c, all[:len(c.Entries)-1])
	}
	if err := <-done; err != nil {
		t.Fatal(err)
	}
	j.Close()
	wholeCard(t, j.Path(), all)
}

// A refused event leaves the card as it is, and read-only until it is opened again.
func TestRefusedEvents(t *testing.T) {
	for name, e := range map[string]sequence.Event{
		"no data":     {At: day},
		"not UTF-8":   {At: day, Data: sequence.NoteMade{Text: "\xff"}},
		"a bad name":  {At: day, By: "\xc3", Data: sequence.Snugged{}},
		"a second":    {At: day, Data: sample("DH-112-F03")},
		"a pointer":   {At: day, Data: &sequence.Snugged{}},
		"a far time":  {At: time.Date(12036, 1, 1, 0, 0, 0, 0, time.UTC), Data: sequence.Snugged{}},
		"no known":    {At: day, Data: unknown{}},
		"no newcomer": {At: day, Data: hidden{Round: 1, Bolt: 2, secret: 3}},
	} {
		path := write(t, t.TempDir(), 0)
		j, _, err := Open(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := j.Append(e); err == nil || errors.Is(err, ErrBroken) {
			t.Errorf("%s: error %v", name, err)
		}
		if err := j.Append(events(1)[0]); !errors.Is(err, ErrBroken) {
			t.Errorf("%s: the next event gives %v", name, err)
		}
		j.Close()
		wholeCard(t, path, nil)
		onceMore(t, path, 0, events(1))
	}
}

type unknown struct{}

func (unknown) Kind() sequence.Kind { return "unknown" }

// hidden encodes as a known kind does and would lose a field.
type hidden struct {
	Round  int           `json:"round"`
	Bolt   sequence.Bolt `json:"bolt"`
	secret int
}

func (hidden) Kind() sequence.Kind { return "still" }

func TestPlaces(t *testing.T) {
	path := write(t, t.TempDir(), 2)
	if _, err := Create(path, sample("DH-112-F03"), day, "x"); err == nil {
		t.Error("a card was made in a file")
	}
	if _, err := Create(filepath.Join(t.TempDir(), "none"), sample("DH-112-F03"), day, "x"); err == nil {
		t.Error("a card was made in no folder")
	}
	for _, bad := range []string{filepath.Dir(path), path + "x", filepath.Join(path, "x")} {
		if _, err := Read(bad); err == nil {
			t.Errorf("%s was read", bad)
		}
		if _, _, err := Open(bad); err == nil {
			t.Errorf("%s was opened", bad)
		}
	}
	wholeCard(t, path, events(2))
}

func TestSymlink(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("making a symlink needs a right there")
	}
	path, dir := write(t, t.TempDir(), 2), t.TempDir()
	link := filepath.Join(dir, "B.card.jsonl")
	if err := os.Symlink(path, link); err != nil {
		t.Fatal(err)
	}
	if _, _, err := Open(link); err == nil {
		t.Error("a card elsewhere was opened through a link: its lock is not the link's")
	}
	if found, err := Find(dir); err != nil || len(found) > 0 {
		t.Errorf("found %v, %v", found, err)
	}
	wholeCard(t, link, events(2))
}

func TestFind(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"b.card.jsonl", "a.practice.jsonl", "a.card.jsonl", "a.card.jsonl.lock", "a.card.jsonl.torn-1", "a.card.jsonl.new", "a.toml", "a.jsonl"} {
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, "c.card.jsonl"), 0o755); err != nil {
		t.Fatal(err)
	}
	found, err := Find(dir)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{filepath.Join(dir, "a.card.jsonl"), filepath.Join(dir, "a.practice.jsonl"), filepath.Join(dir, "b.card.jsonl")}
	if !slices.Equal(found, want) {
		t.Errorf("found %v, want %v", found, want)
	}
	if _, err := Find(filepath.Join(dir, "none")); err == nil {
		t.Error("cards were found in no folder")
	}
}

// A torn copy is never written over another.
func TestTornTwice(t *testing.T) {
	path := write(t, t.TempDir(), 2)
	for i, tail := range []string{`{"n":4,"at"`, "\x00\x00\x00\n"} {
		f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.WriteString(tail); err != nil {
			t.Fatal(err)
		}
		f.Close()
		j, c, err := Open(path)
		if err != nil {
			t.Fatal(err)
		}
		j.Close()
		want := filepath.Base(path) + ".torn-" + string(rune('1'+i))
		if c.Torn == nil || c.Torn.Copy != want || c.Torn.Bytes != len(tail) {
			t.Fatalf("torn %+v, want a copy %s", c.Torn, want)
		}
		if kept, err := os.ReadFile(filepath.Join(filepath.Dir(path), want)); err != nil || string(kept) != tail {
			t.Errorf("%s has %q, want %q", want, kept, tail)
		}
		wholeCard(t, path, events(2))
	}
}
