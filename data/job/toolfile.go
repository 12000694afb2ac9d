package job

import (
	"errors"
	"fmt"
	"os"

	"evenload/joint"
	"evenload/sequence"
)

// LoadTool reads a tool file that no job names, for a tool that comes in while
// the work is under way. The error is Faults when the file could be read.
func LoadTool(path string) (joint.Tool, error) {
	text, err := readFile(path)
	if errors.Is(err, os.ErrNotExist) {
		return joint.Tool{}, fmt.Errorf("tool file: there is no %s from the folder where evenload was started: %w", path, os.ErrNotExist)
	}
	if err != nil {
		return joint.Tool{}, fmt.Errorf("tool file: %w", err)
	}
	return parseTool(path, text)
}

// parseTool reads the text of a tool file called path.
func parseTool(path string, text []byte) (joint.Tool, error) {
	var faults Faults
	var inputs []sequence.Input
	t, ok := open(path, text, &faults, &inputs, "tool file")
	if !ok {
		return joint.Tool{}, faults
	}
	if t.has["file"] != nil {
		t.take("file")
		t.fault("file", "a tool file cannot name another file, give the tool itself")
	}
	var r reader // of a job there is none
	tool := r.tool(t)
	if len(faults) > 0 {
		return joint.Tool{}, faults.sorted(path)
	}
	return tool, nil
}
