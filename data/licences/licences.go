// Package licences has the licences of all that is linked into the program.
package licences

import (
	"embed"
	"fmt"
	"io"
	"strings"
)

//go:embed texts
var texts embed.FS

// Print writes every module with its licence as its authors give it.
func Print(to io.Writer) error {
	files, err := texts.ReadDir("texts")
	if err != nil {
		return err
	}
	for _, f := range files {
		text, err := texts.ReadFile("texts/" + f.Name())
		if err != nil {
			return err
		}
		name := strings.ReplaceAll(strings.TrimSuffix(f.Name(), ".txt"), "!", "/")
		if _, err := fmt.Fprintf(to, "%s\n%s\n%s\n\n\n", name, strings.Repeat("=", len(name)), strings.TrimSpace(string(text))); err != nil {
			return err
		}
	}
	return nil
}
