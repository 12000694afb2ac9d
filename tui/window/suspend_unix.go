//go:build !windows

package window

import (
	"os"

	"golang.org/x/sys/unix"
)

// CanSuspend says that a shell stands behind the program to bring it back: its
// process group is a job of a session, not the one that the session began with. A
// window that runs the program alone would stay dead.
func CanSuspend() bool {
	session, err := unix.Getsid(os.Getpid())
	return err == nil && session != unix.Getpgrp()
}
