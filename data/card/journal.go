package card

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/gofrs/flock"

	"evenload/sequence"
)

// Errors of writing a card.
var (
	ErrBusy   = errors.New("another evenload has this card open: close it there first")
	ErrBroken = errors.New("the card cannot be written any more until it is opened again")
)

// file is what a journal needs of an open file; tests give one that fails.
type file interface {
	io.Writer
	Sync() error
	Truncate(size int64) error
	Close() error
}

// Journal is the one writer of a card.
type Journal struct {
	path   string
	file   file
	lock   *flock.Flock
	n      int    // lines written
	hash   string // of the last line
	size   int64  // of the whole lines
	broken error  // the first failure; nothing is written after it
	second *secondCopy
}

// Create makes a new card in dir: locked first, its first line written and
// flushed under another name, then renamed, and the folder flushed.
func Create(dir string, opened sequence.CardOpened, at time.Time, by string) (*Journal, error) {
	name, err := newName(opened, at)
	if err != nil {
		return nil, err
	}
	path := filepath.Join(dir, name)
	lock, err := lockOf(path)
	if err != nil {
		return nil, err
	}
	j, err := create(path, sequence.Event{At: at, By: by, Data: opened})
	if err != nil {
		lock.Unlock()
		return nil, fmt.Errorf("new card in %s: %w", dir, err)
	}
	j.lock = lock
	return j, nil
}

func create(path string, e sequence.Event) (*Journal, error) {
	if _, err := os.Lstat(path); err == nil {
		return nil, errors.New("a card of that name exists: try again")
	}
	text, hash, err := encode(1, e, noHash)
	if err != nil {
		return nil, err
	}
	text = append(text, '\n')
	temp := path + ".new"
	f, err := os.OpenFile(temp, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
	if err != nil {
		return nil, err
	}
	_, err = f.Write(text)
	if err == nil {
		err = f.Sync()
	}
	if closeErr := f.Close(); err == nil {
		err = closeErr
	}
	if err == nil {
		err = os.Rename(temp, path)
	}
	if err != nil {
		os.Remove(temp)
		return nil, err
	}
	if err := syncDir(filepath.Dir(path)); err != nil {
		return nil, err
	}
	out, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		return nil, err
	}
	return &Journal{path: path, file: out, n: 1, hash: hash, size: int64(len(text))}, nil
}

// lockOf takes the writer's lock of a card. It lies beside the card, never on
// it, so that readers are not in the way.
func lockOf(path string) (*flock.Flock, error) {
	lock := flock.New(path + ".lock")
	ok, err := lock.TryLock()
	if err != nil {
		return nil, fmt.Errorf("card %s cannot be locked: %w; is the folder read-only?", path, err)
	}
	if !ok {
		return nil, fmt.Errorf("card %s: %w", path, ErrBusy)
	}
	return lock, nil
}

// Open opens a card for writing: locked, read, damage refused. A torn last
// line is copied to NAME.torn-N, cut off and flushed; Card.Torn says so.
func Open(path string) (*Journal, Card, error) {
	if info, err := os.Lstat(path); err != nil {
		return nil, Card{}, fmt.Errorf("card: %w", err)
	} else if !info.Mode().IsRegular() {
		return nil, Card{}, fmt.Errorf("card %s is no regular file", path)
	}
	lock, err := lockOf(path)
	if err != nil {
		return nil, Card{}, err
	}
	j, c, err := open(path)
	if err != nil {
		lock.Unlock()
		return nil, c, err
	}
	j.lock = lock
	return j, c, nil
}

func open(path string) (*Journal, Card, error) {
	c, err := Read(path)
	if err != nil {
		return nil, c, err
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		return nil, c, fmt.Errorf("card: %w; is it read-only?", err)
	}
	info, err := f.Stat()
	if err != nil {
		f.Close()
		return nil, c, fmt.Errorf("card: %w", err)
	}
	j := &Journal{path: path, file: f, n: len(c.Entries), hash: c.Entries[len(c.Entries)-1].Hash, size: info.Size()}
	if c.Torn == nil {
		return j, c, nil
	}
	err = cutTail(path, c.Torn)
	if err == nil {
		j.size = c.Torn.Offset
		err = j.cutBack()
	}
	if err != nil {
		f.Close()
		return nil, c, fmt.Errorf("card %s, its torn last line: %w", path, err)
	}
	return j, c, nil
}

// cutTail keeps a copy of the torn last line.
func cutTail(path string, t *Tail) error {
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	for i := 1; i <= 1000; i++ {
		name := fmt.Sprintf("%s.torn-%d", path, i)
		f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
		if errors.Is(err, os.ErrExist) {
			continue
		}
		if err != nil {
			return err
		}
		_, err = f.Write(text[t.Offset:])
		if err == nil {
			err = f.Sync()
		}
		if closeErr := f.Close(); err == nil {
			err = closeErr
		}
		t.Copy = filepath.Base(name)
		return err
	}
	return errors.New("there are a thousand torn copies beside it")
}

func (j *Journal) cutBack() error {
	if err := j.file.Truncate(j.size); err != nil {
		return err
	}
	return j.file.Sync()
}

// Append writes one event as one whole line and flushes it to the disk. After
// any failure the card is read-only until it is opened and verified again.
func (j *Journal) Append(e sequence.Event) error {
	if j.broken != nil {
		return fmt.Errorf("%w: %w", ErrBroken, j.broken)
	}
	text, hash, err := encode(j.n+1, e, j.hash)
	if err != nil {
		return err
	}
	text = append(text, '\n')
	n, err := j.file.Write(text)
	if err == nil && n < len(text) {
		err = io.ErrShortWrite
	}
	if err != nil {
		j.broken = fmt.Errorf("the disk took %d of %d bytes: %w", n, len(text), err)
		// Best effort: a torn line is found and cut when the card is opened again.
		_ = j.file.Truncate(j.size)
		return j.broken
	}
	if err := j.file.Sync(); err != nil {
		// Never a second flush here: the system may have dropped what failed.
		j.broken = fmt.Errorf("the disk did not flush: %w", err)
		return j.broken
	}
	j.n, j.hash, j.size = j.n+1, hash, j.size+int64(len(text))
	j.second.append(text)
	return nil
}

// Path of the card.
func (j *Journal) Path() string { return j.path }

// Seal is that of the last line written.
func (j *Journal) Seal() string { return seal(j.hash) }

// Close gives the card back. Every line is on the disk already.
func (j *Journal) Close() error {
	err := j.file.Close()
	j.second.close()
	if j.lock != nil {
		if unlockErr := j.lock.Unlock(); err == nil {
			err = unlockErr
		}
	}
	if err != nil {
		return fmt.Errorf("card %s: %w", j.path, err)
	}
	return nil
}

// secondCopy is a second copy of the card on another disk: best effort.
type secondCopy struct {
	file *os.File
	err  error
}

// CopyTo keeps a second copy of the card in dir from now on. What fails there
// shows in CopyError and never stops the card.
func (j *Journal) CopyTo(dir string) error {
	j.second = &secondCopy{}
	j.second.err = func() error {
		text, err := os.ReadFile(j.path)
		if err != nil {
			return err
		}
		name := filepath.Join(dir, filepath.Base(j.path))
		if mine, err := filepath.Abs(j.path); err == nil {
			if other, err := filepath.Abs(name); err == nil && strings.EqualFold(mine, other) {
				return errors.New("the copy would be the card itself: name another folder")
			}
		}
		f, err := os.Create(name)
		if err != nil {
			return err
		}
		j.second.file = f
		if _, err := f.Write(text); err != nil {
			return err
		}
		return f.Sync()
	}()
	return j.CopyError()
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
