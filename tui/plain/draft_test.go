package plain

import (
	"errors"
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
	if ended := strings.Contains(b.String(), "LEFT: the input ended before the job was written"); ended != errors.Is(err, ErrEnded) || !ended && err != nil {
		t.Fatalf("%v\n%s", err, b.String())
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
			if files, _ := os.ReadDir(dir); path != "" || len(files) != 1 || strings.Contains(said, "LEFT: nothing was written") != (last != nil) {
				t.Errorf("after %d answers, %q: %q\n%s", n, last, path, said)
			}
		}
	}
	_, said := draftLines(t, t.TempDir(), "DH-1", "a\u202eb\x1b[2J", "hall", "x\x1b]0;y\a", "8.8")
	if strings.ContainsAny(said, "\u202e\x1b\a") || !strings.Contains(said, "U+202E") {
		t.Errorf("unclean:\n%q", said)
	}
}

// TestDraftLinesOfAFile: one that is not there is said first; one that is there keeps
// what it has of its own, and says what is taken out, before it is asked whether to write.
func TestDraftLinesOfAFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "x.toml")
	lines := func(all ...string) string {
		d, err := draft.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		var b strings.Builder
		if _, err := Draft(d, strings.NewReader(strings.Join(all, "\n")+"\n"), &b, draftDay); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	if said := lines("q"); !strings.Contains(said, "NOTE: a new job is begun: there is no file "+path+"\n") {
		t.Errorf("that it is not there is not said:\n%s", said)
	}
	text, err := os.ReadFile("../../testdata/jobs/strainer-8in-300.toml")
	if err != nil {
		t.Fatal(err)
	}
	text = []byte(strings.Replace(string(text), "[friction]\n", "[friction]\nnut_factor = 0.12\n", 1))
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
	said := lines("", "", "", "B7", "nickel anti-seize", "", "345 MPa", "", "", "", "", "y")
	if now, err := os.ReadFile(path); err != nil || string(now) != string(text) || strings.Contains(said, "a new job") || strings.Contains(said, "taken out") || !strings.Contains(said, "NOTE: friction.nut_factor 0.12 of the file stays") {
		t.Errorf("the same answers: %v\n%s\n%s", err, said, now)
	}
	said = lines("", "", "", "", "MoS2 paste", "", "", "", "", "", "", "q")
	for _, want := range []string{"WARNING: friction.nut_factor 0.12 of the file is gone: the table's 0.13 is used\n", "WARNING: the approval by Responsible engineer, DH works, 2026-11-02 is taken out", "Approved by, such as"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said:\n%s", want, said)
		}
	}
}
