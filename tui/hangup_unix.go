//go:build !windows

package tui

import (
	"os"
	"syscall"
)

// hangUps are the signals of a closed window: bubbletea leaves SIGHUP alone,
// which would end the program with a raw terminal. SIGTERM is its own.
var hangUps = []os.Signal{syscall.SIGHUP}
