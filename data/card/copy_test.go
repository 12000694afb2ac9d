package card

import (
	"os"
	"path/filepath"
	"testing"
)

func TestCopy(t *testing.T) {
	all := events(6)
	j, err := Create(t.TempDir(), sample("DH-112-F03"), day, "Vroni Ölhafen")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	copied := filepath.Join(dir, filepath.Base(j.Path()))
	for i, e := range all[:4] {
		if i == 1 { // the copy begins when the card has lines already
			if err := j.copyTo(dir); err != nil {
				t.Fatal(err)
			}
		}
		if err := j.Append(e); err != nil {
			t.Fatal(err)
		}
	}
	wholeCard(t, copied, all[:4])
	j.Close()

	// Without the copy the card goes on; the copy is brought up to it later.
	j, _, err = Open(j.Path())
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	if err := j.Append(all[4]); err != nil {
		t.Fatal(err)
	}
	if err := j.copyTo(dir); err != nil {
		t.Fatal(err)
	}
	wholeCard(t, copied, all[:5])

	// A copy that fails never stops the card.
	j.second.file.Close()
	if err := j.Append(all[5]); err != nil {
		t.Fatal(err)
	}
	if j.CopyError() == nil {
		t.Error("the copy failed and nothing says so")
	}
	wholeCard(t, j.Path(), all)
	wholeCard(t, copied, all[:5])
}

// A file in the place of the copy that is none stays as it is.
func TestCopyOverNothing(t *testing.T) {
	path := write(t, t.TempDir(), 2)
	j, _, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for name, there := range map[string]string{"another file": "another card", "a longer copy": string(text) + "more"} {
		dir := t.TempDir()
		place := filepath.Join(dir, filepath.Base(path))
		if err := os.WriteFile(place, []byte(there), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := j.copyTo(dir); err == nil {
			t.Errorf("%s was written over", name)
		}
		if now, err := os.ReadFile(place); err != nil || string(now) != there {
			t.Errorf("%s: %q became %q", name, there, now)
		}
	}
	outside, dir := filepath.Join(t.TempDir(), "empty.txt"), t.TempDir()
	if err := os.WriteFile(outside, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, filepath.Join(dir, filepath.Base(path))); err == nil { // not on every system
		if err := j.copyTo(dir); err == nil {
			t.Error("the copy left its folder by a link")
		}
		if now, err := os.ReadFile(outside); err != nil || len(now) > 0 {
			t.Errorf("outside stands %q: %v", now, err)
		}
	}
	if err := j.copyTo(filepath.Dir(path)); err == nil {
		t.Error("the card was copied onto itself")
	}
	if err := j.copyTo(filepath.Join(path, "none")); err == nil {
		t.Error("a copy was kept in no folder")
	}
	if err := j.Append(events(3)[2]); err != nil {
		t.Fatal(err)
	}
	wholeCard(t, path, events(3))
}
