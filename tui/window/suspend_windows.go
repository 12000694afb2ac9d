package window

// CanSuspend is false: a console has no jobs.
func CanSuspend() bool { return false }
