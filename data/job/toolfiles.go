package job

import (
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"evenload/joint"
)

// Bounds of the look for tool files: a folder may be a whole disk.
const (
	mostToolFiles = 200
	mostSeen      = 5000
	toolDepth     = 2 // folders below the job's
)

// ToolFile is a file that a job in a folder can name as its tool.
type ToolFile struct {
	File string // as a job names it: relative, with slashes
	Tool joint.Tool
}

// ToolFiles finds the tool files beside a job of a folder and up to two folders
// below, by name. Files with faults are left out, and so is what cannot be read.
func ToolFiles(dir string) []ToolFile {
	var found []ToolFile
	seen := 0
	_ = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return nil // a folder that cannot be read holds no tool of this job
		}
		seen++
		rel, err := filepath.Rel(dir, path)
		if err != nil || seen > mostSeen || len(found) >= mostToolFiles {
			return filepath.SkipAll
		}
		name := filepath.ToSlash(rel)
		if d.IsDir() {
			if name != "." && (strings.HasPrefix(d.Name(), ".") || strings.Count(name, "/") >= toolDepth) {
				return filepath.SkipDir
			}
			return nil
		}
		if !d.Type().IsRegular() || !strings.HasSuffix(d.Name(), ".toml") {
			return nil
		}
		if tool, ok := readTool(path); ok {
			found = append(found, ToolFile{name, tool})
		}
		return nil
	})
	slices.SortStableFunc(found, func(a, b ToolFile) int { return strings.Compare(a.File, b.File) })
	return found
}

// readTool reads a tool file without faults.
func readTool(path string) (joint.Tool, bool) {
	text, err := readFile(path)
	if err != nil || !strings.Contains(string(text), "curve") { // a quick look: most are jobs
		return joint.Tool{}, false
	}
	tool, err := parseTool(path, text)
	return tool, err == nil
}
