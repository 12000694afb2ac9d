package draft

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenload/data/job"
)

// FuzzChange: an answer that changes a job file which is there comes out as it
// was given or is refused, and what the form is silent of stays.
func FuzzChange(f *testing.F) {
	files, _ := filepath.Glob(shipped + "*.toml")
	if len(files) == 0 {
		f.Fatal("no jobs")
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		for i := range Columns() {
			f.Add(text, uint8(i), "DN 200 PN 16")
			f.Add(text, uint8(i), "")
		}
	}
	dir := works(f)
	tools := job.ToolFiles(dir)
	f.Fuzz(func(t *testing.T, text []byte, at uint8, answer string) {
		d, err := onto("job.toml", text, dir)
		if err != nil {
			return
		}
		d.Path, d.Tools = filepath.Join(dir, "job.toml"), tools
		q := Columns()[int(at)%len(Columns())]
		a := Answers{}
		for n, was := range d.Was {
			a[n] = was
		}
		if l := d.Look(a, day); string(l.Text) != string(text) {
			t.Fatalf("no answer was changed:\n%s\nbecame\n%s", text, l.Text)
		}
		a[q.Name] = answer
		l := d.Look(a, day)
		if !l.Ready() {
			return
		}
		if _, err := job.Parse("job.toml", l.Text, dir); err != nil {
			t.Fatalf("ready, and %v:\n%s", err, l.Text)
		}
		v, err := job.ValuesOf("job.toml", l.Text)
		if err != nil {
			t.Fatal(err)
		}
		if q.Name == Tag && v.Text("joint.tag") != strings.TrimSpace(answer) {
			t.Fatalf("tag %q became %q", answer, v.Text("joint.tag"))
		}
	})
}
