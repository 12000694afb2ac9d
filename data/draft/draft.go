package draft

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"evenload/data/job"
	"evenload/data/visible"
	"evenload/joint"
	"evenload/sequence"
)

// Draft is a job file that is being written, or one that is being changed.
type Draft struct {
	Path  string         // empty: it is called as the tag
	Like  string         // the job that a new one is like
	Tools []job.ToolFile // beside or below the file's folder
	Was   Answers        // what the file has already

	dir     string
	base    []byte // the file as it was read, nil for a new one
	given   job.Values
	ownTool string // the tools that the file has in itself
}

// New begins a job file in a folder.
func New(dir string) *Draft {
	return &Draft{dir: dir, Tools: job.ToolFiles(dir), Was: Answers{}}
}

// Open begins with the file of a path: to change it where it is there, else to
// write it. A file that is no TOML is an error.
func Open(path string) (*Draft, error) {
	if strings.HasSuffix(path, string(filepath.Separator)) || filepath.Ext(path) != ".toml" {
		return nil, fmt.Errorf("%s: a job file ends in .toml", visible.Text(path))
	}
	text, err := job.Read(path)
	if errors.Is(err, fs.ErrNotExist) {
		if info, err := os.Stat(filepath.Dir(path)); err != nil || !info.IsDir() {
			return nil, fmt.Errorf("%s: there is no folder %s, make it first", visible.Text(path), visible.Text(filepath.Dir(path)))
		}
		d := New(filepath.Dir(path))
		d.Path = path
		return d, nil
	}
	if err != nil {
		return nil, fmt.Errorf("job file: %w", err)
	}
	d, err := onto(path, text, filepath.Dir(path))
	if err != nil {
		return nil, err
	}
	d.Path, d.Tools = path, job.ToolFiles(d.dir)
	return d, nil
}

// onto begins with the text of a job.
func onto(name string, text []byte, dir string) (*Draft, error) {
	given, err := job.ValuesOf(name, text)
	if err != nil {
		return nil, err
	}
	d := &Draft{dir: dir, base: text, given: given}
	d.Was, d.ownTool = answersOf(given)
	return d, nil
}

// Changes says that the answers go into a text that is there already.
func (d *Draft) Changes() bool { return d.base != nil }

// Begun says that the file that was named is not there and a new job is begun, which
// a misspelt name does too; empty where neither is so.
func (d *Draft) Begun() string {
	if d.Path == "" || d.Changes() {
		return ""
	}
	return "a new job is begun: there is no file " + d.Path
}

// File is where the job goes.
func (d *Draft) File(a Answers) string {
	if d.Path != "" {
		return d.Path
	}
	return filepath.Join(d.dir, a[Tag]+".toml")
}

// Fixed is what an answer is that cannot be changed here; empty: it can.
func (d *Draft) Fixed(n Name) string {
	if n == Tool {
		return d.ownTool
	}
	return ""
}

// Means is the name of the tables that an answer stands for; empty where it is that
// name itself, or stands for none.
func (d *Draft) Means(q Question, text string) string {
	text = strings.TrimSpace(text)
	if q.Kind == "" || text == "" {
		return ""
	}
	keys, err := d.keys(q.Name, text)
	if err != nil {
		return ""
	}
	more := slices.ContainsFunc(keys[1:], func(c job.Change) bool { return c.Value != nil })
	if name, _ := keys[0].Value.(string); name != text && !more {
		return name
	}
	return ""
}

// Save writes the text of a look. A file that is there already is written over
// only when over is true, and one that somebody else has changed since it was
// read is not.
func (d *Draft) Save(path string, text []byte, over bool) error {
	var old []byte
	if d.base != nil && path == d.Path {
		old = d.base
	} else if over {
		now, err := job.Read(path)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		old = now
	}
	if err := write(path, text, old); err != nil {
		return err
	}
	syncDir(filepath.Dir(path))
	return nil
}

// Gone says what of the file of a path would be gone if the text were written over
// it: its approval, permit and work order. Empty for nothing.
func Gone(path string, text []byte) string {
	old, err := job.Read(path)
	if err != nil {
		return "what it holds, which could not be read: look whether it is approved"
	}
	return gone(path, old, text)
}

// Wrong is an answer that cannot stand, with why.
type Wrong struct {
	Question Question
	Why      string
}

// Look is what becomes of the answers so far.
type Look struct {
	Text     []byte
	Wrong    []Wrong
	Missing  []Question // needed and silent
	Faults   []string   // of the text, without what is only missing yet
	Changed  []Name     // of a file that is there
	Asides   []Aside    // what becomes of other values of that file
	Job      job.Job
	Plan     sequence.Plan
	Findings []joint.Finding
	NoTool   bool // the tool is still to be filled in

	broken bool // the file has faults beside the tool that is missing
}

// Ready says that the text is a job file to be written: one without faults, but
// for a tool that is still to be filled in.
func (l Look) Ready() bool { return len(l.Wrong) == 0 && len(l.Missing) == 0 && !l.broken }

// Look computes the job of the answers so far, for a day.
func (d *Draft) Look(a Answers, on joint.Date) Look {
	var l Look
	var changes []job.Change // those that are written
	var asked []job.Change   // those of the answers
	var notes []Aside
	for i, q := range Columns() {
		text := strings.TrimSpace(a[q.Name])
		if i >= len(Questions()) && text == "" {
			continue // not asked
		}
		if text == "" && q.Needed {
			l.Missing = append(l.Missing, q)
		}
		if d.base == nil {
			keys, err := d.keys(q.Name, text)
			if err != nil {
				l.Wrong = append(l.Wrong, Wrong{q, err.Error()})
			}
			changes = append(changes, keys...)
			continue
		}
		if text == strings.TrimSpace(d.Was[q.Name]) {
			continue
		}
		keys, stays, err := d.over(q.Name, text, slices.Contains(l.Changed, Flange))
		if stays != "" {
			notes = append(notes, Aside{q.Name, joint.Note, stays})
		}
		switch {
		case err != nil:
			l.Wrong = append(l.Wrong, Wrong{q, err.Error()})
		case len(keys) > 0:
			l.Changed = append(l.Changed, q.Name)
			asked = append(asked, keys...)
			changes = append(changes, d.inPlace(keys)...)
		}
	}
	if was := d.Was[ApprovedBy]; d.base != nil && was != "" && strings.TrimSpace(a[ApprovedBy]) == was && slices.ContainsFunc(approved, func(n Name) bool { return slices.Contains(l.Changed, n) }) {
		notes = append([]Aside{{ApprovedBy, joint.Warning, fmt.Sprintf("the approval by %s is taken out: it was of the job as it was. Have it approved again", was)}}, notes...)
		changes = append(changes, job.Change{Key: "joint.approved_by"}, job.Change{Key: "joint.approved_on"})
	}
	l.Asides = notes
	name, err := d.File(a), error(nil)
	if d.base == nil {
		l.Text = fresh(changes, name, d.dir)
	} else if l.Text, err = job.Edit(d.base, changes...); err != nil {
		l.Faults, l.broken, l.Text = []string{err.Error()}, true, d.base
		return l
	}
	l.Job, err = job.Parse(name, l.Text, d.dir)
	if d.base != nil && !bytes.Equal(l.Text, d.base) {
		old, _ := job.Parse(name, d.base, d.dir) // its faults are told where they still are
		l.Text = commented(l.Text, old.Inputs, l.Job.Inputs)
	}
	d.judge(&l, a, err, on)
	l.Asides = append(d.asides(l, asked), l.Asides...)
	return l
}

// judge looks through the faults of the text and plans what can be planned.
func (d *Draft) judge(l *Look, a Answers, err error, on joint.Date) {
	l.NoTool = len(l.Job.Joint.Tools) == 0
	var faults job.Faults
	if errors.As(err, &faults) {
		for _, f := range faults {
			switch {
			case l.NoTool && f.Text == job.NoTool:
				continue
			case len(l.Missing)+len(l.Wrong) > 0 && (strings.Contains(f.Text, " is missing") || strings.Contains(f.Text, " needs ")):
			default:
				l.Faults = append(l.Faults, f.Text)
			}
			l.broken = true
		}
	} else if err != nil {
		l.Faults, l.broken = append(l.Faults, err.Error()), true
	}
	if l.Job.Joint.Thread.Diameter <= 0 || l.Job.Joint.Bolts == 0 {
		return
	}
	// What comes of a value that is not there yet, or is wrong, is no finding.
	early := slices.ContainsFunc(l.Missing, func(q Question) bool { return q.Name != Tag })
	if early || len(l.Wrong)+len(l.Faults) > 0 {
		l.Plan.Aim, _ = l.Job.Joint.Aim() // none yet, where it is an error
		return
	}
	l.Plan, l.Findings = l.Job.Plan(on)
	if l.NoTool { // what comes of that is no finding
		l.Findings = slices.DeleteFunc(l.Findings, func(f joint.Finding) bool { return f.Code == "tools" })
	}
}
