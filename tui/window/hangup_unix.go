//go:build !windows

package window

import (
	"os"
	"syscall"
)

// hangUps are the signals that end the work from outside: a closed window, a
// machine that shuts down, an interrupt. bubbletea would quit at once, or with a
// raw terminal; so that the card says that the operator left, they come here.
var hangUps = []os.Signal{syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT}
