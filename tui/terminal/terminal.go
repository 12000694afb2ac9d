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
	Lines   bool // only lines: no terminal, or one that cannot place its cursor
	Styles  bool // bold and reverse
	Colours bool // the sixteen colours; false where the person asks for none
	UTF8    bool // characters beyond ASCII
}

// Detect reads the abilities from the environment. isTTY says that input and
// output are a terminal. NO_COLOR (no-color.org) and CLICOLOR=0 ask for no
// colour; they leave bold and reverse alone.
func Detect(env func(string) string, isTTY bool) Abilities {
	return detect(env, isTTY, runtime.GOOS == "windows")
}

func detect(env func(string) string, isTTY, windows bool) Abilities {
	term := strings.ToLower(env("TERM"))
	if windows && term == "" {
		term = "xterm-256color" // a console that understands sequences, as bubbletea asks of it
	}
	able := isTTY && term != "" && term != "dumb" && term != "unknown"
	return Abilities{
		Lines:   !able,
		Styles:  able,
		Colours: able && !colourless(term) && env("NO_COLOR") == "" && env("CLICOLOR") != "0",
		UTF8:    windows || utf8Locale(env),
	}
}

// colourless knows terminals of one colour by name: the video terminals of the
// vt family, and the endings -m and -mono that terminfo keeps for them (term(7)).
func colourless(term string) bool {
	return strings.HasPrefix(term, "vt") || strings.HasSuffix(term, "-m") || strings.HasSuffix(term, "-mono")
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
