//go:build unix

package terminal_test

import (
	"io"
	"os"
	"os/exec"
	"testing"
	"time"

	_ "github.com/charmbracelet/bubbletea" // its init would query the terminal
	"github.com/creack/pty"

	_ "evenload/tui/terminal"
)

const child = "EVENLOAD_TEST_CHILD"

func TestMain(m *testing.M) {
	if os.Getenv(child) != "" {
		_, _ = os.Stdout.WriteString("ready")
		return
	}
	os.Exit(m.Run())
}

// TestMuteTerminal starts a program with bubbletea in it on a terminal that
// answers nothing: it must be ready at once and must not have asked.
func TestMuteTerminal(t *testing.T) {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), child+"=1", "TERM=xterm-256color")
	begin := time.Now()
	tty, err := pty.Start(cmd)
	if err != nil {
		t.Fatal(err)
	}
	defer tty.Close()
	out, _ := io.ReadAll(tty) // ends with an error on Linux when the child is gone
	took := time.Since(begin)
	if err := cmd.Wait(); err != nil {
		t.Fatal(err)
	}
	if got := string(out); got != "ready" {
		t.Errorf("the terminal got %q, want only %q", got, "ready")
	}
	if took > 3*time.Second { // the query waits for five
		t.Errorf("ready only after %v", took)
	}
}
