package terminal

import (
	"go/parser"
	"go/token"
	"os"
	"strings"
	"testing"
)

// TestComesFirst holds what the early init rests on: it imports lipgloss and
// the standard library only, and the module's path sorts before bubbletea's.
func TestComesFirst(t *testing.T) {
	f, err := parser.ParseFile(token.NewFileSet(), "terminal.go", nil, parser.ImportsOnly)
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range f.Imports {
		if path := strings.Trim(i.Path.Value, `"`); strings.Contains(path, ".") && path != "github.com/charmbracelet/lipgloss" {
			t.Errorf("imports %s", path)
		}
	}
	mod, err := os.ReadFile("../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	module := strings.Fields(string(mod))[1]
	if module >= "github.com/" {
		t.Errorf("the module %q sorts after github.com", module)
	}
}

func TestDetect(t *testing.T) {
	for _, c := range []struct {
		env  map[string]string
		tty  bool
		want Abilities
	}{
		{map[string]string{"TERM": "xterm-256color", "LANG": "en_GB.UTF-8"}, true, Abilities{Styles: true, Colours: true, UTF8: true}},
		{map[string]string{"TERM": "xterm", "NO_COLOR": "1"}, true, Abilities{Styles: true}},
		{map[string]string{"TERM": "vt100", "LC_ALL": "C"}, true, Abilities{Styles: true}},
		{map[string]string{"TERM": "dumb"}, true, Abilities{Lines: true}},
		{map[string]string{"TERM": "xterm"}, false, Abilities{Lines: true}},
	} {
		if got := Detect(func(k string) string { return c.env[k] }, c.tty); got != c.want {
			t.Errorf("%v: %+v", c.env, got)
		}
	}
}
