package board

import (
	"bytes"
	"errors"
	"io"
	"path/filepath"
	"time"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/data/report"
	"evenload/joint"
)

// mostText is more than any record has.
const mostText = 8 << 20

// Text is what verify says of a card and its record, or the plan of a job, to be
// read only.
func (b *Board) Text(r Row, now time.Time) (string, error) {
	if r.Kind == Trouble {
		return "", errors.New(r.Damage)
	}
	f, err := b.Open(r) // never one outside the folder
	if err != nil {
		return "", err
	}
	defer f.Close()
	var out bytes.Buffer
	path := filepath.Join(b.dir, filepath.FromSlash(r.Path))
	if r.Kind == Job {
		text, err := io.ReadAll(io.LimitReader(f, mostText))
		if err != nil {
			return "", err
		}
		j, err := job.Parse(path, text, filepath.Dir(path))
		if err != nil {
			return err.Error(), nil
		}
		p, findings := j.Plan(joint.DateOf(now))
		err = report.Plan(&out, j, p, findings)
		return out.String(), err
	}
	said, _ := report.Verify(path)
	out.WriteString(said + "\n\n")
	c, err := card.Read(path)
	if r.Line == 0 && err != nil {
		return out.String(), nil // said already
	}
	if len(c.Entries) == 0 {
		return out.String(), nil
	}
	d, err := report.DoneOf(c, err) // of a damaged card, what stands before the damage
	if err == nil {
		for _, f := range r.Forks { // wherever below the folder they lie
			d.Forks = append(d.Forks, report.Fork{File: f.Path, Line: f.Line})
		}
		err = report.RecordText(&out, d)
	}
	if err != nil {
		return "", err
	}
	return out.String(), nil
}
