package terminal

import (
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

func TestDetect(t *testing.T) {
	full := Abilities{Styles: true, Colours: true, UTF8: true}
	grey := Abilities{Styles: true, UTF8: true}
	lines := Abilities{Lines: true, UTF8: true}
	ascii := Abilities{Styles: true, Colours: true}
	for name, c := range map[string]struct {
		env     string
		noTTY   bool
		windows bool
		want    Abilities
	}{
		"usual":              {env: "TERM=xterm-256color LANG=en_GB.UTF-8", want: full},
		"old console":        {env: "TERM=linux LANG=C", want: ascii},
		"multiplexer":        {env: "TERM=screen LANG=C.utf8", want: full},
		"no colour":          {env: "TERM=xterm NO_COLOR=1 LANG=C.UTF-8", want: grey},
		"empty NO_COLOR":     {env: "TERM=xterm NO_COLOR= LANG=C.UTF-8", want: full}, // no-color.org: "not an empty string"
		"CLICOLOR 0":         {env: "TERM=xterm CLICOLOR=0 LANG=C.UTF-8", want: grey},
		"CLICOLOR 1":         {env: "TERM=xterm CLICOLOR=1 LANG=C.UTF-8", want: full},
		"vt100":              {env: "TERM=vt100 LANG=C.UTF-8", want: grey},
		"monochrome":         {env: "TERM=linux-m LANG=C.UTF-8", want: grey},
		"in capitals":        {env: "TERM=VT220 LANG=C.UTF-8", want: grey},
		"dumb":               {env: "TERM=dumb LANG=C.UTF-8", want: lines},
		"unknown":            {env: "TERM=unknown LANG=C.UTF-8", want: lines},
		"no TERM":            {env: "LANG=C.UTF-8", want: lines},
		"a pipe":             {env: "TERM=xterm LANG=C.UTF-8", noTTY: true, want: lines},
		"LC_ALL first":       {env: "TERM=xterm LC_ALL=C LC_CTYPE=C.UTF-8 LANG=C.UTF-8", want: ascii},
		"LC_CTYPE next":      {env: "TERM=xterm LC_CTYPE=de_DE.UTF-8 LANG=C", want: full},
		"Latin 1":            {env: "TERM=xterm LANG=de_DE.ISO-8859-1", want: ascii},
		"no locale":          {env: "TERM=xterm", want: ascii},
		"windows":            {windows: true, want: full},
		"windows, dumb":      {env: "TERM=dumb", windows: true, want: lines},
		"windows, no colour": {env: "NO_COLOR=1", windows: true, want: grey},
	} {
		vars := map[string]string{}
		for _, pair := range strings.Fields(c.env) {
			k, v, _ := strings.Cut(pair, "=")
			vars[k] = v
		}
		if got := detect(func(k string) string { return vars[k] }, !c.noTTY, c.windows); got != c.want {
			t.Errorf("%s: %+v, want %+v", name, got, c.want)
		}
	}
}

// TestComesFirst holds what the early init rests on. Go initialises packages
// in the order of their paths as soon as what they import is ready (language
// specification, "Program initialization"), so this one may import nothing
// that bubbletea does not wait for, and its path has to sort before.
func TestComesFirst(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range f.Imports {
			path, _ := strconv.Unquote(i.Path.Value)
			host, _, _ := strings.Cut(path, "/")
			if (strings.Contains(host, ".") || host == "evenload") && path != "github.com/charmbracelet/lipgloss" {
				t.Errorf("%s imports %q: only lipgloss and the standard library may be", name, path)
			}
			seen++
		}
	}
	if seen == 0 {
		t.Error("no import was read")
	}
	mod, err := os.ReadFile("../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	if module := strings.Fields(string(mod))[1]; module+"/tui/terminal" >= "github.com/" {
		t.Errorf("the module %q sorts after github.com", module)
	}
}
