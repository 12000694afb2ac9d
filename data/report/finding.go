// Package report is what leaves the program as text: the plan, the findings,
// the record of a card.
package report

import (
	"errors"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync/atomic"

	"evenload/data/job"
	"evenload/data/visible"
	"evenload/joint"
)

// Finding is a finding with its place in a file.
type Finding struct {
	joint.Finding
	File string `json:"file"`
	Line int    `json:"line"`
	Job  string `json:"job"` // the job file, which a tool's file is not
}

func (f Finding) String() string {
	in := ""
	if f.Job != "" && f.Job != f.File {
		in = " [job " + f.Job + "]"
	}
	return visible.Text(fmt.Sprintf("%s:%d: %s: %s (%s)%s", f.File, f.Line, f.Severity, f.Text, f.Code, in))
}

// Located gives a finding of a job its place.
func Located(j job.Job, f joint.Finding) Finding {
	file, line := j.Locate(f.Key)
	return Finding{Finding: f, File: file, Line: line, Job: j.Path}
}

// ofFaults are the faults of files as findings.
func ofFaults(path string, faults job.Faults) []Finding {
	var all []Finding
	for _, f := range faults {
		all = append(all, Finding{joint.Finding{Severity: joint.Error, Code: "file", Text: f.Text}, f.File, f.Line, path})
	}
	return all
}

// Check gives everything to be said about a job file on a day: the faults of
// the file, else the findings of its plan. The error is one of reading it.
func Check(path string, on joint.Date) ([]Finding, error) {
	j, err := job.Load(path)
	var faults job.Faults
	if errors.As(err, &faults) {
		return ofFaults(path, faults), nil
	}
	if err != nil {
		return nil, err
	}
	_, findings := j.Plan(on)
	var all []Finding
	for _, f := range findings {
		all = append(all, Located(j, f))
	}
	return all, nil
}

// Checked is what Check gave for one of several files.
type Checked struct {
	Findings []Finding
	Err      error
}

// CheckAll checks files on all cores and gives each its result in the order of
// the paths, as soon as it is there.
func CheckAll(paths []string, on joint.Date, each func(Checked)) {
	// A file read is a file forgotten: with some 5 MB alive the collector would
	// run hundreds of times in a run of thousands of files.
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	results := make([]chan Checked, len(paths))
	for i := range results {
		results[i] = make(chan Checked, 1)
	}
	var next atomic.Int64
	for range min(runtime.GOMAXPROCS(0), len(paths)) {
		go func() {
			for i := next.Add(1) - 1; i < int64(len(paths)); i = next.Add(1) - 1 {
				findings, err := Check(paths[i], on)
				results[i] <- Checked{findings, err}
			}
		}()
	}
	for _, r := range results {
		each(<-r)
	}
}
