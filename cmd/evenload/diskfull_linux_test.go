package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/data/job"
)

// smallDisk mounts one with room for the first line of a card and little more.
func smallDisk(t *testing.T, size string) string {
	t.Helper()
	if os.Getuid() != 0 {
		t.Skip("only root can mount a small disk")
	}
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size="+size); err != nil {
		t.Skipf("no small disk here: %v", err)
	}
	t.Cleanup(func() { syscall.Unmount(dir, syscall.MNT_DETACH) })
	return dir
}

// TestDiskFull: when the disk has no room, what was typed does not count, the
// screen says so, and the card stays whole. With room again it goes on there.
func TestDiskFull(t *testing.T) {
	dir := smallDisk(t, "64k")
	_, made := event{at: inPass(1, 1)}.prepare(t)
	text, err := os.ReadFile(made)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, filepath.Base(made))
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
	w := &walker{open(t, "walk", "--key-rest", "1ms", path), path, "Ann"}
	w.wait("Who works")
	w.on(inPass(1, 1))
	filler, err := os.Create(filepath.Join(dir, "filler"))
	if err != nil {
		t.Fatal(err)
	}
	for err == nil {
		_, err = filler.Write(make([]byte, 512))
	}
	filler.Close()
	// The last block of the card has room for a few lines yet.
	refused := false
	for range 60 {
		w.send("n")
		w.send(strings.Repeat("note ", 14) + "\r")
		time.Sleep(60 * time.Millisecond)
		w.mu.Lock()
		refused = strings.Contains(w.text, "NOT RECORDED, so not done")
		w.mu.Unlock()
		if refused {
			break
		}
	}
	if !refused {
		t.Fatal("a full disk was never told")
	}
	before, err := card.Read(path)
	if err != nil {
		t.Fatalf("the card on a full disk: %v", err)
	}
	w.send("q")
	w.cmd.Wait()
	if out, err := exec.Command(program, "verify", path).CombinedOutput(); before.Torn == nil && err != nil {
		t.Errorf("verify: %v\n%s", err, out)
	}
	os.Remove(filepath.Join(dir, "filler"))
	s, err := card.Resume(path, "", "", time.Now())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if now, err := card.Read(path); err != nil || now.Torn != nil || len(now.Entries) < len(before.Entries) {
		t.Errorf("with room again: %d lines of %d, %v", len(now.Entries), len(before.Entries), err)
	}
}

// TestSecondCopyFull: a second copy that has no room fails alone, and is told.
func TestSecondCopyFull(t *testing.T) {
	dir := smallDisk(t, "4k")
	jobPath, cardPath := event{at: inPass(1, 0)}.prepare(t)
	if _, err := job.Load(jobPath); err != nil {
		t.Fatal(err)
	}
	w := &walker{open(t, "walk", "--key-rest", "1ms", "--copy", dir, cardPath), cardPath, "Ann"}
	w.wait("Who works")
	walk := w.on(inPass(1, 1))
	w.mu.Lock()
	said := strings.Contains(w.text, "SECOND COPY FAILED, the card itself is safe")
	w.mu.Unlock()
	if !said {
		t.Error("a copy that failed was not told")
	}
	if got := walk.MarkOf(walk.Plan().Stations[0][0]); got == 0 {
		t.Error("the bolt does not count though its card has it")
	}
}
