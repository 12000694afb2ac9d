package licences

import (
	"bytes"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the licences of all that is linked in now")

// linked are the modules of a build for a system, each with its folder.
func linked(t *testing.T, system string) map[string]string {
	t.Helper()
	// The fonts are embedded, so that no package of theirs is linked.
	fonts, err := exec.Command("go", "list", "-m", "-f", "{{.Path}} {{.Dir}}", "golang.org/x/image").Output()
	if err != nil {
		t.Skipf("where the fonts are from cannot be listed here: %v", err)
	}
	cmd := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Dir}}{{end}}{{end}}", "evenload/cmd/evenload")
	cmd.Env = append(os.Environ(), "GOOS="+system, "CGO_ENABLED=0")
	out, err := cmd.Output()
	if err != nil {
		t.Skipf("what is linked in for %s cannot be listed here: %v", system, err)
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Skip(err)
	}
	all := map[string]string{"go": strings.TrimSpace(string(root))}
	for _, line := range strings.Split(strings.TrimSpace(string(out)+"\n"+string(fonts)), "\n") {
		if path, dir, ok := strings.Cut(line, " "); ok {
			all[path] = dir
		}
	}
	return all
}

// textOf is every licence that lies in the folder of a module.
func textOf(t *testing.T, dir string) string {
	t.Helper()
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, f := range files {
		name := strings.ToUpper(f.Name())
		if f.IsDir() || !strings.Contains(name, "LICEN") && !strings.HasPrefix(name, "COPYING") && !strings.HasPrefix(name, "NOTICE") {
			continue
		}
		text, err := os.ReadFile(filepath.Join(dir, f.Name()))
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, strings.ReplaceAll(string(text), "\r\n", "\n"))
	}
	if len(all) == 0 { // then its page says it
		page, err := os.ReadFile(filepath.Join(dir, "README.md"))
		if err != nil || !strings.Contains(strings.ToUpper(string(page)), "LICENSE") {
			t.Errorf("%s has no licence", dir)
		}
		all = append(all, string(page))
	}
	return strings.Join(all, "\n\n")
}

// TestLicencesOfAllThatIsLinked: for every system, each module has its licence
// as its authors give it, and no other is there. After a change of dependencies:
// go test ./data/licences -update
func TestLicencesOfAllThatIsLinked(t *testing.T) {
	want := map[string]string{}
	for _, system := range []string{"linux", "windows", "darwin"} {
		for path, dir := range linked(t, system) {
			want[strings.ReplaceAll(path, "/", "!")+".txt"] = dir
		}
	}
	if *update {
		os.RemoveAll("texts")
		os.Mkdir("texts", 0o755)
		for name, dir := range want {
			if err := os.WriteFile(filepath.Join("texts", name), []byte(textOf(t, dir)), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		return
	}
	for name, dir := range want {
		got, err := texts.ReadFile("texts/" + name)
		if err != nil {
			t.Errorf("the licence of %s is missing: go test ./data/licences -update", name)
			continue
		}
		if name == "go.txt" {
			continue // of the Go that built it last; another has the same words
		}
		if string(got) != textOf(t, dir) {
			t.Errorf("the licence of %s is another now: go test ./data/licences -update", name)
		}
	}
	files, _ := texts.ReadDir("texts")
	for _, f := range files {
		if _, is := want[f.Name()]; !is {
			t.Errorf("%s is not linked in: go test ./data/licences -update", f.Name())
		}
	}
	var out bytes.Buffer
	if err := Print(&out); err != nil || !strings.Contains(out.String(), "github.com/BurntSushi/toml\n====") {
		t.Errorf("printed %d bytes: %v", out.Len(), err)
	}
}

// TestNoNetwork: nothing that is linked in can open a connection of its own.
func TestNoNetwork(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "evenload/cmd/evenload").Output()
	if err != nil {
		t.Fatal(err)
	}
	packages := strings.Fields(string(out))
	for _, name := range []string{"net/http", "crypto/tls", "net/rpc", "net/smtp"} {
		if slices.Contains(packages, name) {
			t.Errorf("%s is linked in", name)
		}
	}
}
