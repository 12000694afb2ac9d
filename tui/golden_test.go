package tui

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/tui/draw"
)

var update = flag.Bool("update", false, "write the golden files anew")

const goldenDir = "../testdata/golden/screens"

// looks are the themes that every screen is kept in. The ASCII one is plain
// text; in the others a style stands as its parameters in braces, {0} its end.
var looks = []struct {
	name  string
	theme func(testing.TB) draw.Theme
	sizes [][2]int
}{
	{"dark", func(t testing.TB) draw.Theme { return theme(t, "dark", false, true) }, [][2]int{{80, 24}, {120, 40}}},
	{"mono", func(t testing.TB) draw.Theme { return theme(t, "mono", false, true) }, [][2]int{{80, 24}, {120, 40}}},
	{"ascii", func(t testing.TB) draw.Theme { return theme(t, "mono", true, false) }, [][2]int{{80, 24}, {120, 40}}},
	{"light", func(t testing.TB) draw.Theme { return theme(t, "light", false, true) }, [][2]int{{80, 24}}},
}

// TestGoldenScreens keeps the frames that were looked at and found good.
func TestGoldenScreens(t *testing.T) {
	if *update {
		if err := os.RemoveAll(goldenDir); err != nil {
			t.Fatal(err)
		}
		if err := os.MkdirAll(goldenDir, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	kept := map[string]bool{}
	for _, s := range screens() {
		for _, look := range looks {
			m := s.model(t, look.theme(t))
			for _, size := range look.sizes {
				name := fmt.Sprintf("%s-%dx%d-%s.txt", s.name, size[0], size[1], look.name)
				if kept[name] {
					t.Fatalf("two screens are called %s", s.name)
				}
				kept[name] = true
				m.Update(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
				golden(t, name, readable(m.View()))
			}
		}
	}
	files, err := os.ReadDir(goldenDir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if !kept[f.Name()] {
			t.Errorf("%s belongs to no screen", f.Name())
		}
	}
}

// readable makes a frame of lines that a person and a comparison can read.
func readable(frame string) string {
	frame = strings.NewReplacer("\x1b[0m", "{0}").Replace(frame)
	var out strings.Builder
	for {
		before, rest, found := strings.Cut(frame, "\x1b[")
		out.WriteString(before)
		if !found {
			break
		}
		codes, rest, _ := strings.Cut(rest, "m")
		out.WriteString("{" + codes + "}")
		frame = rest
	}
	lines := strings.Split(out.String(), "\n")
	for i, l := range lines {
		lines[i] = strings.TrimRight(l, " ")
	}
	return strings.Join(lines, "\n") + "\n"
}

// golden compares with the file, or writes it.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join(goldenDir, name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != strings.ReplaceAll(string(want), "\r\n", "\n") {
		t.Errorf("%s differs; look, and write it anew with -update. Got\n%s", name, got)
	}
}
