package board

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"sync"
)

// Cache keeps the summaries of cards from one look to the next. It only saves
// time: an entry counts for a file of the same path, size, time and bytes, and
// what is not readable in it is read from the card again.
type Cache struct {
	mu      sync.Mutex
	old     map[string][]byte // entries by path, as they stand in the file
	now     map[string]entry  // of this look
	changed bool
}

// entry is one line of the cache.
type entry struct {
	Path string `json:"path"`
	key
	Hash    string  `json:"hash"` // the last one of the card
	Summary Summary `json:"summary"`
}

// mostCacheBytes is more than the summaries of a hundred thousand cards take.
const mostCacheBytes = 256 << 20

// Program tells versions of the program apart: another one may summarise
// otherwise.
func Program(version string) string {
	name, err := os.Executable()
	if err != nil {
		return version
	}
	info, err := os.Stat(name)
	if err != nil {
		return version
	}
	return fmt.Sprint(version, " ", info.Size(), " ", info.ModTime().UnixNano())
}

// CacheFile is where the cache of a folder lies: in the user's own cache
// folder, never beside the cards.
func CacheFile(dir string) (string, error) {
	base, err := os.UserCacheDir()
	if err != nil {
		return "", err
	}
	if dir, err = filepath.Abs(dir); err != nil {
		return "", err
	}
	sum := sha256.Sum256([]byte(dir))
	return filepath.Join(base, "evenload", "board-"+hex.EncodeToString(sum[:8])), nil
}

// LoadCache reads a cache that program wrote; one that is missing, unreadable
// or another program's is empty.
func LoadCache(file, program string) *Cache {
	if info, err := os.Stat(file); err != nil || !info.Mode().IsRegular() || info.Size() > mostCacheBytes {
		return newCache()
	}
	f, err := os.Open(file)
	if err != nil {
		return newCache()
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, mostCacheBytes+1))
	if err != nil || len(text) > mostCacheBytes {
		return newCache()
	}
	return parseCache(text, program)
}

func newCache() *Cache { return &Cache{old: map[string][]byte{}, now: map[string]entry{}} }

// parseCache splits a cache into its entries. They are decoded when they are
// asked for, on all cores. Each has a sum of its own.
func parseCache(text []byte, program string) *Cache {
	c := newCache()
	first, rest, _ := bytes.Cut(text, []byte{'\n'})
	if string(first) != header(program) {
		return c
	}
	for len(rest) > 0 {
		var line []byte
		line, rest, _ = bytes.Cut(rest, []byte{'\n'})
		if len(line) < 10 || string(line[:8]) != sumOf(line[9:]) {
			continue
		}
		if path, ok := pathOf(line[9:]); ok {
			c.old[path] = line[9:]
		}
	}
	return c
}

func header(program string) string { return "evenload board 3 " + program }

func sumOf(text []byte) string { return fmt.Sprintf("%08x", crc32.Checksum(text, castagnoli())) }

// pathOf reads the path that an entry begins with.
func pathOf(line []byte) (string, bool) {
	line, ok := bytes.CutPrefix(line, []byte(`{"path":`))
	if !ok {
		return "", false
	}
	var path string
	if err := json.NewDecoder(bytes.NewReader(line)).Decode(&path); err != nil {
		return "", false
	}
	return path, true
}

// find gives the summary of a file in the state of k, if it is kept.
func (c *Cache) find(path string, k key) (Summary, bool) {
	if c == nil {
		return Summary{}, false
	}
	c.mu.Lock()
	e, ok := c.now[path]
	text := c.old[path]
	c.mu.Unlock()
	if !ok {
		if text == nil || json.Unmarshal(text, &e) != nil || e.Path != path {
			return Summary{}, false
		}
	}
	if e.key != k || e.Hash != e.Summary.Hash || e.Summary.Path != path {
		return Summary{}, false
	}
	c.mu.Lock()
	c.now[path] = e
	c.mu.Unlock()
	return e.Summary, true
}

// keep takes a summary that was made. One of a file that could not be read is
// not kept: the reason may pass.
func (c *Cache) keep(path string, k key, s Summary) {
	if c == nil || s.Kind == Trouble {
		return
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now[path] = entry{path, k, s.Hash, s}
	c.changed = true
}

// Save writes what this look has seen, best effort: whole or not at all. A
// cache that would say the same stays.
func (c *Cache) Save(file, program string) error {
	c.mu.Lock()
	defer c.mu.Unlock()
	if !c.changed && len(c.now) == len(c.old) {
		return nil
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(file), filepath.Base(file)+".*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // no longer there once it is renamed
	out := bufio.NewWriterSize(f, 1<<20)
	fmt.Fprintln(out, header(program))
	for _, e := range c.now {
		text, err := json.Marshal(e)
		if err != nil {
			continue
		}
		fmt.Fprintf(out, "%s %s\n", sumOf(text), text)
	}
	if err := errors.Join(out.Flush(), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), file)
}
