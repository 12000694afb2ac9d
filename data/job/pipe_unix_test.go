//go:build unix

package job

import (
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// TestPipeIsNotWaitedFor loads a pipe that nobody writes to.
func TestPipeIsNotWaitedFor(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe.toml")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip(err)
	}
	if _, err := Load(pipe); err == nil || !strings.Contains(err.Error(), "is no regular file") {
		t.Errorf("got %v", err)
	}
	if IsJob(pipe) {
		t.Error("a pipe is taken for a job")
	}
}
