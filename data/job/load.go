// Package job reads job and tool files: TOML in, a checked Job out, and every
// fault with its line.
package job

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"evenload/data/visible"
	"evenload/joint"
	"evenload/joint/pattern"
	"evenload/joint/unit"
	"evenload/sequence"
)

// Bounds of a file: a job is a page of text, whatever a stranger sends.
const (
	mostBytes   = 1 << 20
	mostDepth   = 16     // of tables, lists and dotted keys
	mostEntries = 10_000 // of a list
	mostPoints  = 200    // of a chart
	longestKey  = 100    // bytes of one key
	longestText = 500    // characters of a string
)

// usualInputs is about how many values a job has: room for them at once is
// quicker, more of them fit as well.
const usualInputs = 96

// Sum is a file with its SHA-256.
type Sum struct{ File, SHA256 string }

// Sums name the job file and each tool file with the first 16 digits of its
// SHA-256: the job is the same only where all of them are.
func (j Job) Sums() []string {
	short := func(sum string) string { return "SHA-256 " + sum[:min(16, len(sum))] }
	all := []string{"job file " + short(j.SHA256)}
	for _, f := range j.ToolFiles {
		all = append(all, "tool file "+clean(f.File)+" "+short(f.SHA256))
	}
	return all
}

// Job is one checked job file, every value resolved.
type Job struct {
	Path       string
	SHA256     string // of the job file alone
	ToolFiles  []Sum  // the tool files that it names
	About      sequence.About
	Conditions sequence.Conditions
	Joint      joint.Joint
	Procedure  sequence.Procedure
	System     unit.System // inch threads US, metric threads SI
	NutWidth   unit.Length // across flats; 0: not given
	Grip       unit.Length // between the nuts' faces; 0: not given
	Hole       unit.Length // of a bolt; 0: not known
	Flange     Flange
	Inputs     []sequence.Input

	places map[string]place
	lines  lines
}

// place is a line of a file.
type place struct {
	file string
	line int
}

// Plan computes the job for a day.
func (j Job) Plan(on joint.Date) (sequence.Plan, []joint.Finding) {
	return sequence.NewPlan(j.Joint, j.About, j.Conditions, j.Procedure, j.System, on)
}

// Locate gives the file and line of a finding's key; a key that is silent
// gives the table it would stand in.
func (j Job) Locate(key string) (file string, line int) {
	for k := key; k != ""; k = k[:max(0, strings.LastIndexByte(k, '.'))] {
		if p, ok := j.places[k]; ok {
			return p.file, p.line
		}
		if n := j.lines[k]; n > 0 {
			return j.Path, n
		}
	}
	return j.Path, 1
}

// Load reads a job file. The error is Faults when the file could be read.
func Load(path string) (Job, error) {
	text, err := readFile(path)
	if err != nil {
		return Job{}, fmt.Errorf("job file: %w", err)
	}
	return Parse(path, text, filepath.Dir(path))
}

// readFile reads a regular file of bounded size. It looks before it opens: to
// open a pipe waits for somebody to write to it.
func readFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no regular file, name a .toml file", visible.Text(path))
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text := bytes.NewBuffer(make([]byte, 0, min(info.Size(), mostBytes)+bytes.MinRead))
	if _, err := text.ReadFrom(io.LimitReader(f, mostBytes+1)); err != nil {
		return nil, err
	}
	if text.Len() > mostBytes {
		return nil, fmt.Errorf("%s is larger than %d MiB, a job file is a page of text", visible.Text(path), mostBytes>>20)
	}
	return text.Bytes(), nil
}

// Parse reads the text of a job file called name. Tool files are looked up
// beside or below dir.
func Parse(name string, text []byte, dir string) (Job, error) {
	sum := sha256.Sum256(text)
	j := Job{Path: name, SHA256: hex.EncodeToString(sum[:]), places: map[string]place{}, Inputs: make([]sequence.Input, 0, usualInputs)}
	var faults Faults
	top, ok := open(name, text, &faults, &j.Inputs, "job")
	if !ok {
		return j, faults
	}
	j.lines = top.lines
	if top.has["joint"] == nil && top.has["curve"] != nil {
		faults = append(faults, Fault{name, 1, "this is the file of a tool and no job: name it in a job, [[tools]] with file = \"" + clean(filepath.Base(name)) + "\""})
		return j, faults
	}
	r := reader{job: &j, dir: dir}
	r.all(top)
	if len(faults) > 0 {
		return j, faults.sorted(name)
	}
	return j, nil
}

// open checks a text, decodes it and gives its top table.
func open(name string, text []byte, faults *Faults, inputs *[]sequence.Input, origin string) (*table, bool) {
	if n, why := foreign(text); why != "" {
		*faults = append(*faults, Fault{name, n, why})
		return nil, false
	}
	plain := strings.TrimPrefix(string(text), "\ufeff")
	lines, n, why := positions(plain)
	if why != "" {
		*faults = append(*faults, Fault{name, n, why})
		return nil, false
	}
	var has map[string]any
	if _, err := toml.Decode(plain, &has); err != nil {
		*faults = append(*faults, syntax(name, plain, err))
		return nil, false
	}
	s := &source{file: name, lines: lines, faults: faults, inputs: inputs, origin: origin}
	return &table{source: s, has: has, given: true}, true
}

// foreign finds what no TOML file of ours holds, with its line.
func foreign(text []byte) (line int, why string) {
	if len(text) >= 2 && (text[0] == 0xFF && text[1] == 0xFE || text[0] == 0xFE && text[1] == 0xFF) {
		return 1, "the file is UTF-16, save it as UTF-8"
	}
	line = 1
	for i := 0; i < len(text); {
		if c := text[i]; c >= ' ' && c < 0x7F { // most of every file
			i++
			continue
		}
		r, n := utf8.DecodeRune(text[i:])
		switch {
		case r == utf8.RuneError && n <= 1:
			return line, fmt.Sprintf("byte 0x%02X is not UTF-8 text, save the file as UTF-8", text[i])
		case r == 0xFEFF && i == 0:
		case hostile(r):
			return line, fmt.Sprintf("the invisible character U+%04X, take it out", r)
		case r == '\n':
			line++
		}
		i += n
	}
	return 0, ""
}

// syntax says where TOML breaks. A syntax fault stands alone: nothing behind
// it can be trusted.
func syntax(name, text string, err error) Fault {
	var p toml.ParseError
	if !errors.As(err, &p) {
		return Fault{name, 1, "not readable as TOML: " + clean(err.Error())}
	}
	line := max(1, p.Position.Line)
	f := Fault{name, line, "not readable as TOML: " + clean(p.Message)}
	all := strings.Split(text, "\n")
	if line > len(all) {
		return f
	}
	switch here := all[line-1]; {
	case strings.ContainsAny(here, "“”„‘’"):
		f.Text = "curly quotes, as a word processor makes them: write straight ones \""
	case otherDate.Made().MatchString(here):
		f.Text = "a date is written year, month, day without quotes, such as 2036-06-02: " + clean(strings.TrimSpace(here))
	case decimalComma(here):
		f.Text = "a decimal comma, write a point: " + clean(strings.TrimSpace(here))
	}
	return f
}

// otherDate finds a date in another order, or one that is in no calendar.
var otherDate = pattern.Lazy{Text: `=\s*(\d{1,2}[./]\d{1,2}[./]\d{4}|\d{4}[./]\d{1,2}[./]\d{1,2}|\d{4}-\d{1,2}-\d{1,2})\s*(#.*)?$`}

// decimalComma finds a bare number with a comma, such as class = 1,6.
func decimalComma(line string) bool {
	_, value, ok := strings.Cut(line, "=")
	if !ok {
		return false
	}
	value = strings.TrimSpace(value)
	i := strings.IndexByte(value, ',')
	return i > 0 && i+1 < len(value) && strings.Trim(value[:i], "0123456789") == "" && value[i+1] >= '0' && value[i+1] <= '9'
}

// IsJob says whether a file looks like a job of ours: cheap, for lists.
func IsJob(path string) bool {
	if !strings.HasSuffix(path, ".toml") {
		return false
	}
	text, err := readFile(path)
	return err == nil && strings.Contains(string(text), "[joint]") && strings.Contains(string(text), "format")
}
