package report

import (
	"os"
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
		text, err := os.ReadFile(jobs + "strainer-8in-300.toml")
		if err != nil {
			b.Fatal(err)
		}
		var has map[string]any
		if _, err := toml.Decode(string(text), &has); err != nil {
			b.Fatal(err)
		}
	}
}
