package board

import (
	"context"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"sync"
	"time"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/joint"
)

// Scan reads every job and card below a folder, on all cores, and gives each
// summary as it comes, one at a time and in no order. A link is not followed:
// what it points to below the folder is found where it lies, and what lies
// elsewhere is none of the board's. What cannot be read is given with the
// reason. The error is that of the folder itself, or of ctx.
func Scan(ctx context.Context, dir string, c *Cache, on joint.Date, each func(Summary)) error {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return fmt.Errorf("board: %w", err)
	}
	defer root.Close()
	// Little is kept of much that is read: a rarer collection costs little memory.
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	paths, found := make(chan string, 64), make(chan Summary, 64)
	var readers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		readers.Go(func() {
			for path := range paths {
				if s, ok := one(root, path, c, on); ok {
					found <- s
				}
			}
		})
	}
	var walked error
	go func() {
		walked = find(ctx, root, paths, found)
		close(paths)
		readers.Wait()
		close(found)
	}()
	for s := range found {
		if ctx.Err() == nil {
			each(s)
		}
	}
	return walked
}

// find gives the paths of what may be a job or a card.
func find(ctx context.Context, root *os.Root, paths chan<- string, found chan<- Summary) error {
	return fs.WalkDir(root.FS(), ".", func(path string, d fs.DirEntry, err error) error {
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case err != nil && path == ".":
			return fmt.Errorf("board: %w", err)
		case err != nil:
			found <- trouble(path, err)
			return nil
		case d.IsDir():
			return nil
		case d.Type()&fs.ModeSymlink != 0:
			if wanted(path) || leadsOut(root, path) {
				found <- trouble(path, errors.New("it is a link, which the board does not follow"))
			}
			return nil
		case !wanted(path):
			return nil
		case !d.Type().IsRegular():
			found <- trouble(path, errors.New("it is no regular file"))
			return nil
		}
		paths <- path
		return nil
	})
}

func wanted(path string) bool { return card.IsCard(path) || strings.HasSuffix(path, ".toml") }

// leadsOut says that a link points to a folder elsewhere, whose cards somebody
// may miss.
func leadsOut(root *os.Root, path string) bool {
	if _, err := root.Stat(path); err == nil || errors.Is(err, fs.ErrNotExist) {
		return false
	}
	info, err := os.Stat(filepath.Join(root.Name(), filepath.FromSlash(path)))
	return err == nil && info.IsDir()
}

func trouble(path string, err error) Summary {
	var e *fs.PathError
	if errors.As(err, &e) {
		err = e.Err // the path stands beside it
	}
	return Summary{Path: path, Kind: Trouble, Damage: err.Error()}
}

// one summarises a file; false for what is none of the board's.
func one(root *os.Root, path string, c *Cache, on joint.Date) (s Summary, ok bool) {
	defer func() {
		// A file that a stranger made must not take the board down with it.
		if r := recover(); r != nil {
			s, ok = trouble(path, fmt.Errorf("the program failed on it: %v", r)), true
		}
	}()
	if !card.IsCard(path) {
		return jobSummary(root, path, on)
	}
	return cardSummary(root, path, c), true
}

func cardSummary(root *os.Root, path string, c *Cache) Summary {
	f, err := root.Open(path)
	if err != nil {
		return trouble(path, err)
	}
	defer f.Close()
	key, err := keyOf(f)
	if err != nil {
		return trouble(path, err)
	}
	if s, ok := c.find(path, key); ok {
		return s
	}
	s := Read(path, f)
	if again, err := keyOf(f); err == nil && again == key {
		c.keep(path, key, s)
	}
	return s
}

// key tells two states of a file apart. The sum is over all its bytes, so that
// a changed letter in the middle shows although size, time and end are the same.
type key struct {
	Size int64     `json:"size"`
	Time time.Time `json:"time"`
	Sum  uint32    `json:"sum"`
}

// castagnoli is made when it is first used: it takes a good part of a start.
var castagnoli = sync.OnceValue(func() *crc32.Table { return crc32.MakeTable(crc32.Castagnoli) })

var buffers = sync.Pool{New: func() any { b := make([]byte, 64<<10); return &b }}

// keyOf reads a file once for its key and stands at its begin again.
func keyOf(f *os.File) (key, error) {
	info, err := f.Stat()
	if err != nil {
		return key{}, err
	}
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return key{}, err
	}
	sum := crc32.New(castagnoli())
	b := buffers.Get().(*[]byte)
	defer buffers.Put(b)
	for {
		n, err := f.Read(*b)
		sum.Write((*b)[:n])
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return key{}, err
		}
	}
	_, err = f.Seek(0, io.SeekStart)
	return key{info.Size(), info.ModTime().UTC(), sum.Sum32()}, err
}

// jobSummary is that of a job file; false for a TOML file that is no job.
func jobSummary(root *os.Root, path string, on joint.Date) (Summary, bool) {
	name := filepath.Join(root.Name(), filepath.FromSlash(path))
	if !job.IsJob(name) {
		return Summary{}, false
	}
	s := Summary{Path: path, Kind: Job}
	j, err := job.Load(name)
	var faults job.Faults
	switch {
	case errors.As(err, &faults):
		s.Errors = len(faults)
	case err != nil:
		return trouble(path, err), true
	}
	s.Tag, s.Where, s.JobFile, s.JobSHA256 = j.About.Tag, j.About.Where, filepath.Base(name), j.SHA256
	s.Approved, s.Bolts, s.Tools = j.About.ApprovedBy != "", j.Joint.Bolts, dueOf(j.Joint.Tools)
	if len(faults) == 0 {
		s.Inputs = inputsSum(j.Inputs)
		_, findings := j.Plan(on)
		for _, f := range findings {
			if f.Severity == joint.Error && f.Code != "tool-due" && f.Code != "gauge-due" {
				s.Errors++
			}
		}
	}
	return s, true
}
