package draft

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"evenload/data/card"
)

// openCards are the cards of a folder that are not closed, read when they are first
// asked for. Many disks take large and small letters of a name for the same.
type openCards struct {
	dir    string
	looked bool
	err    error
	byTag  map[string]string // what is said of the card
	byFile map[string]string // by the job file that it was begun with
}

// OpenCard says that a card of a job lies beside it and is open, by its tag or file;
// empty where none is.
func OpenCard(tag, path string) string {
	o := openCards{dir: filepath.Dir(path)}
	return o.of(tag, path)
}

// of is what is said of the card of a job.
func (o *openCards) of(tag, path string) string {
	if !o.looked {
		o.look()
	}
	if said := o.byTag[strings.ToLower(tag)]; said != "" {
		return said
	}
	return o.byFile[strings.ToLower(filepath.Base(path))]
}

// refuse says why the job of a tag is not written to a path: work on a joint goes on
// by the job as it was when its card was begun.
func (o *openCards) refuse(tag, path string) error {
	said := o.of(tag, path)
	switch {
	case o.err != nil:
		return o.err
	case said == "":
		return nil
	}
	return fmt.Errorf("%s: its work goes by the job as it was. The foreman closes the card or moves it away first, --force does not help", said)
}

// look reads the cards. Of one that cannot be read, the work may be on it.
func (o *openCards) look() {
	o.looked, o.byTag, o.byFile = true, map[string]string{}, map[string]string{}
	paths, err := card.Find(o.dir)
	o.err = err
	for _, path := range paths {
		name := filepath.Base(path)
		c, err := card.Read(path)
		opened := c.Opened()
		if errors.Is(err, card.ErrNothingRecorded) || opened.Practice || card.IsPractice(path) || err == nil && c.IsClosed() {
			continue
		}
		said := "a card of this joint is open, " + name
		if err != nil {
			said = fmt.Sprintf("a card of this joint cannot be read to its end, %s (evenload verify says why)", name)
		}
		tag := opened.Plan.About.Tag
		if len(c.Entries) == 0 { // its name begins with the tag, the day behind a point
			tag = name[:max(0, strings.LastIndexByte(strings.TrimSuffix(name, ".card.jsonl"), '.'))]
		} else {
			o.byFile[strings.ToLower(opened.JobFile)] = said
		}
		o.byTag[strings.ToLower(tag)] = said
	}
}
