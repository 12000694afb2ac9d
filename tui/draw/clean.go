package draw

import "evenload/data/visible"

// Clean makes text that is not ours safe for the terminal.
func Clean(s string) string { return visible.Text(s) }
