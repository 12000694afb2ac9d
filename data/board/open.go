package board

import (
	"bytes"
	"errors"
	"io"
	"path/filepath"
	"strings"
	"time"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/data/report"
	"evenload/joint"
)

// mostText is more than any record has.
const mostText = 8 << 20

// Text is the record of a card, or the plan of a job, to be read only.
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
			return strings.ReplaceAll(err.Error(), "; ", "\n"), nil
		}
		p, findings := j.Plan(joint.DateOf(now))
		report.Plan(&out, j, p, findings)
		return out.String(), nil
	}
	c, err := card.Read(path)
	if err != nil {
		return "", err
	}
	if err := report.Record(&out, c); err != nil {
		return "", err
	}
	return out.String(), nil
}
