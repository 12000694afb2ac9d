package report

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"

	"github.com/BurntSushi/toml"
)

// BenchmarkCheck is check of one job file, all findings of its plan included;
// BenchmarkDecode is what the library alone takes to read the same file.
func BenchmarkCheck(b *testing.B) {
	for b.Loop() {
		if _, err := Check(jobs+"strainer-8in-300.toml", day); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDecode(b *testing.B) {
	for b.Loop() {
		decode(b, jobs+"strainer-8in-300.toml")
	}
}

func decode(b *testing.B, path string) {
	text, err := os.ReadFile(path)
	if err != nil {
		b.Error(err)
	}
	var has map[string]any
	if _, err := toml.Decode(string(text), &has); err != nil {
		b.Error(err)
	}
}

// many are 10,000 job files that differ in tag, target and flange.
func many(b *testing.B) []string {
	dir := b.TempDir()
	text, err := os.ReadFile(jobs + "strainer-8in-300.toml")
	if err != nil {
		b.Fatal(err)
	}
	flanges := []string{"NPS 8 class 300", "NPS 4 class 150", "NPS 6 class 600", "NPS 10 class 150"}
	var paths []string
	for i := range 10_000 {
		one := strings.NewReplacer("DH-112-F03", fmt.Sprintf("DH-%05d", i), `"345 MPa"`, fmt.Sprintf(`"%d MPa"`, 250+i%100),
			"NPS 8 class 300", flanges[i%len(flanges)]).Replace(string(text))
		path := filepath.Join(dir, fmt.Sprintf("%05d.toml", i))
		if err := os.WriteFile(path, []byte(one), 0o644); err != nil {
			b.Fatal(err)
		}
		paths = append(paths, path)
	}
	return paths
}

// BenchmarkCheck10000 is check of 10,000 job files in one run, on all cores;
// BenchmarkDecode10000 decodes the same files with the library alone, on as many.
func BenchmarkCheck10000(b *testing.B) {
	paths := many(b)
	for b.Loop() {
		CheckAll(paths, day, func(c Checked) {
			if c.Err != nil {
				b.Fatal(c.Err)
			}
		})
	}
}

func BenchmarkDecode10000(b *testing.B) {
	paths := many(b)
	for b.Loop() {
		var all sync.WaitGroup
		cores := runtime.GOMAXPROCS(0)
		for core := range cores {
			all.Go(func() {
				for i := core; i < len(paths); i += cores {
					decode(b, paths[i])
				}
			})
		}
		all.Wait()
	}
}
