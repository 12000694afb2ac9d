package job

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
)

//go:embed practice/*.toml
var practiceFiles embed.FS

// Practice gives the built-in practice joints, in the order of learning.
func Practice() ([]Job, error) {
	names, err := fs.Glob(practiceFiles, "practice/*.toml")
	if err != nil {
		return nil, err
	}
	var jobs []Job
	for _, name := range names {
		text, err := practiceFiles.ReadFile(name)
		if err != nil {
			return nil, err
		}
		j, err := Parse(path.Base(name), text, ".")
		if err != nil {
			return nil, fmt.Errorf("built-in practice joint: %w", err)
		}
		jobs = append(jobs, j)
	}
	return jobs, nil
}
