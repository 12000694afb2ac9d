package card

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
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

// file is what a journal needs of an open file.
type file interface {
	io.Writer
	io.Seeker
	Sync() error
	Truncate(size int64) error
	Close() error
}

// disk is all that changes files and names on a disk; tests give one that fails.
type disk struct {
	open    func(path string, flag int) (file, error) // for writing
	rename  func(from, to string) error
	remove  func(path string) error
	syncDir func(dir string) error
}

var drive = disk{
	open:   func(path string, flag int) (file, error) { return os.OpenFile(path, flag, 0o644) },
	rename: os.Rename, remove: os.Remove, syncDir: syncDir,
}

// Journal is the one writer of a card.
type Journal struct {
	path   string
	file   file
	lock   *flock.Flock
	n      int    // lines written
	hash   string // of the last line
	size   int64  // of the whole lines
	people map[string]bool
	broken error // the first failure; nothing is written after it
	second *secondCopy
}

// Create makes a new card in dir: locked first, its first line written and
// flushed under another name, then renamed, and the folder flushed.
func Create(dir string, opened sequence.CardOpened, at time.Time, by string) (*Journal, error) {
	e := sequence.Event{At: at, By: by, Data: opened}
	text, hash, err := newLine(1, e, noHash)
	if err != nil {
		return nil, fmt.Errorf("new card in %s: %w", dir, err)
	}
	name, err := newName(opened, at, hash)
	if err != nil {
		return nil, err
	}
	path := filepath.Join(dir, name)
	lock, err := lockOf(path)
	if err != nil {
		return nil, err
	}
	j, err := create(path, by, text, hash)
	if err != nil {
		lock.Unlock()
		return nil, fmt.Errorf("new card in %s: %w", dir, err)
	}
	j.lock = lock
	return j, nil
}

func create(path, by string, text []byte, hash string) (*Journal, error) {
	if _, err := os.Lstat(path); !errors.Is(err, os.ErrNotExist) {
		return nil, errors.New("a card of that name exists: try again")
	}
	temp := path + ".new"
	if err := writeNew(temp, text); err != nil {
		return nil, err
	}
	if err := drive.rename(temp, path); err != nil {
		drive.remove(temp)
		return nil, err
	}
	f, err := openEnd(path, int64(len(text)))
	if err == nil {
		err = drive.syncDir(filepath.Dir(path))
	}
	if err != nil {
		// A card that its walk never got would be taken for an unclosed one.
		if f != nil {
			f.Close()
		}
		drive.remove(path)
		return nil, err
	}
	return &Journal{path: path, file: f, n: 1, hash: hash, size: int64(len(text)), people: map[string]bool{by: true}}, nil
}

// writeNew writes and flushes a file that must not exist yet, and leaves
// nothing behind when that fails.
func writeNew(path string, text []byte) error {
	f, err := drive.open(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY)
	if err != nil {
		return err
	}
	n, err := f.Write(text)
	if err == nil && n < len(text) {
		err = io.ErrShortWrite
	}
	if err == nil {
		err = f.Sync()
	}
	if closeErr := f.Close(); err == nil {
		err = closeErr
	}
	if err != nil {
		drive.remove(path)
	}
	return err
}

// openEnd opens a card for writing at its end. It does not open it for
// appending: Windows cannot cut a file that was opened so.
func openEnd(path string, size int64) (file, error) {
	f, err := drive.open(path, os.O_WRONLY)
	if err != nil {
		return nil, err
	}
	if _, err := f.Seek(size, io.SeekStart); err != nil {
		f.Close()
		return nil, err
	}
	return f, nil
}

// lockOf takes the writer's lock of a card. It lies beside the card, never on
// it, so that readers are not in the way.
func lockOf(path string) (*flock.Flock, error) {
	lock := flock.New(path + ".lock")
	ok, err := lock.TryLock()
	if err != nil {
		return nil, fmt.Errorf("card %s cannot be locked: %w; its folder must exist and let you write in it", path, err)
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
	if c.Torn != nil {
		if err := keepTail(path, c.Torn); err != nil {
			return nil, c, fmt.Errorf("card %s, a copy of its torn last line: %w", path, err)
		}
	}
	last := c.Entries[len(c.Entries)-1]
	f, err := openEnd(path, c.size)
	if err != nil {
		return nil, c, fmt.Errorf("card: %w; is it read-only?", err)
	}
	if c.Torn != nil {
		err = f.Truncate(c.size)
	}
	// Whoever wrote last may have been killed before the flush: what is shown
	// from now on has to be on the disk, the card's name too.
	if err == nil {
		err = f.Sync()
	}
	if err == nil {
		err = drive.syncDir(filepath.Dir(path))
	}
	if err != nil {
		f.Close()
		return nil, c, fmt.Errorf("card %s, flushing what it holds: %w", path, err)
	}
	return &Journal{path: path, file: f, n: last.N, hash: last.Hash, size: c.size, people: c.people}, c, nil
}

// keepTail keeps a copy of the torn last line, durable before it is cut off.
func keepTail(path string, t *Tail) error {
	for i := 1; i <= mostTails; i++ {
		name := tailName(path, i)
		err := writeNew(name, t.text)
		if errors.Is(err, os.ErrExist) {
			continue
		}
		if err != nil {
			return err
		}
		t.Copy = filepath.Base(name)
		return drive.syncDir(filepath.Dir(path))
	}
	return fmt.Errorf("%d of them lie beside it: move them away", mostTails)
}

// mostTails is how many torn lines of a card are kept beside it.
const mostTails = 1000

func tailName(card string, i int) string { return fmt.Sprintf("%s.torn-%d", card, i) }

// isTail says that a file beside a card has a name that keepTail gives. Any other
// is somebody else's, and its name may be one that no card can hold.
func isTail(card, name string) bool {
	_, number, _ := strings.Cut(name, ".torn-")
	i, err := strconv.Atoi(number)
	return err == nil && i >= 1 && i <= mostTails && name == tailName(card, i)
}

// Append writes one event as one whole line and flushes it to the disk. After
// any failure the card is read-only until it is opened and verified again.
func (j *Journal) Append(e sequence.Event) error {
	if j.broken != nil {
		return fmt.Errorf("%w: %w", ErrBroken, j.broken)
	}
	text, hash, err := newLine(j.n+1, e, j.hash)
	if err == nil && (j.size+int64(len(text)) > mostBytes || j.n >= mostLines || len(j.people) >= mostPeople && !j.people[e.By]) {
		err = fmt.Errorf("card %s is full at %d MiB, %d lines or %d people: begin a new card from the job file", j.path, mostBytes>>20, mostLines, mostPeople)
	}
	if err != nil {
		j.broken = err
		return err
	}
	if j.broken = j.put(text); j.broken != nil {
		// Best effort: the screen says that this line is not recorded, so it
		// should not come back. Never a second flush here: the system may have
		// dropped what failed and would say that all is well.
		_ = j.file.Truncate(j.size)
		return j.broken
	}
	j.n, j.hash, j.size = j.n+1, hash, j.size+int64(len(text))
	j.people[e.By] = true
	j.second.append(text)
	return nil
}

// put writes and flushes a line.
func (j *Journal) put(text []byte) error {
	n, err := j.file.Write(text)
	if err == nil && n < len(text) {
		err = io.ErrShortWrite
	}
	if err != nil {
		return fmt.Errorf("the disk took %d of %d bytes: %w", n, len(text), err)
	}
	if err := j.file.Sync(); err != nil {
		return fmt.Errorf("the disk did not flush: %w", err)
	}
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
