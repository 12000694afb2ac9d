package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/sequence"
)

// unclean are texts that move a terminal, turn a line, hide, or make a new line.
var unclean = map[string]string{
	"escape": "\x1b[2J\x1b[31mx", "title": "\x1b]0;x\x07", "link": "\x1b]8;;http://x\x1b\\x", "c1": "\u009b31m\u009d0;x\u009c", "turned": "a\u202eb\u2066c\u200f",
	"nul": "a\x00b", "latin-1": "a\xfcb\xff\xfe", "lines": "a\r\nb\u2028c\u0085d\ve", "hidden": "a\u200bb\u00adc\ufeffd\U000e0041", "mark": "\u0301x", "bell": "a\a\bb\x7f",
}

const trialText = `format = 1
thread = "M20"
lubricant = "MoS2 paste"
readings = [
  { torque = "100 N·m", load = "25 kN" },
  { torque = "100 N·m", load = "26 kN" },
  { torque = "100 N·m", load = "24 kN" },
]
`

const toolText = `id = "W-01"
curve = [ { pressure = "1.0 bar", torque = "40 N·m" }, { pressure = "6.0 bar", torque = "300 N·m" } ]
[gauge]
span = "0 to 10 bar"
division = "0.1 bar"
`

// escaped writes a text in TOML as its own escapes, which no look at the bytes
// of a file finds.
func escaped(text string) string {
	var b strings.Builder
	for _, r := range text {
		if r < ' ' || r > '~' || r == '"' || r == '\\' {
			fmt.Fprintf(&b, `\U%08x`, r)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// TestUncleanText has such text in values, keys, comments and names of files.
func TestUncleanText(t *testing.T) {
	s := newSweep(t)
	t.Run("each", func(t *testing.T) {
		for name, text := range unclean {
			t.Run(name, func(t *testing.T) {
				t.Parallel()
				dir := t.TempDir()
				for place, file := range map[string]string{
					"value":   strings.Replace(eventJob, "Responsible engineer", text, 1),
					"escaped": strings.Replace(eventJob, "Responsible engineer", escaped(text), 1),
					"key":     strings.Replace(eventJob, "approved_by", `"`+escaped(text)+`"`, 1),
					"unit":    strings.Replace(eventJob, "200 N·m", "200 "+escaped(text), 1),
					"tool":    strings.Replace(eventJob, "[[tools]]", "[[tools]]\nfile = \""+escaped(text)+".toml\"", 1),
					"id":      strings.Replace(eventJob, "W-01", escaped(text), 1),
				} {
					path := filepath.Join(dir, place+".toml")
					put(t, path, file)
					s.run(t, dir, "", "check", path)
					s.run(t, dir, "Ann\n\nyes\n", "walk", "--plain", "--cards", t.TempDir(), path)
				}
				s.jobRuns(t, dir, filepath.Join(dir, "escaped.toml"))
				s.jobRuns(t, dir, filepath.Join(dir, "id.toml"))
				put(t, filepath.Join(dir, "trial.toml"), strings.Replace(trialText, "MoS2 paste", escaped(text), 1))
				put(t, filepath.Join(dir, "w.toml"), strings.Replace(toolText, "W-01", escaped(text), 1))
				s.run(t, dir, "", "trial", filepath.Join(dir, "trial.toml"))
				s.run(t, dir, "", "chart", filepath.Join(dir, "w.toml"))
				for place, file := range map[string]string{
					"column": "tag;" + text + "\nX-1;x\n", "where": "tag;where\nX-1;" + text + "\n", "tag": "tag;where\n" + text + ";x\n",
					"tool": "tag;tool\nX-1;" + text + "\n", "quoted": "tag;where\nX-1;\"" + text + "\"\nX-2;\"" + text,
				} {
					path := filepath.Join(dir, place+".csv")
					put(t, path, file)
					s.run(t, dir, "", "draft", "--from", path, "--into", t.TempDir())
				}
				if strings.Contains(text, "\x00") {
					return // no name has it
				}
				file := strings.NewReplacer("/", "_").Replace(text)
				put(t, filepath.Join(dir, file+".toml"), eventJob)
				put(t, filepath.Join(dir, file+".csv"), "tag;where\n../x;y\n")
				put(t, filepath.Join(dir, "DH-1"+file+".card.jsonl"), "{}\n")
				s.jobRuns(t, dir, filepath.Join(dir, file+".toml"))
				s.run(t, dir, "", "draft", "--from", file+".csv", "--into", t.TempDir())
				s.cardRuns(t, dir, filepath.Join(dir, "DH-1"+file+".card.jsonl"))
				s.folderRuns(t, dir)
				for _, args := range [][]string{{text}, {"plan", text}, {"plan", "--" + text}, {"plan", "--on", text, "x"}, {"show", text}, {"show", "flange", text}, {"board", text},
					{"board", ".", "--plain", "--tool", text}, {"board", ".", "--json", "--tool", text}, {"board", ".", "--csv", "--tool", text}, {"compare", "--moves", text, "x"}, {"walk", "--theme", text, file + ".toml"},
					{"record", "x", "-o", text + ".x"}, {"draft", "--plain", text + ".toml"}, {"draft", "--from", file + ".csv", "--into", text}, {"walk", "--plain", "--cards", text, file + ".toml"}} {
					s.run(t, dir, text+"\n"+text+"\n", args...)
				}
			})
		}
	})
}

// TestTricksInNames: no tag and no name of a tool file leads out of the folder,
// or to something that is waited for.
func TestTricksInNames(t *testing.T) {
	s := newSweep(t)
	outside := t.TempDir()
	dir := filepath.Join(outside, "jobs")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(outside, "out.toml"), strings.Replace(toolText, "W-01", "OUTSIDE", 1))
	put(t, filepath.Join(dir, "deep.toml"), "a = "+strings.Repeat("[", 100_000))
	tools := []string{"../out.toml", filepath.Join(outside, "out.toml"), "./../out.toml", "tools/../../out.toml", "link.toml", "tools/out.toml", "/dev/zero", "zero.toml", "pipe.toml", "loop.toml",
		"/etc/passwd", ".", "..", "", "nul", `..\\out.toml`, `C:\\out.toml`, "folder.toml", "tricks.toml", "large.toml", "deep.toml", "none.toml", "/proc/self/mem", "mem.toml"}
	for name, err := range map[string]error{
		"link":   os.Symlink(filepath.Join(outside, "out.toml"), filepath.Join(dir, "link.toml")),
		"tools":  os.Symlink(outside, filepath.Join(dir, "tools")),
		"zero":   os.Symlink("/dev/zero", filepath.Join(dir, "zero.toml")),
		"mem":    os.Symlink("/proc/self/mem", filepath.Join(dir, "mem.toml")),
		"loop":   os.Symlink(filepath.Join(dir, "loop.toml"), filepath.Join(dir, "loop.toml")),
		"folder": os.Mkdir(filepath.Join(dir, "folder.toml"), 0o755),
		"pipe":   syscall.Mkfifo(filepath.Join(dir, "pipe.toml"), 0o600),
		"large":  os.WriteFile(filepath.Join(dir, "large.toml"), make([]byte, 2<<20), 0o644),
	} {
		if err != nil {
			t.Skip(name, err)
		}
	}
	path := filepath.Join(dir, "tricks.toml")
	begin, rest, _ := strings.Cut(eventJob, "[[tools]]")
	_, rest, _ = strings.Cut(rest, "[[tools]]")
	for _, tool := range tools {
		put(t, path, begin+"[[tools]]\nfile = \""+tool+"\"\n[[tools]]"+rest)
		for _, args := range [][]string{{"check", path}, {"plan", path}, {"walk", "--plain", path}, {"chart", path}} {
			if code, said := s.run(t, dir, "Ann\n\nyes\n", args...); code != exitInput || strings.Contains(said, "OUTSIDE") {
				t.Errorf("tool file %q: %s ends with %d\n%s", tool, args[0], code, said)
			}
		}
	}
	tags := []string{"../x", "..", ".", "/tmp/x", "a/b", `a\\b`, "CON", "nul.x", "a b", "", "-", "~", "$HOME", strings.Repeat("x", 65), "x.", "*"}
	for _, tag := range tags {
		put(t, path, strings.Replace(eventJob, "DH-77-F4", tag, 1))
		if code, said := s.run(t, dir, "Ann\n\nyes\n", "walk", "--plain", path); code != exitInput && tag != "-" {
			t.Errorf("tag %q: exit code %d\n%s", tag, code, said)
		}
		put(t, filepath.Join(dir, "r.csv"), "tag\n\""+strings.ReplaceAll(tag, `\\`, `\`)+"\"\n")
		put(t, filepath.Join(dir, "like.toml"), eventJob)
		s.run(t, dir, "", "draft", "--from", filepath.Join(dir, "r.csv"), "--template", filepath.Join(dir, "like.toml"))
	}
	s.folderRuns(t, dir)
	if left, err := os.ReadDir(outside); err != nil || len(left) != 2 {
		t.Errorf("outside the folder: %v, %v", left, err)
	}
}

// TestNumbersWithoutEnd: a file may ask for a billion bolts.
func TestNumbersWithoutEnd(t *testing.T) {
	s := newSweep(t)
	many := strings.Repeat
	for name, c := range map[string]struct{ old, new string }{
		"bolts":     {"count = 4", "count = 1000000000"},
		"most":      {"count = 4", "count = 9223372036854775807"},
		"too many":  {"count = 4", "count = 9223372036854775808"},
		"minus":     {"count = 4", "count = -4"},
		"order":     {"passes =", "pattern = \"given\"\norder = [" + many("1,", 9000) + "]\npasses ="},
		"positions": {"count = 4", "positions = [" + many(`{x="1 mm",y="1 mm"},`, 9000) + "]"},
		"spread":    {"count = 4", "positions = [" + many(`{x="1e300 m",y="-1e300 m"},`, 4) + "]"},
		"passes":    {`["50 %", "100 %"]`, "[" + many(`"100 %",`, 9000) + "]"},
		"rising":    {`["50 %", "100 %"]`, rising(2000)},
		"places":    {"gap_places = 2", "gap_places = 1000000000"},
		"rounds":    {"check_rounds = 2", "check_rounds = 1000000000"},
		"at once":   {"passes =", "tools_at_once = 1000000000\npasses ="},
		"rest":      {"0 min", "1e300 h"},
		"infinite":  {"200 N·m", "inf N·m"},
		"no number": {"nut_factor = 0.15", "nut_factor = nan"},
		"large":     {"200 N·m", "1e308 N·m"},
		"small":     {"200 N·m", "1e-308 N·m"},
		"digits":    {"200 N·m", many("9", 400) + " N·m"},
		"grip":      {"300 mm", "1e300 mm"},
		"span":      {"0 to 10 bar", "0 to 1e300 bar"},
		"division":  {"0.1 bar", "1e-300 bar"},
		"fine":      {"0.1 bar", "0.0000001 bar"},
		"curve":     {"curve = [", "curve = [" + many(`{ pressure = "1 bar", torque = "1 N·m" },`, 9000)},
		"tools":     {"[[tools]]\nid = \"W-02\"", many("[[tools]]\n", 9000) + "id = \"W-02\""},
		"hold":      {"rest =", "hold = [" + many(`"gate",`, 9000) + "]\nrest ="},
		"deep":      {"format = 1", "format = 1\na = " + many("[", 400_000)},
		"dotted":    {"format = 1", "format = 1\n" + many("a.", 400_000) + "a = 1"},
		"braces":    {"format = 1", "format = 1\na = " + many("{a=", 200_000)},
		"quotes":    {"format = 1", "format = 1\na = '''" + many("x\n", 400_000)},
		"keys":      {"format = 1", "format = 1\n" + numbered(50_000)},
		"comment":   {"format = 1", "format = 1\n#" + many("x", 900_000)},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			path := filepath.Join(dir, "joint.toml")
			text := strings.Replace(eventJob, c.old, c.new, 1)
			if text == eventJob {
				t.Fatalf("%s is not in the job", c.old)
			}
			put(t, path, text)
			if !testing.Short() {
				s.jobRuns(t, dir, path)
			}
			for _, args := range [][]string{{"check", path}, {"walk", "--plain", path}, {"compare", path}, {"board", "--plain", dir}} {
				s.run(t, dir, "", args...)
			}
		})
	}
	dir := t.TempDir()
	for name, text := range map[string]string{
		"rows": "tag\n" + many("X\n", 100_000), "cells": "tag" + many(";", 1_000_000) + "\nX\n", "cell": "tag;where\nX;" + many("x", 5_000_000), "open": "tag;where\nX;\"" + many("x\n", 1_000_000),
		"quotes": "tag\n" + many("\"\"", 1_000_000), "columns": many("tag;", 100_000) + "\n", "full": "tag;where;flange\n" + fullRegister(500),
	} {
		path := filepath.Join(dir, name+".csv")
		put(t, path, text)
		s.run(t, dir, "", "draft", "--from", path, "--into", t.TempDir())
	}
	for name, text := range map[string]string{
		"readings": strings.Replace(trialText, "readings = [", "readings = ["+many(`{ torque = "100 N·m", load = "25 kN" },`, 9000), 1), "infinite": strings.Replace(trialText, "25 kN", "1e308 kN", 1),
		"deep": "a = " + many("[", 400_000), "thread": strings.Replace(trialText, "M20", "M"+many("9", 300), 1),
	} {
		path := filepath.Join(dir, name+".toml")
		put(t, path, text)
		s.run(t, dir, "", "trial", path)
	}
}

func rising(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "\"%.4f %%\",", 100*float64(i+1)/float64(n))
	}
	return "[" + b.String() + "]"
}

func numbered(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "k%d = %d\n", i, i)
	}
	return b.String()
}

func fullRegister(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "X-%d;hall;DN 200 PN 16\n", i)
	}
	return b.String()
}

var hostileDay = time.Date(2036, 10, 2, 7, 30, 0, 0, time.UTC)

// forge makes the hashes of a card fit its lines again, as somebody could who
// knows how they are made.
func forge(lines []string) string {
	const cut = `,"hash":"`
	var b strings.Builder
	before := strings.Repeat("0", 64)
	for _, line := range lines {
		if i := strings.LastIndex(line, cut); i >= 0 {
			line = line[:i]
		}
		sum := sha256.Sum256([]byte(before + line))
		before = hex.EncodeToString(sum[:])
		b.WriteString(line + cut + before + "\"}\n")
	}
	return b.String()
}

// cardLines are those of a card whose texts are all MARK.
func cardLines(t *testing.T) []string {
	t.Helper()
	e := event{at: inPass(1, 1), job: func(text string) string {
		return strings.NewReplacer("Responsible engineer", "MARK", "W-01", "MARK-1", "G-01", "MARK-2").Replace(text) + "[numbering]\ndatum = \"MARK\"\nviewed_from = \"MARK\"\n"
	}}
	_, path := e.prepare(t)
	s, err := card.Resume(path, "", "", hostileDay)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for _, d := range []sequence.Data{sequence.SignedOn{Name: "MARK", Role: "MARK", Company: "MARK"}, sequence.NoteMade{Text: "MARK"}, sequence.TailCut{File: "MARK", Bytes: 3},
		sequence.ProblemFound{Reason: "MARK"}, sequence.SignedOn{Name: "MARK", Permit: "MARK"}} {
		e := sequence.Event{At: hostileDay, By: "MARK", Data: d}
		next, err := s.Walk.Apply(e)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Write(e); err != nil {
			t.Fatal(err)
		}
		s.Walk = next
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
}

// inJSON writes a text as a card does.
func inJSON(text string) string {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	_ = enc.Encode(text)
	return strings.Trim(b.String(), "\"\n")
}
