package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"
)

// Bounds of one run on a file that a stranger made. The time is long, since a
// machine may be busy: what waits or goes round for ever passes it all the same.
const (
	longestRun = time.Minute
	mostMemory = 400 << 20 // bytes resident; a card of the largest size is 64 MiB
)

// sweep runs the program on files that a stranger made.
type sweep struct {
	home    string // for the board's cache
	mu      sync.Mutex
	runs    int
	longest time.Duration
	largest int64
	slow    []string
	large   []string
}

// newSweep tells in the end how many runs there were, and of the slowest.
func newSweep(t *testing.T) *sweep {
	s := &sweep{home: t.TempDir()}
	t.Cleanup(func() {
		t.Logf("%d runs; longest %v (%q); most memory %d MiB (%q)", s.runs, s.longest.Round(time.Millisecond), s.slow, s.largest>>20, s.large)
	})
	return s
}

// run runs the program in a folder: it ends by itself in bounded time and
// memory with an exit code of ours, and says nothing that moves a terminal.
func (s *sweep) run(t *testing.T, dir, stdin string, args ...string) (code int, said string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), longestRun)
	defer cancel()
	cmd := exec.CommandContext(ctx, program, args...)
	cmd.Dir, cmd.Stdin = dir, strings.NewReader(stdin)
	cmd.Env = append(os.Environ(), "HOME="+s.home, "XDG_CACHE_HOME="+s.home, "TERM=xterm")
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	begun := time.Now()
	err := cmd.Run()
	took := time.Since(begun)
	memory := cmd.ProcessState.SysUsage().(*syscall.Rusage).Maxrss << 10
	if took >= longestRun || memory > mostMemory {
		t.Errorf("%q: %v, %d MiB", args, took, memory>>20)
	}
	code = cmd.ProcessState.ExitCode()
	if code < exitDone || code > exitDisk || code > 0 && out.Len()+errs.Len() == 0 {
		t.Errorf("%q: exit code %d: %v\n%.2000s", args, code, err, errs.String())
	}
	csv := slices.Contains(args, "--csv")
	for _, text := range []string{out.String(), errs.String()} {
		if r := moves(text, csv); r >= 0 {
			t.Errorf("%q: U+%04X is said: %.600q", args, r, text)
		}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.runs++
	if took > s.longest {
		s.longest, s.slow = took, args
	}
	if memory > s.largest {
		s.largest, s.large = memory, args
	}
	return code, out.String() + errs.String()
}

// moves finds a character that could move a terminal or hide, -1 for none. It
// goes by the classes of Unicode. A spreadsheet's file begins with a mark and
// has returns before its line feeds.
func moves(text string, csv bool) rune {
	if csv {
		text = strings.ReplaceAll(strings.TrimPrefix(text, "\ufeff"), "\r\n", "\n")
	}
	for i, r := range text {
		if r == utf8.RuneError && !strings.HasPrefix(text[i:], "\ufffd") ||
			r != '\n' && (unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Co)) {
			return r
		}
	}
	return -1
}

// jobRuns is every command that reads a job, tool or trial file.
func (s *sweep) jobRuns(t *testing.T, dir, path string) {
	t.Helper()
	out := t.TempDir()
	register := filepath.Join(out, "r.csv")
	put(t, register, "tag;where\nX-1;here\n")
	for _, args := range [][]string{
		{"check", path}, {"check", "--json", path}, {"plan", path}, {"plan", "--json", path}, {"walk", "--plain", "--cards", out, path}, {"chart", path},
		{"chart", path, "-o", filepath.Join(out, "c.pdf")}, {"sheet", path, "-o", filepath.Join(out, "s.pdf")}, {"compare", path}, {"compare", "--json", path}, {"trial", path},
		{"draft", "--plain", "--template", path}, {"draft", "--from", register, "--template", path, "--into", out}, {"draft", "--plain", path},
	} {
		s.run(t, dir, "", args...)
	}
}

// cardRuns is every command that reads a card.
func (s *sweep) cardRuns(t *testing.T, dir, path string) {
	t.Helper()
	out := t.TempDir()
	s.run(t, dir, "", "verify", path)
	s.run(t, dir, "", "verify", "--json", path)
	s.run(t, dir, "", "record", path)
	for _, name := range []string{"r.pdf", "r.csv", "r.json", "r.txt"} {
		to := filepath.Join(out, name)
		s.run(t, dir, "", "record", path, "-o", to)
		if text, err := os.ReadFile(to); err == nil && name != "r.pdf" {
			if r := moves(string(text), name == "r.csv"); r >= 0 {
				t.Errorf("U+%04X is in %s of %q: %.600q", r, name, path, text)
			}
		}
	}
	s.run(t, dir, "Ann\n\nyes\nF11\n\x1b[A\nq\n", "walk", "--plain", path)
}

// folderRuns is every command that looks through a folder.
func (s *sweep) folderRuns(t *testing.T, dir string) {
	t.Helper()
	for _, args := range [][]string{
		{"board", "--plain", dir}, {"board", "--csv", dir}, {"board", "--json", dir}, {"board", "--plain", "--tool", "W-01", dir}, {"board", "--json", "--tool", "W-01", dir},
		{"board", "--csv", "--tool", "W-01", "--fresh", dir},
	} {
		s.run(t, dir, "", args...)
	}
	s.run(t, dir, "") // the list
	s.run(t, dir, "", "draft", "--plain")
}

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestFilesThatAreNone: what is no regular file of a sane size is refused by
// every command, under each of the names that it may have.
func TestFilesThatAreNone(t *testing.T) {
	s := newSweep(t)
	large := func(text string) func(path string) error {
		text = strings.Repeat(text, 1<<20/len(text))
		return func(path string) error {
			if first := filepath.Join(filepath.Dir(path), "a.toml"); path != first {
				return os.Link(first, path)
			}
			f, err := os.Create(path)
			for i := 0; i < 100 && err == nil; i++ {
				_, err = f.WriteString(text)
			}
			return errors.Join(err, f.Close())
		}
	}
	made := map[string]func(path string) error{
		"pipe":   func(path string) error { return syscall.Mkfifo(path, 0o600) },
		"zero":   func(path string) error { return os.Symlink("/dev/zero", path) },
		"full":   func(path string) error { return os.Symlink("/dev/full", path) },
		"loop":   func(path string) error { return os.Symlink(path, path) },
		"none":   func(path string) error { return os.Symlink("/none/of/these", path) },
		"folder": func(path string) error { return os.Mkdir(path, 0o755) },
		"socket": func(path string) error { return syscall.Mknod(path, syscall.S_IFSOCK|0o600, 0) },
		"empty":  func(path string) error { return os.WriteFile(path, nil, 0o644) },
		"lines":  large("a = 1 ,;\n"),
		"line":   large("a,"),
		"sparse": func(path string) error {
			return errors.Join(os.WriteFile(path, nil, 0o644), os.Truncate(path, 100<<20))
		},
	}
	t.Run("each", func(t *testing.T) {
		for name, make := range made {
			t.Run(name, func(t *testing.T) {
				t.Parallel()
				dir := t.TempDir()
				names := [...]string{filepath.Join(dir, "a.toml"), filepath.Join(dir, "A.20361002-aaaaaa.card.jsonl"), filepath.Join(dir, "a.csv")}
				for _, path := range names {
					if err := make(path); err != nil {
						t.Skip(err)
					}
				}
				s.jobRuns(t, dir, names[0])
				s.cardRuns(t, dir, names[1])
				if code, _ := s.run(t, dir, "", "draft", "--from", names[2]); code == exitDone {
					t.Error("a register was read out of it")
				}
				s.folderRuns(t, dir)
				if left, err := os.ReadDir(dir); err != nil || len(left) > 4 { // and the card's lock
					t.Errorf("left behind: %v", left)
				}
			})
		}
	})
}

// TestCacheThatIsNone: the board's own cache may be anything.
func TestCacheThatIsNone(t *testing.T) {
	s := newSweep(t)
	dir := t.TempDir()
	put(t, filepath.Join(dir, "a.toml"), eventJob)
	put(t, filepath.Join(dir, "A.card.jsonl"), "{}\n")
	s.run(t, dir, "", "board", "--plain", dir)
	files, err := filepath.Glob(filepath.Join(s.home, "evenload", "board-*"))
	if err != nil || len(files) != 1 {
		t.Fatalf("caches: %v, %v", files, err)
	}
	for name, make := range map[string]func(path string) error{
		"pipe": func(path string) error { return syscall.Mkfifo(path, 0o600) },
		"zero": func(path string) error { return os.Symlink("/dev/zero", path) },
	} {
		if err := os.RemoveAll(files[0]); err != nil {
			t.Fatal(err)
		}
		if err := make(files[0]); err != nil {
			t.Skip(err)
		}
		if code, said := s.run(t, dir, "", "board", "--plain", dir); code != exitDone || !strings.Contains(said, "DH-77-F4") {
			t.Errorf("%s: exit code %d\n%s", name, code, said)
		}
	}
}
