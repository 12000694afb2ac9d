//go:build !windows

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenload/data/draft"
	"evenload/data/job"
	"evenload/joint"
)

// toolNear copies the shipped tool file beside the jobs of a folder.
func toolNear(t *testing.T, dir string) (path string) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/jobs/tools/w-11.toml")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(dir, "tools"), 0o755); err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(dir, "tools", "w-11.toml")
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestDraftedJob drafts a job on a pseudo-terminal, checks it, begins its card,
// and takes the tool file away: the card has the tool.
func TestDraftedJob(t *testing.T) {
	dir := t.TempDir()
	tool := toolNear(t, dir)
	path := filepath.Join(dir, "DH-400-F1.toml")
	p := open(t, "draft", path)
	p.wait("DRAFT   1 of 12")
	for _, keys := range []string{"DH-400-F1\r", "hall 3\r", "DN 400", "\x1b[B", "\x1b[B", "\r", "8.8\r", "MoS2 paste\r", "\r", "45 %\r"} {
		p.send(keys)
	}
	p.wait("DRAFT   8 of 12")
	for _, keys := range []string{"W-11\r", "1\r", "Eva Lind\r", "\r", "\r"} {
		p.send(keys)
	}
	p.wait("all answers")
	p.send("\r")
	p.wait("WRITE THE JOB")
	p.send("y")
	p.wait("written; next: evenload check")
	if err := p.cmd.Wait(); err != nil {
		t.Errorf("the form ended with %v", err)
	}
	j, err := job.Load(path)
	if err != nil || j.About.Flange != "EN 1092-1 DN 400 PN 16" {
		t.Errorf("%q, %v", j.About.Flange, err)
	}
	if got := execute("check", "--on", "2026-11-25", path); got != exitDone {
		t.Errorf("check: exit %d", got)
	}
	s := signedOn(t, path)
	if said := draft.OpenCard(s.Opened().Plan.About.Tag, path); !strings.Contains(said, filepath.Base(s.Path())) {
		t.Errorf("of the open card is said %q", said)
	}
	if err := os.Remove(tool); err != nil {
		t.Fatal(err)
	}
	text := filepath.Join(dir, "r.txt")
	if got := execute("record", s.Path(), "-o", text); got != exitDone {
		t.Errorf("record: exit %d", got)
	}
	if said, err := os.ReadFile(text); err != nil || !strings.Contains(string(said), "C-2304") {
		t.Errorf("the certificate of the tool is not on the record: %v\n%s", err, said)
	}
	if got := execute("check", path); got != exitInput {
		t.Errorf("check without the tool file: exit %d", got)
	}
}

// TestDraftFromRegister has the exit codes, and that nothing is written over.
func TestDraftFromRegister(t *testing.T) {
	dir := t.TempDir()
	toolNear(t, dir)
	register := filepath.Join(dir, "r.csv")
	const row = ";DN 400 PN 16;8.8;MoS2 paste;45,5 %;W-11\r\n"
	write := func(text string) {
		if err := os.WriteFile(register, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("\ufefftag;flange;grade;lubricant;target;tool\r\nA-1" + row + "A-2" + row)
	like := filepath.Join(dir, "A-1.toml")
	for _, c := range []struct {
		args []string
		want int
	}{
		{[]string{"draft", "--from", register, "--into", dir}, exitDone},
		{[]string{"draft", "--from", register, "--into", dir}, exitDone}, // all are there, the same
		{[]string{"draft", "--from", register, "--into", dir, "--force"}, exitDone},
		{[]string{"draft", "--from", register, "--into", dir, "--template", like, "--force"}, exitDone},
		{[]string{"draft", "--from", register, "--into", filepath.Join(dir, "none")}, exitInput},
		{[]string{"draft", "--from", register, "--into", register}, exitUsage},
		{[]string{"draft", "--from", register, "x.toml"}, exitUsage},
		{[]string{"draft", "--template", like, "x.toml"}, exitUsage},
		{[]string{"draft", "--force"}, exitUsage},
		{[]string{"draft", "x.txt"}, exitInput},
	} {
		if got := execute(c.args...); got != c.want {
			t.Errorf("%s: exit %d, want %d", strings.Join(c.args, " "), got, c.want)
		}
	}
	text, err := os.ReadFile(like)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(like, append(text, "# by hand\n"...), 0o644); err != nil {
		t.Fatal(err)
	}
	if got := execute("draft", "--from", register, "--into", dir); got != exitInput {
		t.Errorf("over a file that was changed by hand: exit %d", got)
	}
	if now, err := os.ReadFile(like); err != nil || string(now) != string(text)+"# by hand\n" {
		t.Errorf("what was changed by hand is written over: %v", err)
	}
	if err := os.WriteFile(like, []byte(strings.Replace(string(text), "[joint]\n", "[joint]\npermit = \"P-1\"\napproved_by = \"Eva Lind\"\n", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	var said strings.Builder
	if err := draftMany(&said, draftFlags{from: register, into: dir, force: true}, joint.Date{Year: 2026, Month: 11, Day: 25}); err != nil || strings.Count(said.String(), "gone with the file that was there: the approval by Eva Lind, permit P-1\n") != 1 {
		t.Errorf("over an approved job: %v\n%s", err, said.String())
	}
	write("tag;flange;grade;lubricant;target;tool\nA-1;DN 400 PN 16;8.8;MoS2 paste;95 %;W-11\n")
	said.Reset()
	if err := draftMany(&said, draftFlags{from: register, into: dir, force: true}, joint.Date{Year: 2026, Month: 11, Day: 25}); code(err) != exitInput || !strings.Contains(said.String(), "\n    error: bolt: yield") {
		t.Errorf("a file with errors: %v\n%s", err, said.String())
	}
	s := signedOn(t, filepath.Join(dir, "A-2.toml"))
	write("tag;flange;grade;lubricant;target;tool\nA-2;DN 400 PN 16;8.8;MoS2 paste;40 %;W-11\n")
	said.Reset()
	if err := draftMany(&said, draftFlags{from: register, into: dir, force: true}, joint.Date{Year: 2026, Month: 11, Day: 25}); code(err) != exitInput || !strings.Contains(said.String(), "A-2 refused: a card of this joint is open, "+filepath.Base(s.Path())) {
		t.Errorf("over the job of an open card: %v\n%s", err, said.String())
	}
	write("tag;flnge\nA-3;DN 400 PN 16\n")
	if got := execute("draft", "--from", register, "--into", dir); got != exitInput {
		t.Errorf("an unknown column: exit %d", got)
	}
	if files, _ := filepath.Glob(filepath.Join(dir, "*.toml")); len(files) != 2 {
		t.Errorf("files: %v", files)
	}
}

// TestDraftThatIsNotThere says what to do, and that lines which end wrote nothing.
func TestDraftThatIsNotThere(t *testing.T) {
	dir := t.TempDir()
	register := filepath.Join(dir, "r.csv")
	if err := os.WriteFile(register, []byte("tag\nA-1\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	none := filepath.Join(dir, "none")
	for want, f := range map[string]draftFlags{
		"--into: there is no folder " + none + ", make it first":                    {from: register, into: none},
		"--from: there is no file " + none + ", look at its name and folder":        {from: none},
		"template: there is no file " + none + ".toml, look at its name and folder": {from: register, template: none + ".toml"},
	} {
		if err := draftMany(&strings.Builder{}, f, joint.Date{}); err == nil || err.Error() != want || code(err) != exitInput {
			t.Errorf("%v, want %s", err, want)
		}
	}
	for lines, want := range map[string]int{"A-1\n": exitInput, "A-1\nq\n": exitDone} {
		in := filepath.Join(dir, "lines")
		if err := os.WriteFile(in, []byte(lines), 0o644); err != nil {
			t.Fatal(err)
		}
		file, err := os.Open(in)
		if err != nil {
			t.Fatal(err)
		}
		was := os.Stdin
		os.Stdin = file
		got := execute("draft", "--plain", filepath.Join(dir, "A-1.toml"))
		os.Stdin = was
		file.Close()
		if got != want {
			t.Errorf("%q: exit %d, want %d", lines, got, want)
		}
	}
}
