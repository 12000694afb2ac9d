package job

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
)

// odd is TOML that is written as nobody writes it by hand, each with the line
// of every key, counted by eye.
var odd = []struct {
	text string
	want lines
}{
	{"a = 1 # [b]\n\n'c' = 2\n\"d\" = 3", lines{"a": 1, "c": 3, "d": 4}},
	{"[ a . b ]\nc = 1\n[a]\nd = 2", lines{"a": 1, "a.b": 1, "a.b.c": 2, "a.d": 4}},
	{"a.b.c = 1\na.d = 2", lines{"a": 1, "a.b": 1, "a.b.c": 1, "a.d": 2}},
	{"a = [\n1, # ]\n\n2,\n]\nb = 1", lines{"a": 1, "a.0": 2, "a.1": 4, "b": 6}},
	{"a = \"\"\"\nb = 1\n\\\"\"\"\"\"\nc = 1", lines{"a": 1, "c": 4}},
	{"a = '''\n'b' = 1\n''''\nc = 1", lines{"a": 1, "c": 4}},
	{"a = '\\'\nb = \"\\\\\"\nc = \"\\\"#\"\nd = 1", lines{"a": 1, "b": 2, "c": 3, "d": 4}},
	{"[[t]]\na = 1\n[t.g]\nb = 2\n[[t]]\na = 3\n[t.g]\nb = 4", lines{"t": 1, "t.0": 1, "t.0.a": 2, "t.0.g": 3, "t.0.g.b": 4, "t.1": 5, "t.1.a": 6, "t.1.g": 7, "t.1.g.b": 8}},
	{"a = [\n{ p = 1, t = [1, 2] },\n{ p = { x.y = 1 } },\n]", lines{"a": 1, "a.0": 2, "a.0.p": 2, "a.0.t": 2, "a.0.t.0": 2, "a.0.t.1": 2, "a.1": 3, "a.1.p": 3, "a.1.p.x": 3, "a.1.p.x.y": 3}},
	{"a = 1\r\nb = 1979-05-27 07:32:00\r\nc = 1", lines{"a": 1, "b": 2, "c": 3}},
	{"[[a]]\n[[a.b]]\nc = 1\n[[a.b]]\nc = 2\n[[a]]\n[[a.b]]\nc = 3", lines{"a": 1, "a.0": 1, "a.0.b": 2, "a.0.b.0": 2, "a.0.b.0.c": 3, "a.0.b.1": 4, "a.0.b.1.c": 5, "a.1": 6, "a.1.b": 7, "a.1.b.0": 7, "a.1.b.0.c": 8}},
	{"\"a#=]\" = 1\nb = []\nc = {}\nd = 1", lines{"a#=]": 1, "b": 2, "c": 3, "d": 4}},
}

func TestPositionsOfOddTOML(t *testing.T) {
	for _, c := range odd {
		got, _, why := positions(c.text)
		if why != "" || fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("%q:\ngot  %v %s\nwant %v", c.text, got, why, c.want)
		}
		if known := libraryKeys(t, c.text); known == nil {
			t.Errorf("%q is no TOML", c.text)
		}
	}
}

// libraryKeys walks what the library decoded; nil when it is no TOML. It knows
// no lines, so only that every key has one can be held against it.
func libraryKeys(t testing.TB, text string) []string {
	t.Helper()
	var v map[string]any
	if _, err := toml.Decode(text, &v); err != nil {
		return nil
	}
	keys := []string{}
	var walk func(path string, v any)
	walk = func(path string, v any) {
		if path != "" {
			keys = append(keys, path)
		}
		switch v := v.(type) {
		case map[string]any:
			for k, below := range v {
				walk(join(path, k), below)
			}
		case []any:
			for i, below := range v {
				walk(join(path, strconv.Itoa(i)), below)
			}
		case []map[string]any:
			for i, below := range v {
				walk(join(path, strconv.Itoa(i)), below)
			}
		}
	}
	walk("", v)
	return keys
}

// checkPositions holds the scan against the library: every key that the
// library read has a line on which its last part stands, and no other key has.
func checkPositions(t testing.TB, text string) {
	t.Helper()
	keys := libraryKeys(t, text)
	if keys == nil {
		return
	}
	at, _, why := positions(text)
	if why != "" {
		return
	}
	all := strings.Split(text, "\n")
	delete(at, "")
	for _, key := range keys {
		line, ok := at[key]
		if !ok && key != "" && !strings.HasSuffix(key, ".") && !strings.HasPrefix(key, ".") && !strings.Contains(key, "..") {
			t.Fatalf("no line for %q in\n%s", key, text)
		}
		if ok && (line < 1 || line > len(all)) {
			t.Fatalf("%q is on line %d of %d", key, line, len(all))
		}
		delete(at, key)
	}
	for key := range at {
		if !strings.Contains(text, `""`) && !strings.Contains(text, "''") {
			t.Fatalf("%q has a line and is no key of\n%s", key, text)
		}
	}
}

func TestPositionsKnowEveryKey(t *testing.T) {
	files, _ := filepath.Glob(jobs + "*.toml")
	more, _ := filepath.Glob("practice/*.toml")
	for _, f := range append(files, more...) {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		checkPositions(t, string(text))
	}
	for _, c := range odd {
		checkPositions(t, c.text)
	}
}

func FuzzPositions(f *testing.F) {
	for _, c := range odd {
		f.Add(c.text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if _, why := foreign([]byte(text)); why != "" {
			return // never scanned
		}
		checkPositions(t, text)
	})
}
