package card

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// secondCopy is a second copy of the card on another disk: best effort.
type secondCopy struct {
	file *os.File
	err  error
}

// copyTo keeps a second copy of the card in dir from now on. What fails there
// shows in CopyError and never stops the card.
func (j *Journal) copyTo(dir string) error {
	j.second.close()
	j.second = &secondCopy{}
	j.second.file, j.second.err = openCopy(j.path, filepath.Join(dir, filepath.Base(j.path)))
	return j.CopyError()
}

// openCopy brings the copy of a card up to it. A file that does not begin as
// the card does stays as it is: it may be all that is left of another one.
func openCopy(card, name string) (_ *os.File, err error) {
	text, err := os.ReadFile(card)
	if err != nil {
		return nil, err
	}
	// A link would lead out of the folder, and to read a pipe would wait for ever.
	if info, err := os.Lstat(name); err == nil && !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no regular file: name another folder", name)
	}
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			f.Close()
		}
	}()
	same, err := sameFile(card, f)
	if err != nil {
		return nil, err
	}
	if same {
		return nil, errors.New("the copy would be the card itself: name another folder")
	}
	old, err := io.ReadAll(io.LimitReader(f, int64(len(text))+1))
	if err != nil {
		return nil, err
	}
	rest, ok := bytes.CutPrefix(text, old)
	if !ok {
		return nil, fmt.Errorf("%s exists and is no copy of this card: name another folder", name)
	}
	if _, err := f.Write(rest); err != nil {
		return nil, err
	}
	_ = syncDir(filepath.Dir(name)) // a new name may be lost, the card is not
	return f, f.Sync()
}

func sameFile(path string, f *os.File) (bool, error) {
	one, err := os.Stat(path)
	if err != nil {
		return false, err
	}
	other, err := f.Stat()
	return os.SameFile(one, other), err
}

// CopyError says what is wrong with the second copy, nil when nothing is.
func (j *Journal) CopyError() error {
	if j.second == nil || j.second.err == nil {
		return nil
	}
	return fmt.Errorf("second copy: %w", j.second.err)
}

func (c *secondCopy) append(text []byte) {
	if c == nil || c.err != nil {
		return
	}
	if _, c.err = c.file.Write(text); c.err == nil {
		c.err = c.file.Sync()
	}
}

func (c *secondCopy) close() {
	if c != nil && c.file != nil {
		c.file.Close()
	}
}
