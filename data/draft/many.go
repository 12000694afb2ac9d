package draft

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/data/visible"
	"evenload/joint"
)

// Outcome is what became of one row of a register.
type Outcome struct {
	Line    int
	Tag     string
	File    string // written; empty where Err says why not
	Same    bool   // it was there already, byte for byte
	Err     error
	Summary string // how many things check says of the file
	Under   []Line // its errors, and what became of values of the template
	Gone    string // what the file that it was written over had and it has not, empty for nothing
	Failed  bool   // check finds an error in the file
}

// notOfTemplate are keys that belong to one joint and one day, and that no
// other joint may get from a template: nobody has approved or allowed that one.
var notOfTemplate = []string{"joint.approved_by", "joint.approved_on", "joint.permit", "joint.work_order"}

// Template is a job file that gives what the rows leave out.
type Template struct {
	name string
	text []byte
	Left []string // keys of it that are not taken
}

// OpenTemplate reads a job file as a template.
func OpenTemplate(path string) (*Template, error) {
	text, err := job.Read(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("template: there is no file %s, look at its name and folder", visible.Text(path))
	}
	if err != nil {
		return nil, fmt.Errorf("template: %w", err)
	}
	given, err := job.ValuesOf(path, text)
	if err != nil {
		return nil, err
	}
	t := &Template{name: path}
	for _, key := range notOfTemplate {
		if given.Has(key) {
			t.Left = append(t.Left, key)
			if text, err = job.Edit(text, job.Change{Key: key}); err != nil {
				return nil, fmt.Errorf("template: %w", err)
			}
		}
	}
	t.text = withoutHead(text)
	return t, nil
}

// withoutHead takes out the comment before the first key: it tells of the template's
// own joint. The one that every drafted job begins with stays.
func withoutHead(text []byte) []byte {
	bare := bytes.TrimPrefix(text, []byte("\ufeff"))
	mark := text[:len(text)-len(bare)]
	if bytes.HasPrefix(bytes.ReplaceAll(bare, []byte("\r\n"), []byte("\n")), []byte(head)) {
		return text
	}
	from := 0
	for line := range bytes.Lines(bare) {
		if seen := bytes.TrimSpace(line); len(seen) > 0 && seen[0] != '#' {
			break
		}
		from += len(line)
	}
	return slices.Concat(mark, bare[from:])
}

// New begins a job file like the template in a folder, with a tag of its own.
func (t *Template) New(dir string) (*Draft, error) {
	d, err := onto(t.name, t.text, dir)
	if err != nil {
		return nil, err
	}
	d.Like, d.Tools = t.name, job.ToolFiles(dir)
	delete(d.Was, Tag)
	return d, nil
}

// Many writes a job file for each row into a folder, and tells of each. One that is
// there already stays where it is the same; another is written over only when over
// is true.
func Many(rows []Row, t *Template, into string, over bool, on joint.Date, each func(Outcome)) {
	tools := job.ToolFiles(into)
	lines := map[string]int{}
	open := openCards{dir: into}
	for _, row := range rows {
		o := Outcome{Line: row.Line, Tag: row.Answers[Tag], Err: row.Err}
		// Many disks take large and small letters of a name for the same.
		same := strings.ToLower(o.Tag)
		switch {
		case o.Err != nil:
		case lines[same] > 0:
			o.Err = fmt.Errorf("the tag is that of line %d", lines[same])
		default:
			lines[same] = row.Line
			o.write(row.Answers, t, into, tools, &open, over, on)
		}
		switch {
		case row.Short != "" && o.Err != nil:
			o.Err = fmt.Errorf("%w; %s", o.Err, row.Short)
		case row.Short != "":
			o.Summary += "; " + row.Short
		}
		each(o)
	}
	syncDir(into)
}

// withoutGasket answers with the gasket's name alone in a row with another flange that
// is silent of it: its diameters would be judged as those of the row's.
func (d *Draft) withoutGasket(a Answers) {
	kind := d.given.Text("gasket.type")
	if a[Flange] == "" || a[Gasket] != "" || kind == "" || kind == d.Was[Gasket] {
		return
	}
	if other, _, err := d.over(Flange, a[Flange], false); err == nil && len(other) > 0 {
		a[Gasket] = kind
	}
}

func (o *Outcome) write(a Answers, t *Template, into string, tools []job.ToolFile, open *openCards, over bool, on joint.Date) {
	if o.Err = card.CheckTag(o.Tag); o.Err != nil {
		return
	}
	d := &Draft{dir: into, Was: Answers{}}
	if t != nil {
		if d, o.Err = onto(t.name, t.text, into); o.Err != nil {
			return
		}
		d.Like = t.name
		d.withoutGasket(a)
		for n, text := range d.Was {
			if a[n] == "" {
				a[n] = text
			}
		}
	}
	d.Tools = tools
	path := filepath.Join(into, o.Tag+".toml")
	d.Path = path
	l := d.Look(a, on)
	if !l.Ready() {
		o.Err = errors.New(l.why())
		return
	}
	there, err := job.Read(path)
	same := err == nil && bytes.Equal(there, l.Text) // what cannot be read is not the same
	if !same {
		if o.Err = open.refuse(o.Tag, path); o.Err != nil {
			return
		}
	}
	var old []byte
	switch {
	case over && err == nil:
		old = there
	case over && !errors.Is(err, fs.ErrNotExist):
		o.Err = err
		return
	}
	err = write(path, l.Text, old)
	if errors.Is(err, fs.ErrExist) {
		if o.Same = same; !o.Same {
			o.Err = fmt.Errorf("%s is there already, and is another: --force writes over it", path)
			return
		}
	} else if err != nil {
		o.Err = err
		return
	}
	if old != nil {
		o.Gone = gone(path, old, l.Text)
	}
	o.File, o.Summary, o.Under = path, l.Summary(), l.errors()
	if l.NoTool {
		o.Under = append(o.Under, Line{joint.Error, job.NoTool})
	}
	o.Failed = len(o.Under) > 0
	for _, a := range l.Asides {
		o.Under = append(o.Under, Line{a.Severity, a.Text})
	}
}

// why says why a look is not ready.
func (l Look) why() string {
	var all []string
	for _, r := range l.Remarks() {
		if r.Severity == joint.Error || r.Severity == "" {
			all = append(all, r.Text)
		}
	}
	return strings.Join(all, "; ")
}
