package report

import (
	"flag"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files anew: read the difference before it is kept")

// golden holds a text against testdata/golden/name.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := "../../testdata/golden/" + name
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	said, want := strings.Split(got, "\n"), strings.Split(read(t, path), "\n")
	for i := range max(len(said), len(want)) {
		if i >= len(said) || i >= len(want) || said[i] != want[i] {
			t.Fatalf("%s from line %d on: got\n%s\nwant\n%s", name, i+1, strings.Join(said[min(i, len(said)):], "\n"), strings.Join(want[min(i, len(want)):], "\n"))
		}
	}
}

func read(t testing.TB, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
