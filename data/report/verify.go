package report

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/data/visible"
	"evenload/sequence"
)

// Verify says in a line whether a card is whole and unchanged.
func Verify(path string) (text string, ok bool) {
	text, ok = verify(path)
	text = visible.Text(text)
	if ok {
		text += "\n         (the chain shows damage and careless edits; without a key it cannot show intent)"
	}
	return text, ok
}

// jobChanged says that the job file beside a card is another now, or gives other
// values with its tool files; empty where it is the same or is not there.
func jobChanged(path string, opened sequence.CardOpened) string {
	name := filepath.Join(filepath.Dir(path), filepath.Base(opened.JobFile))
	if _, err := os.Stat(name); opened.JobFile == "" || err != nil {
		return ""
	}
	j, err := job.Load(name)
	switch {
	case err == nil && j.SHA256 == opened.JobSHA256 && slices.Equal(j.Inputs, opened.Inputs):
		return ""
	case err == nil && j.SHA256 == opened.JobSHA256:
		return "; a tool file or default of the job " + opened.JobFile + " has changed since: the card keeps its own plan"
	}
	return "; the job file " + opened.JobFile + " has changed since: the card keeps its own plan"
}

func verify(path string) (text string, ok bool) {
	c, err := card.Read(path)
	var damage *card.DamageError
	switch {
	case errors.As(err, &damage):
		return "DAMAGED  " + damage.Error(), false
	case err != nil:
		return "NO CARD  " + err.Error(), false
	}
	opened := c.Opened()
	walk, err := sequence.Replay(&opened.Plan, c.Events()[1:])
	if err != nil {
		return fmt.Sprintf("DAMAGED  %s: it does not follow its own plan: %v", path, err), false
	}
	if c.Torn != nil {
		return fmt.Sprintf("TORN     %s: the last line is torn, %d bytes; walk cuts it off", path, c.Torn.Bytes), false
	}
	state := "open"
	if walk.IsClosed() {
		state = "closed"
	}
	if opened.Practice || card.IsPractice(path) {
		state = "PRACTICE, no joint was tightened, " + state
	}
	text = fmt.Sprintf("WHOLE    %s: %s, %d lines, seal %s", path, state, len(c.Entries), c.Seal())
	if f := opened.Follows; f != nil {
		text += fmt.Sprintf("; follows card %s, seal %s", f.Card, f.Seal)
	}
	text += jobChanged(path, opened)
	if back := c.ClockWentBack(); len(back) > 0 {
		text += fmt.Sprintf("; the clock went back at line %d", back[0])
	}
	return text, true
}
