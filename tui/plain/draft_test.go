package plain

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenload/data/draft"
	"evenload/data/job"
	"evenload/joint"
)

var draftDay = joint.Date{Year: 2026, Month: 11, Day: 25}

// draftLines answers the questions of a draft in a folder with a tool file.
func draftLines(t *testing.T, dir string, lines ...string) (path, said string) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/jobs/tools/w-11.toml")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "w-11.toml"), text, 0o644); err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	path, err = Draft(draft.New(dir), strings.NewReader(strings.Join(lines, "\n")+"\n"), &b, draftDay)
	if err != nil {
		t.Fatal(err)
	}
	return path, b.String()
}

var twelve = []string{"DH-1", "hall", "DN 400 PN 16", "8.8", "MoS2 paste", "spiral wound, stainless, 440 to 470 mm", "45 %", "W-11", "1", "Eva Lind, 2026-11-02", "", ""}

// TestDraftLines: twelve answers and a yes write the job; what is there already
// is written over on a word of its own only; a name is taken by its number.
func TestDraftLines(t *testing.T) {
	dir := t.TempDir()
	path, said := draftLines(t, dir, append(twelve[:12:12], "y")...)
	first, err := os.ReadFile(path)
	if err != nil || path != filepath.Join(dir, "DH-1.toml") || !strings.Contains(said, "RESULT: set W-11 to ") || !strings.Contains(said, "CHECK: 1 note") {
		t.Fatalf("%q, %v\n%s", path, err, said)
	}
	if _, err := job.Load(path); err != nil {
		t.Error(err)
	}
	again := append([]string{"DH-1", "other hall"}, twelve[2:]...)
	for _, c := range []struct {
		last []string
		over bool
	}{{[]string{"y", "y", "q"}, false}, {[]string{"y"}, false}, {[]string{"y", "o"}, true}} {
		answers := append(again[:12:12], c.last...)
		answers[9] = "" // nobody has approved it now
		_, said := draftLines(t, dir, answers...)
		if lost := strings.Contains(said, "LOST: "); c.over && !lost {
			t.Errorf("that the approval is gone was not said:\n%s", said)
		}
		if now, _ := os.ReadFile(path); (string(now) != string(first)) != c.over {
			t.Errorf("%q: written over is %v", c.last, !c.over)
		}
	}
	path, said = draftLines(t, dir, "DH 2", "DH-2", "", "", "DN 400", "2", "8.8", "MoS2 paste", "-", "345", "1,345 MPa", "45,5 %", "", "", "", "", "", "flange", "12 x M20", "y")
	for _, want := range []string{"NOT TAKEN: a tag has", "NOT TAKEN: it is needed", "NEAR 2: EN 1092-1 DN 400 PN 16", `"345" is no target`, `"1,345" may be 1345 or 1.3450`, "no tool yet"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q was not said:\n%s", want, said)
		}
	}
	if text, err := os.ReadFile(path); err != nil || !strings.Contains(string(text), `thread = "M20"`) || !strings.Contains(string(text), `yield_share = "45.5 %"`) {
		t.Errorf("%v\n%s", err, text)
	}
}

// TestDraftLinesLeft: q and the end of the input write nothing, wherever; what
// is unclean is refused and not shown as it is.
func TestDraftLinesLeft(t *testing.T) {
	for n := range 12 {
		for _, last := range [][]string{nil, {"q"}} {
			dir := t.TempDir()
			path, said := draftLines(t, dir, append(twelve[:n:n], last...)...)
			if files, _ := os.ReadDir(dir); path != "" || len(files) != 1 || !strings.Contains(said, "LEFT: nothing was written") {
				t.Errorf("after %d answers, %q: %q\n%s", n, last, path, said)
			}
		}
	}
	_, said := draftLines(t, t.TempDir(), "DH-1", "a\u202eb\x1b[2J", "hall", "x\x1b]0;y\a", "8.8")
	if strings.ContainsAny(said, "\u202e\x1b\a") || !strings.Contains(said, "U+202E") {
		t.Errorf("unclean:\n%q", said)
	}
}
