package main

import (
	"os"
	"time"

	"github.com/mattn/go-isatty"

	"evenload/tui/draw"
	"evenload/tui/terminal"
)

// walkRest is how long no key may come before a bolt counts.
const walkRest = 1200 * time.Millisecond

// here is what the terminal can do, or that there is none.
func here() terminal.Abilities {
	return terminal.Detect(os.Getenv, isatty.IsTerminal(os.Stdin.Fd()) && isatty.IsTerminal(os.Stdout.Fd()))
}

// themeOf takes the theme that was asked for, or what the terminal can show.
func themeOf(name string, ascii bool, can terminal.Abilities) (draw.Theme, error) {
	if name == "" {
		name = "dark"
		if !can.Colours {
			name = "mono"
		}
	}
	theme, err := draw.NewTheme(name, ascii || !can.UTF8, can.Styles)
	if err != nil {
		return theme, usageError{err}
	}
	return theme, nil
}
