package report

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A job that was changed beside its card is told, and is no damage of the card.
func TestVerifyTellsChangedJob(t *testing.T) {
	o := opened(t)
	j := load(t, "../../testdata/walk/drain-4.toml")
	o.JobSHA256 = j.SHA256
	c := begin(t, o)
	c.toBolt(1, 3)
	path := c.close()
	beside := filepath.Join(filepath.Dir(path), "drain-4.toml")
	text := read(t, "../../testdata/walk/drain-4.toml")
	for _, one := range []struct{ text, want string }{{"", ""}, {text, ""}, {text + "# later\n", "the job file drain-4.toml has changed since"}, {"nonsense", "the job file drain-4.toml has changed since"}} {
		if one.text != "" {
			if err := os.WriteFile(beside, []byte(one.text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		said, ok := Verify(path)
		if !ok || strings.Contains(said, "changed") != (one.want != "") || !strings.Contains(said, one.want) {
			t.Errorf("with %.20q beside the card: %q", one.text, said)
		}
	}
}

// TestVerifyTellsWhatHasChanged: the bytes of the job are the same and its tool file
// is gone, or the job cannot be read: neither is a job file that was changed.
func TestVerifyTellsWhatHasChanged(t *testing.T) {
	o := opened(t)
	job := read(t, "../../testdata/walk/drain-4.toml") + "[[tools]]\nfile = \"w-09.toml\"\n"
	o.JobSHA256 = fmt.Sprintf("%x", sha256.Sum256([]byte(job)))
	c := begin(t, o)
	c.toBolt(1, 1)
	path := c.close()
	beside := filepath.Join(filepath.Dir(path), "drain-4.toml")
	place(t, beside, job)
	if said, ok := Verify(path); !ok || !strings.Contains(said, "a tool file or default of the job drain-4.toml has changed since") {
		t.Errorf("without its tool file: %q", said)
	}
	if err := errors.Join(os.Remove(beside), os.Mkdir(beside, 0o755)); err != nil {
		t.Fatal(err)
	}
	if said, ok := Verify(path); !ok || !strings.Contains(said, "the job file drain-4.toml cannot be read") {
		t.Errorf("with a folder in its place: %q", said)
	}
}
