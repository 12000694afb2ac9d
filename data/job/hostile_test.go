package job

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode"
)

// TestHostileTextsAreBounded has texts that make a reader slow or large that
// trusts them: each is refused at once.
func TestHostileTextsAreBounded(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"deep lists":           {"a = " + strings.Repeat("[", 500_000), ":1: lists nest more than 16 deep"},
		"deep tables":          {"\na = " + strings.Repeat("{b = ", 100_000), ":2: keys nest more than 16 deep"},
		"tables of empty keys": {"\n" + strings.Repeat(`""={`, 2000) + "a=1" + strings.Repeat("}", 2000), ":2: a key is empty"},
		"empty header":         {"[a.'']\nb = 1", ":1: a key is empty"},
		"dotted keys":          {strings.Repeat("a.", 500_000) + "a = 1", ":1: keys nest more than 16 deep"},
		"dotted header":        {"\n[" + strings.Repeat("a.", 500_000) + "a]", ":2: keys nest more than 16 deep"},
		"long name":            {"[" + strings.Repeat("a", 500_000) + "]\n" + strings.Repeat("b = 1\n", 80_000), ":1: a key has more than 100 bytes"},
		"long list":            {"a = [" + strings.Repeat("1,", 500_000) + "]", ":1: a has more than 10000 entries"},
		"many tables":          {strings.Repeat("[[a]]\n", 150_000), ":10001: more than 10000 tables [[a]]"},
		"open string":          {"a = \"" + strings.Repeat("x", 1_000_000), ":1: not readable as TOML"},
		"open text":            {"a = '''" + strings.Repeat("x\n", 500_000), "not readable as TOML"},
		"key of a dot":         {"a = [{.1bar", ":1: not readable as TOML"}, // the scan went round for ever
		"utf-16":               {"\xff\xfef\x00o\x00", ":1: the file is UTF-16"},
		"utf-16 the other":     {"\xfe\xff\x00f\x00o", ":1: the file is UTF-16"},
		"binary":               {"a = 1\n\x00\x01\x02", ":2: the invisible character U+0000"},
		"zero width":           {"# a\u200bb", ":1: the invisible character U+200B"},
		"mark in between":      {"a = 1\n\ufeffb = 1", ":2: the invisible character U+FEFF"},
		"colour":               {"# \u009b31m", ":1: the invisible character U+009B"},
	} {
		start := time.Now()
		_, err := Parse("job.toml", []byte(c.text), ".")
		if err == nil || !strings.HasPrefix(err.Error(), "job.toml:") || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %.200v, want %s", name, err, c.want)
		}
		if len(err.Error()) > 2000 {
			t.Errorf("%s: %d bytes are said", name, len(err.Error()))
		}
		if d := time.Since(start); d > 5*time.Second {
			t.Errorf("%s: took %s", name, d)
		}
	}
}

func TestLargeFileIsNotReadToItsEnd(t *testing.T) {
	big := filepath.Join(t.TempDir(), "big.toml")
	f, err := os.Create(big)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := f.Truncate(100 << 20); err != nil {
		t.Fatal(err)
	}
	if _, err := Load(big); err == nil || !strings.Contains(err.Error(), "larger than 1 MiB") {
		t.Errorf("100 MB: %v", err)
	}
}

func TestByteOrderMarkAndWindowsLineEnds(t *testing.T) {
	text := "\ufeff" + strings.ReplaceAll(least, "\n", "\r\n")
	if _, err := Parse("job.toml", []byte(text), "."); err != nil {
		t.Error(err)
	}
	_, err := Parse("job.toml", []byte(strings.Replace(text, "count = 12", "count = 1", 1)), ".")
	if err == nil || !strings.HasPrefix(err.Error(), "job.toml:5: bolts.count is 1") {
		t.Error(err)
	}
}

// TestToolFileStaysInItsFolder leads out of the job's folder by a link.
func TestToolFileStaysInItsFolder(t *testing.T) {
	outside, dir := t.TempDir(), t.TempDir()
	tool, err := os.ReadFile(jobs + "tools/w-11.toml")
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(jobs + "header-dn400-pn16.toml")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(outside, "w-11.toml"), tool, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, filepath.Join(dir, "tools")); err != nil {
		t.Skip(err)
	}
	if _, err := Parse("job.toml", text, dir); err == nil || !strings.Contains(err.Error(), "job.toml:26: tools.1.file") || !strings.Contains(err.Error(), "a link that leaves the folder") {
		t.Errorf("got %v", err)
	}
	// The folder itself may be reached by a link.
	link := filepath.Join(t.TempDir(), "jobs")
	if err := os.Symlink(outside, link); err != nil {
		t.Fatal(err)
	}
	if _, err := Parse("job.toml", []byte(strings.Replace(string(text), "tools/", "", 1)), link); err != nil {
		t.Error(err)
	}
}

func FuzzParse(f *testing.F) {
	for _, pattern := range []string{"*.toml", "broken/*.toml", "tools/*.toml"} {
		files, _ := filepath.Glob(jobs + pattern)
		if len(files) == 0 {
			f.Fatalf("no %s", pattern)
		}
		for _, name := range files {
			text, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		j, err := Parse("job.toml", text, jobs)
		if err == nil {
			for _, in := range j.Inputs {
				checkVisible(t, in.Key+in.Value+in.Origin)
			}
			j.Plan(day)
			if _, err := j.Pair(); err != nil {
				checkVisible(t, strings.ReplaceAll(err.Error(), "\n", ""))
			}
			return
		}
		checkVisible(t, strings.ReplaceAll(err.Error(), "\n", ""))
		for _, fault := range err.(Faults) {
			if fault.Line < 1 || len(fault.Text) > 5000 {
				t.Fatalf("line %d, %d bytes: %s", fault.Line, len(fault.Text), fault.Text)
			}
		}
	})
}

// FuzzTool: a tool file is refused with visible faults, or gives a tool whose
// chart rises.
func FuzzTool(f *testing.F) {
	files, _ := filepath.Glob(jobs + "tools/*.toml")
	broken, _ := filepath.Glob(jobs + "broken/tools/*.toml")
	if len(files) == 0 || len(broken) == 0 {
		f.Fatal("no tools")
	}
	for _, name := range append(files, broken...) {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		tool, err := parseTool("tool.toml", text)
		if err != nil {
			checkVisible(t, strings.ReplaceAll(err.Error(), "\n", ""))
			for _, fault := range err.(Faults) {
				if fault.Line < 1 || len(fault.Text) > 5000 {
					t.Fatalf("line %d, %d bytes: %s", fault.Line, len(fault.Text), fault.Text)
				}
			}
			return
		}
		checkVisible(t, tool.ID+tool.Certificate+tool.Gauge.ID)
		if err := tool.Chart.Check(); err != nil || tool.ID == "" || !(tool.Gauge.High > tool.Gauge.Low) || !(tool.Gauge.Division > 0) {
			t.Fatalf("%+v: %v", tool, err)
		}
	})
}

func checkVisible(t *testing.T, text string) {
	t.Helper()
	for _, r := range text {
		if !unicode.IsGraphic(r) {
			t.Fatalf("U+%04X in %q", r, text)
		}
	}
}
