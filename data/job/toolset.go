package job

import (
	"fmt"
	"path/filepath"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// LoadTools reads the tools of a job file, or the tool of a tool file, with the
// units to print in: those of the job's thread, or those that go with the
// gauge. The error is Faults when the file could be read.
func LoadTools(path string) ([]joint.Tool, unit.System, error) {
	text, err := readFile(path)
	if err != nil {
		return nil, "", fmt.Errorf("job or tool file: %w", err)
	}
	return ParseTools(path, text, filepath.Dir(path))
}

// ParseTools reads the text of a job or tool file called name. Tool files that
// a job names are looked up beside or below dir.
func ParseTools(name string, text []byte, dir string) ([]joint.Tool, unit.System, error) {
	var faults Faults
	var inputs []sequence.Input
	top, ok := open(name, text, &faults, &inputs, "tool file")
	switch {
	case !ok:
		return nil, "", faults
	case top.has["curve"] == nil || top.has["joint"] != nil:
		j, err := Parse(name, text, dir)
		if err != nil {
			return nil, "", err
		}
		return j.Joint.Tools, j.System, nil
	}
	tool, err := parseTool(name, text)
	if err != nil {
		return nil, "", err
	}
	if tool.Gauge.Unit == unit.InPsi {
		return []joint.Tool{tool}, unit.US, nil
	}
	return []joint.Tool{tool}, unit.SI, nil
}
