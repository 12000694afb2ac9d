package main

import (
	"path/filepath"
	"slices"
	"sync"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/data/report"
	"evenload/sequence"
)

// expected gives what estimates the check rounds of a walk, once. It needs the job
// as the card was begun with it, beside the card or in the folder beside: without
// it nothing is estimated.
func expected(s *card.Session, beside string) func() sequence.Expected {
	opened, folders := s.Opened(), []string{beside}
	if path := s.Path(); path != "" {
		folders = append(folders, filepath.Dir(path))
	}
	return sync.OnceValue(func() sequence.Expected {
		for _, dir := range folders {
			j, err := job.Load(filepath.Join(dir, filepath.Base(opened.JobFile)))
			if err == nil && j.SHA256 == opened.JobSHA256 && slices.Equal(j.Inputs, opened.Inputs) {
				return report.Expected(j, opened.Plan)
			}
		}
		return sequence.Expected{}
	})
}
