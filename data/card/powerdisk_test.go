package card

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"syscall"
)

// sector is what a disk writes whole or not at all.
const sector = 512

// powerDisk keeps in memory, beside the real files of a folder, what a disk may
// hold of them if the power fails now.
type powerDisk struct {
	names map[string]*content // that are on the disk
	late  []rename            // since the folder was flushed
	now   map[string]*content // as the program sees them
	steps []string            // what was done so far
	after func()              // each step

	failing   bool
	at        int // 0 the first step
	onward    bool
	hasFailed bool
}

// rename takes one name away and gives another; each may be empty.
type rename struct {
	from, to string
	content  *content
}

func (r rename) on(names map[string]*content) {
	delete(names, r.from)
	if r.to != "" {
		names[r.to] = r.content
	}
}

// content is that of one file.
type content struct {
	safe string   // on the disk
	late []change // since it was flushed
}

// change is a write, or a cut.
type change struct {
	at   int
	text string
	cut  bool
}

func (c change) on(text string) string {
	if c.cut {
		return text[:c.at]
	}
	return text[:c.at] + c.text + text[min(len(text), c.at+len(c.text)):]
}

// torn lists what a write may leave: any of its sectors, and zeros in those that
// are missing where the file is longer already.
func (c change) torn(text string) []string {
	if c.cut || c.text == "" {
		return nil
	}
	whole := c.on(text)
	ends := []int{}
	for at := c.at; at < c.at+len(c.text); {
		at = min(at+sector-at%sector, c.at+len(c.text))
		ends = append(ends, at)
	}
	var all []string
	for arrived := range 1 << len(ends) {
		b, from := []byte(text), c.at
		b = append(b, make([]byte, max(0, len(whole)-len(b)))...)
		for i, end := range ends {
			if arrived>>i&1 == 1 {
				copy(b[from:end], whole[from:end])
			}
			from = end
		}
		for _, size := range append(ends, len(text)) {
			if size >= len(text) {
				all = append(all, string(b[:size]))
			}
		}
	}
	return all
}

// may lists what the file may hold: the changes up to one of them, that one torn.
func (c *content) may() []string {
	text := c.safe
	all := []string{text}
	for _, late := range c.late {
		all = append(all, late.torn(text)...)
		text = late.on(text)
		all = append(all, text)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

func (c *content) seen() string {
	text := c.safe
	for _, late := range c.late {
		text = late.on(text)
	}
	return text
}

// holding is a disk with these files, all flushed.
func holding(files map[string]string) *powerDisk {
	d := &powerDisk{names: map[string]*content{}, after: func() {}}
	for name, text := range files {
		d.names[name] = &content{safe: text}
	}
	d.now = maps.Clone(d.names)
	return d
}

// clone is the disk after the program was killed: what was not flushed is
// neither lost nor safe.
func (d *powerDisk) clone() *powerDisk {
	copies := map[*content]*content{}
	of := func(c *content) *content {
		if c != nil && copies[c] == nil {
			copies[c] = &content{c.safe, slices.Clone(c.late)}
		}
		return copies[c]
	}
	again := holding(nil)
	for name, c := range d.names {
		again.names[name] = of(c)
	}
	for name, c := range d.now {
		again.now[name] = of(c)
	}
	for _, r := range d.late {
		again.late = append(again.late, rename{r.from, r.to, of(r.content)})
	}
	return again
}

// seen are the files as a program sees them.
func (d *powerDisk) seen() map[string]string {
	files := map[string]string{}
	for name, c := range d.now {
		files[name] = c.seen()
	}
	return files
}

// states lists all that the disk may hold after the power failed.
func (d *powerDisk) states() []map[string]string {
	var all []map[string]string
	known := map[string]bool{}
	names := maps.Clone(d.names)
	for i := range len(d.late) + 1 {
		if i > 0 {
			d.late[i-1].on(names)
		}
		some := []map[string]string{{}}
		for name, c := range names {
			var more []map[string]string
			for _, text := range c.may() {
				for _, s := range some {
					s = maps.Clone(s)
					s[name] = text
					more = append(more, s)
				}
			}
			some = more
		}
		for _, s := range some {
			if key := fmt.Sprint(s); !known[key] {
				known[key] = true
				all = append(all, s)
			}
		}
	}
	return all
}

// step counts what is done and says whether it fails.
func (d *powerDisk) step(what, path string) bool {
	n := len(d.steps)
	d.steps = append(d.steps, what+" "+filepath.Base(path))
	fails := d.failing && (n == d.at || d.onward && n > d.at)
	d.hasFailed = d.hasFailed || fails
	return fails
}

// drive writes to the real files, without flushing them, and to this disk.
func (d *powerDisk) drive() disk {
	return disk{
		open: func(path string, flag int) (file, error) {
			name := filepath.Base(path)
			if d.step("open", path) {
				return nil, &os.PathError{Op: "open", Path: path, Err: syscall.ENOSPC}
			}
			f, err := os.OpenFile(path, flag, 0o644)
			if err != nil {
				return nil, err
			}
			if flag&os.O_CREATE != 0 {
				d.rename(rename{to: name, content: &content{}})
			}
			d.after()
			return &powerFile{File: f, content: d.now[name], disk: d}, nil
		},
		rename: func(from, to string) error {
			if d.step("rename", from) {
				return &os.LinkError{Op: "rename", Old: from, New: to, Err: syscall.EIO}
			}
			if err := os.Rename(from, to); err != nil {
				return err
			}
			d.rename(rename{filepath.Base(from), filepath.Base(to), d.now[filepath.Base(from)]})
			d.after()
			return nil
		},
		remove: func(path string) error {
			if d.step("remove", path) {
				return &os.PathError{Op: "remove", Path: path, Err: syscall.EIO}
			}
			if err := os.Remove(path); err != nil {
				return err
			}
			d.rename(rename{from: filepath.Base(path)})
			d.after()
			return nil
		},
		syncDir: func(dir string) error {
			if d.step("flush the folder", "") {
				return syscall.EIO
			}
			d.names, d.late = maps.Clone(d.now), nil
			d.after()
			return nil
		},
	}
}

func (d *powerDisk) rename(r rename) {
	r.on(d.now)
	d.late = append(d.late, r)
}

type powerFile struct {
	*os.File
	*content
	disk *powerDisk
	at   int
}

func (f *powerFile) Seek(to int64, whence int) (int64, error) {
	at, err := f.File.Seek(to, whence)
	f.at = int(at)
	return at, err
}

func (f *powerFile) Write(text []byte) (int, error) {
	var failure error
	if f.disk.step("write", f.Name()) {
		text, failure = text[:len(text)/2], syscall.ENOSPC
	}
	n, err := f.File.Write(text)
	if err != nil {
		return n, err
	}
	f.late = append(f.late, change{at: f.at, text: string(text)})
	f.at += n
	f.disk.after()
	return n, failure
}

func (f *powerFile) Truncate(size int64) error {
	if f.disk.step("cut", f.Name()) {
		return syscall.EIO
	}
	if err := f.File.Truncate(size); err != nil {
		return err
	}
	f.late = append(f.late, change{at: int(size), cut: true})
	f.disk.after()
	return nil
}

func (f *powerFile) Sync() error {
	if f.disk.step("flush", f.Name()) {
		return syscall.EIO
	}
	f.safe, f.late = f.seen(), nil
	f.disk.after()
	return nil
}
