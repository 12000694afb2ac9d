package board

import (
	"context"
	"fmt"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"evenload/joint"
)

// look reads a folder once and says when the first summary came and how much
// memory the program had from the system at the end.
func look(b *testing.B, dir string, c *Cache, want int) (first time.Duration) {
	b.Helper()
	start, n := time.Now(), 0
	all := New(dir)
	err := Scan(context.Background(), dir, c, joint.DateOf(morning), func(s Summary) {
		if n++; n == 20 {
			first = time.Since(start) // a screen full
		}
		if s.Damage != "" {
			b.Fatalf("%s: %s", s.Path, s.Damage)
		}
		all.Add(s)
	})
	if err != nil {
		b.Fatal(err)
	}
	all.Settle()
	if rows := all.Rows(morning); len(rows) != want {
		b.Fatalf("%d rows of %d", len(rows), want)
	}
	return first
}

// BenchmarkLook10000 reads 10,000 cards of 150 lines. In works that go on for
// long most are closed; none and all are the bounds.
func BenchmarkLook10000(b *testing.B) {
	for _, open := range []int{0, 1, 10} {
		b.Run(fmt.Sprintf("open=%d%%", open*10), func(b *testing.B) {
			dir := many(b, 10_000, open)
			var first time.Duration
			for b.Loop() {
				first = look(b, dir, nil, 10_000)
			}
			b.ReportMetric(float64(first.Milliseconds()), "ms-first-20")
		})
	}
}

// BenchmarkAgain10000 reads them again with the cache of the first look, loading
// it from the disk included.
func BenchmarkAgain10000(b *testing.B) {
	dir, file := many(b, 10_000, 1), filepath.Join(b.TempDir(), "cache")
	c := LoadCache(file, "test")
	look(b, dir, c, 10_000)
	if err := c.Save(file, "test"); err != nil {
		b.Fatal(err)
	}
	var first time.Duration
	for b.Loop() {
		start := time.Now()
		c := LoadCache(file, "test")
		loaded := time.Since(start)
		first = loaded + look(b, dir, c, 10_000)
		if c.changed {
			b.Fatal("a card was read again")
		}
	}
	b.ReportMetric(float64(first.Milliseconds()), "ms-first-20")
}

// BenchmarkReadLong reads one card of ever more lines: B/op must not follow them.
func BenchmarkReadLong(b *testing.B) {
	for _, n := range []int{1_000, 5_000, 20_000} {
		b.Run(fmt.Sprintf("lines=%d", n), func(b *testing.B) {
			path := long(b, n)
			var most uint64
			for b.Loop() {
				most = max(most, heldReading(b, path, n))
			}
			b.ReportMetric(float64(most)/(1<<20), "MiB-held")
		})
	}
	runtime.GC()
}
