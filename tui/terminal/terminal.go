// Package terminal says what the terminal can do. It is imported before
// everything else: its init answers for the terminal's background, because
// bubbletea asks at start-up and waits five seconds on a terminal that answers
// no queries, eating the keys typed meanwhile. Go initialises packages in the
// order of their paths, so the module's path has to sort before github.com.
package terminal

import (
	"runtime"
	"strings"

	"github.com/charmbracelet/lipgloss"
)

func init() { lipgloss.SetHasDarkBackground(true) }

// Abilities are what a terminal can do.
type Abilities struct {
	Lines   bool // only lines: no terminal, or a dumb one
	Styles  bool // bold and reverse
	Colours bool
	UTF8    bool
}

// Detect reads the abilities from the environment. isTTY says that input and
// output are a terminal.
func Detect(env func(string) string, isTTY bool) Abilities {
	term := env("TERM")
	if runtime.GOOS == "windows" && term == "" {
		term = "xterm-256color" // a console that understands sequences, as bubbletea asks of it
	}
	var a Abilities
	a.Lines = !isTTY || term == "dumb" || term == ""
	a.Styles = !a.Lines
	plain := strings.HasPrefix(term, "vt") || env("NO_COLOR") != "" || env("CLICOLOR") == "0"
	a.Colours = a.Styles && !plain
	a.UTF8 = runtime.GOOS == "windows" || utf8Locale(env)
	return a
}

// utf8Locale reads the locale as POSIX orders the variables.
func utf8Locale(env func(string) string) bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToLower(env(name)); v != "" {
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return false
}
