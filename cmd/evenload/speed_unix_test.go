//go:build !windows

package main

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
)

// bare builds the floor: a bubbletea program at default settings that does nothing.
var bare = sync.OnceValues(func() (string, error) {
	path := filepath.Join(filepath.Dir(program), "bare")
	return path, exec.Command("go", "build", "-o", path, "./testdata/bare").Run()
})

// timed is a program on a pseudo-terminal, what it writes and when.
type timed struct {
	tty   *os.File
	cmd   *exec.Cmd
	wrote chan string
}

// answers are what a terminal says when it is asked for its background and for
// where its cursor is: without them the bare program waits for five seconds.
var answers = map[string]string{"\x1b]11;?": "\x1b]11;rgb:0000/0000/0000\x1b\\", "\x1b[6n": "\x1b[1;1R"}

func start(b *testing.B, path string, args ...string) *timed {
	b.Helper()
	cmd := exec.Command(path, args...)
	cmd.Env = append(os.Environ(), "TERM=xterm-256color", "LANG=C.UTF-8", "NO_COLOR=", "CI=")
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		b.Skipf("no pseudo-terminal here: %v", err)
	}
	p := &timed{tty, cmd, make(chan string, 1000)}
	go func() {
		buffer := make([]byte, 1<<16)
		for {
			n, err := tty.Read(buffer)
			if err != nil {
				close(p.wrote)
				return
			}
			text := string(buffer[:n])
			for query, answer := range answers {
				if strings.Contains(text, query) {
					io.WriteString(tty, answer)
				}
			}
			p.wrote <- text
		}
	}()
	return p
}

// until reads until a text stands in what is written.
func (p *timed) until(b *testing.B, text string) {
	b.Helper()
	seen := ""
	for {
		select {
		case s, open := <-p.wrote:
			if !open {
				b.Fatalf("%q never came: %q", text, seen)
			}
			if seen += s; strings.Contains(escapes.ReplaceAllString(seen, ""), text) {
				return
			}
		case <-time.After(10 * time.Second):
			b.Fatalf("%q never came: %q", text, seen)
		}
	}
}

// key sends a key when nothing is being written, and says how long the answer took.
func (p *timed) key(b *testing.B, key string) time.Duration {
	b.Helper()
	time.Sleep(20*time.Millisecond + rand.N(17*time.Millisecond)) // not in step with the frames
	for len(p.wrote) > 0 {
		<-p.wrote
	}
	begun := time.Now()
	io.WriteString(p.tty, key)
	select {
	case <-p.wrote:
	case <-time.After(5 * time.Second):
		b.Fatalf("no answer to %q", key)
	}
	return time.Since(begun)
}

// peak is the most memory that was resident, in MiB; 0 where the system does not
// tell. What wait says of it may be that of the process that started it.
func (p *timed) peak() float64 {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", p.cmd.Process.Pid))
	if err != nil {
		return 0
	}
	_, text, _ = bytes.Cut(text, []byte("VmHWM:"))
	var kib float64
	fmt.Sscan(string(text), &kib)
	return kib / 1024
}

func (p *timed) end() *syscall.Rusage {
	p.cmd.Process.Kill()
	p.cmd.Wait()
	p.tty.Close()
	return p.cmd.ProcessState.SysUsage().(*syscall.Rusage)
}

// quantiles gives the half and nine tenths of some times, of what is named.
func quantiles(b *testing.B, of string, all []time.Duration) {
	slices.Sort(all)
	ms := func(share float64) float64 {
		return float64(all[int(share*float64(len(all)-1))].Microseconds()) / 1000
	}
	b.ReportMetric(0, "ns/op") // the pauses between are in it
	b.ReportMetric(ms(0.5), of+"p50-ms")
	b.ReportMetric(ms(0.9), of+"p90-ms")
}

// openBare and openWalk start the floor and the program, up to the first screen.
func openBare(b *testing.B) *timed {
	path, err := bare()
	if err != nil {
		b.Fatal(err)
	}
	p := start(b, path)
	p.until(b, "ready")
	return p
}

func openWalk(b *testing.B, job string) *timed {
	p := start(b, program, "walk", job)
	p.until(b, "Who works")
	return p
}

// both runs a benchmark on the floor and on the program, at its first screen.
func both(b *testing.B, run func(b *testing.B, open func() *timed)) {
	path, _ := copyJob(b, "pump-house-6in-150.toml")
	b.Run("bare", func(b *testing.B) { run(b, func() *timed { return openBare(b) }) })
	b.Run("evenload", func(b *testing.B) { run(b, func() *timed { return openWalk(b, path) }) })
}

// BenchmarkFirstFrame starts both in turns, so that what else the machine does falls on both.
func BenchmarkFirstFrame(b *testing.B) {
	path, _ := copyJob(b, "pump-house-6in-150.toml")
	openBare(b).end() // builds it
	took := func(open func() *timed) time.Duration {
		begun := time.Now()
		p := open()
		defer p.end()
		return time.Since(begun)
	}
	var floor, walk []time.Duration
	for b.Loop() {
		floor = append(floor, took(func() *timed { return openBare(b) }))
		walk = append(walk, took(func() *timed { return openWalk(b, path) }))
	}
	quantiles(b, "bare-", floor)
	quantiles(b, "evenload-", walk)
}

func BenchmarkKeyToFrame(b *testing.B) {
	both(b, func(b *testing.B, open func() *timed) {
		p := open()
		defer p.end()
		var all []time.Duration
		for n := 0; b.Loop(); n++ {
			key := "a"
			if n%2 == 1 {
				key = "\x7f" // a field is never full
			}
			all = append(all, p.key(b, key))
		}
		quantiles(b, "", all)
	})
}

// BenchmarkKeyToFrameWithRecord marks a bolt and takes it back, each time flushed
// to the disk before the frame; beside it the flush of as many bytes alone.
func BenchmarkKeyToFrameWithRecord(b *testing.B) {
	path, plan := copyJob(b, "pump-house-6in-150.toml")
	l := lines(b, path)
	l.until(b, plan)
	l.cmd.Process.Kill()
	l.cmd.Wait()
	p := start(b, program, "walk", "--key-rest", "1ms", path)
	defer p.end()
	p.until(b, "Who works now")
	for _, keys := range []string{"Ann\r", "\r"} {
		time.Sleep(50 * time.Millisecond)
		io.WriteString(p.tty, keys)
	}
	p.until(b, "0 of 8 done")
	time.Sleep(1500 * time.Millisecond)
	file, err := os.Create(filepath.Join(filepath.Dir(path), "floor"))
	if err != nil {
		b.Fatal(err)
	}
	defer file.Close()
	line := []byte(strings.Repeat("x", 299) + "\n")
	var all, flushes []time.Duration
	for n := 0; b.Loop(); n++ {
		all = append(all, p.key(b, []string{" ", "u"}[n%2]))
		begun := time.Now()
		if _, err := file.Write(line); err != nil {
			b.Fatal(err)
		}
		if err := file.Sync(); err != nil {
			b.Fatal(err)
		}
		flushes = append(flushes, time.Since(begun))
	}
	quantiles(b, "", all)
	slices.Sort(flushes)
	b.ReportMetric(float64(flushes[len(flushes)/2].Microseconds())/1000, "flush-p50-ms")
}

// BenchmarkIdle leaves the program alone for a while: memory at its most, and how
// often a second it woke.
func BenchmarkIdle(b *testing.B) {
	both(b, func(b *testing.B, open func() *timed) {
		most := 0.0
		woken := func(pause time.Duration) int64 {
			p := open()
			time.Sleep(pause)
			most = max(most, p.peak())
			return p.end().Nvcsw
		}
		var wakes int64
		n := 0
		for b.Loop() {
			wakes += woken(3*time.Second) - woken(time.Second)
			n++
		}
		b.ReportMetric(0, "ns/op")
		b.ReportMetric(float64(wakes)/float64(2*n), "wakes/s")
		b.ReportMetric(most, "peak-MiB")
	})
}

// BenchmarkPlanProcess is one plan from the start of the process to its end; the
// floor is the program saying its version.
func BenchmarkPlanProcess(b *testing.B) {
	for name, args := range map[string][]string{"version": {"--version"}, "plan": {"plan", "../../testdata/jobs/pump-house-6in-150.toml"}, "plan with estimate": {"plan", "../../testdata/jobs/strainer-8in-300.toml"}, "check": {"check", "../../testdata/jobs/pump-house-6in-150.toml"}} {
		b.Run(name, func(b *testing.B) {
			var all []time.Duration
			for b.Loop() {
				begun := time.Now()
				if out, err := exec.Command(program, args...).CombinedOutput(); err != nil {
					b.Fatalf("%v: %s", err, out)
				}
				all = append(all, time.Since(begun))
			}
			quantiles(b, "", all)
		})
	}
}
