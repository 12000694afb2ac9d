package card

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"evenload/sequence"
)

// badDisk is a disk that fails at one call, or at that and all later ones.
type badDisk struct {
	at     int // 0 the first call
	onward bool
	short  bool // a write takes half and says nothing
	calls  int
	failed bool
	t      *testing.T
}

func (d *badDisk) fails() bool {
	n := d.calls
	d.calls++
	f := n == d.at || d.onward && n > d.at
	d.failed = d.failed || f
	return f
}

// use makes all files that are written lie on the disk until the test ends.
func (d *badDisk) use() {
	real := drive
	d.t.Cleanup(func() { drive = real })
	drive.open = func(path string, flag int) (file, error) {
		if d.fails() {
			return nil, &os.PathError{Op: "open", Path: path, Err: syscall.ENOSPC}
		}
		f, err := os.OpenFile(path, flag, 0o644)
		return &diskFile{File: f, disk: d}, err
	}
	drive.rename = func(from, to string) error {
		if d.fails() {
			return &os.LinkError{Op: "rename", Old: from, New: to, Err: syscall.ENOSPC}
		}
		return os.Rename(from, to)
	}
	drive.syncDir = func(dir string) error {
		if d.fails() {
			return syscall.EIO
		}
		return syncDir(dir)
	}
}

type diskFile struct {
	*os.File
	disk    *badDisk
	unsaved bool // a flush failed
}

func (f *diskFile) Write(text []byte) (int, error) {
	if !f.disk.fails() {
		return f.File.Write(text)
	}
	n, err := f.File.Write(text[:len(text)/2])
	if err == nil && !f.disk.short {
		err = syscall.ENOSPC
	}
	return n, err
}

func (f *diskFile) Sync() error {
	if f.unsaved {
		f.disk.t.Error("flushed again after a flush failed")
	}
	if f.disk.fails() {
		f.unsaved = true
		return syscall.EIO
	}
	return f.File.Sync()
}

func (f *diskFile) Truncate(size int64) error {
	if f.disk.fails() {
		return syscall.EIO
	}
	return f.File.Truncate(size)
}

// everyFault runs a test with a disk that fails at its first call, its second
// and so on, in each way, until the test makes no more calls.
func everyFault(t *testing.T, run func(t *testing.T, d *badDisk)) {
	for _, short := range []bool{false, true} {
		for _, onward := range []bool{false, true} {
			for at := 0; ; at++ {
				d := &badDisk{at: at, onward: onward, short: short}
				t.Run(fmt.Sprintf("at %d, onward %t, short %t", at, onward, short), func(t *testing.T) {
					d.t = t
					run(t, d)
				})
				if !d.failed {
					if at < 3 {
						t.Fatalf("only %d calls were made to fail", at)
					}
					break
				}
			}
		}
	}
}

// onceMore opens a card on a sound disk: it holds the events that were written,
// at most one more that was being written, and can be gone on with.
func onceMore(t *testing.T, path string, written int, all []sequence.Event) {
	t.Helper()
	j, c, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	n := len(c.Entries) - 1
	if n != written && n != written+1 {
		t.Fatalf("the card holds %d events, %d were written", n, written)
	}
	same(t, c, all[:n])
	if err := j.Append(all[n]); err != nil {
		t.Fatal(err)
	}
	wholeCard(t, path, all[:n+1])
}

func TestDiskFailsWhileWriting(t *testing.T) {
	all := events(5)
	everyFault(t, func(t *testing.T, d *badDisk) {
		dir := t.TempDir()
		sound := drive
		d.use()
		j, err := Create(dir, sample("DH-112-F03"), day, "Vroni Ölhafen")
		if err != nil {
			left, findErr := filepath.Glob(filepath.Join(dir, "*.card.jsonl*"))
			left = slices.DeleteFunc(left, func(name string) bool { return strings.HasSuffix(name, ".lock") })
			if findErr != nil || len(left) > 0 {
				t.Errorf("left behind: %v", left)
			}
			return
		}
		written := 0
		for _, e := range all[:3] {
			first := j.Append(e)
			if first == nil {
				written++
				continue
			}
			if calls := d.calls; !errors.Is(j.Append(e), ErrBroken) || d.calls != calls {
				t.Error("a broken card was written again")
			}
			if again := j.Append(e); !errors.Is(again, errors.Unwrap(first)) {
				t.Errorf("error %v does not name the cause %v", again, first)
			}
			break
		}
		if d.failed == (written == 3) {
			t.Fatalf("%d events written, failed is %t", written, d.failed)
		}
		seal := j.Seal()
		j.Close()
		drive = sound
		c, err := Read(j.Path())
		if err != nil {
			t.Fatal(err)
		}
		if !d.onward && len(c.Entries) != written+1 {
			t.Errorf("%d lines, want %d: one that was not recorded came back", len(c.Entries), written+1)
		}
		if c.Entries = c.Entries[:written+1]; c.Seal() != seal {
			t.Errorf("seal %s after the failure, want that of the last line written, %s", seal, c.Seal())
		}
		onceMore(t, j.Path(), written, all)
	})
}

func TestDiskFailsWhileCutting(t *testing.T) {
	all := events(5)
	text, err := os.ReadFile(write(t, t.TempDir(), 3))
	if err != nil {
		t.Fatal(err)
	}
	everyFault(t, func(t *testing.T, d *badDisk) {
		path := place(t, text[:len(text)-9])
		sound := drive
		d.use()
		j, _, err := Open(path)
		drive = sound
		if failed := err != nil; failed != d.failed {
			t.Fatalf("error %v, failed is %t", err, d.failed)
		}
		if err == nil {
			j.Close()
		}
		onceMore(t, path, 2, all)
	})
}
