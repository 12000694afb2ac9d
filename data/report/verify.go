package report

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/data/visible"
	"evenload/sequence"
)

// Verified is what can be said of a card without its key: that it is whole and
// could have been, not that nobody meant to change it.
type Verified struct {
	Path   string `json:"path"`
	State  string `json:"state"` // whole, torn, damaged, "no card", link
	Line   *int   `json:"line"`  // of the damage, null for none
	Why    string `json:"why"`   // it is not whole, empty when it is
	Lines  int    `json:"lines"` // that are whole
	Closed bool   `json:"closed"`
	Seal   string `json:"seal"`
	Back   []int  `json:"clock_went_back"` // lines
	Job    string `json:"job"`             // how its job file has changed since, empty for not or not found
	Before string `json:"follows"`         // the card before it, in words, empty for none

	Fork string `json:"fork"` // another card that begins as this one and goes on otherwise, in words, empty for none

	said  string // the line about it
	first string // hash of the first line, empty when it could not be read
}

// OK says that a card is whole, and no fork of another.
func (v Verified) OK() bool { return v.State == "whole" && v.Fork == "" }

// Text says it in a line, safe to show.
func (v Verified) Text() string {
	text := visible.Text(v.said)
	if v.State == "whole" {
		if v.Fork != "" {
			text += "\n         FORK: " + visible.Text(v.Fork)
		}
		text += "\n         (the chain shows damage and careless edits; without a key it cannot show intent)"
	}
	return text
}

// VerifyJSON is what verify says of cards, for other programs. More fields may
// come, none may change.
type VerifyJSON struct {
	Format int        `json:"format"`
	Cards  []Verified `json:"cards"`
}

// Verify says in a line whether a card is whole and unchanged.
func Verify(path string) (text string, ok bool) {
	v := VerifyCard(path)
	return v.Text(), v.OK()
}

// VerifyCard says whether a card is whole and unchanged, and why not. It reads
// line by line, however long the card is.
func VerifyCard(path string) Verified {
	v := Verified{Path: path, Back: []int{}}
	if strings.EqualFold(filepath.Ext(path), ".toml") {
		v.State, v.Why = "no card", "it is called as a job or tool file: evenload check says whether it is right"
		v.said = "NO CARD  " + path + ": " + v.Why
		return v
	}
	var opened sequence.CardOpened
	var walk sequence.Walk
	var last time.Time
	end, err := card.StreamFile(path, func(e card.Entry) error {
		if len(v.Back) < mostBack && e.N > 1 && e.Event.At.Before(last) {
			v.Back = append(v.Back, e.N)
		}
		last = e.Event.At
		if e.N == 1 {
			v.first = e.Hash
		}
		if o, ok := e.Event.Data.(sequence.CardOpened); ok {
			opened = o
			var err error
			if walk, err = sequence.New(&opened.Plan); err != nil {
				return orderError{e.N, err}
			}
			return nil
		}
		next, err := walk.Apply(e.Event)
		if err != nil {
			return orderError{e.N, fmt.Errorf("event %d of the card, %q: %w", e.N, string(e.Event.Data.Kind()), err)}
		}
		walk = next
		return nil
	})
	v.Lines, v.Seal, v.Closed = end.Lines, end.Seal(), walk.Plan() != nil && walk.IsClosed()
	var damage *card.DamageError
	var order orderError
	switch {
	case errors.As(err, &damage):
		v.State, v.Line, v.Why, v.said = "damaged", &damage.Line, damage.Why, "DAMAGED  "+damage.Error()
	case errors.As(err, &order):
		v.Lines, v.Seal = order.line-1, ""
		v.State, v.Line, v.Why = "damaged", &order.line, "it does not follow its own plan: "+order.Error()
		v.said = fmt.Sprintf("DAMAGED  %s: %s", path, v.Why)
	case err != nil:
		v.State, v.Why, v.said = "no card", err.Error(), "NO CARD  "+err.Error()
	case end.Torn != nil:
		v.State, v.Why = "torn", fmt.Sprintf("the last line is torn, %d bytes; walk cuts it off", end.Torn.Bytes)
		v.said = fmt.Sprintf("TORN     %s: %s", path, v.Why)
	default:
		v.whole(opened)
	}
	return v
}

// VerifyCards looks at each card, and whether two of them are one card that was
// gone on with twice: each alone is whole then, and only one can be what was done.
func VerifyCards(paths []string) []Verified {
	all := make([]Verified, len(paths))
	for i, path := range paths {
		all[i] = VerifyCard(path)
		for j := range i {
			if all[i].first == "" || all[i].first != all[j].first {
				continue
			}
			if line := differ(all[i].Path, all[j].Path); line > 0 {
				all[i].forked(all[j].Path, line)
				all[j].forked(all[i].Path, line)
			}
		}
	}
	return all
}

func (v *Verified) forked(other string, line int) {
	v.Fork = Fork{other, line}.Words()
}

// differ is the first line that two cards have both and that is not the same, 0
// for none: then one is a copy of the other, or of its beginning.
func differ(a, b string) int {
	hashes := func(path string) (all []string) {
		// What is wrong with a card was said of it.
		_, _ = card.StreamFile(path, func(e card.Entry) error {
			all = append(all, e.Hash)
			return nil
		})
		return all
	}
	first, second := hashes(a), hashes(b)
	for i := range min(len(first), len(second)) {
		if first[i] != second[i] {
			return i + 1
		}
	}
	return 0
}

// mostBack is how many lines at which the clock went back are listed.
const mostBack = 100

// orderError means that the chain is whole and the order cannot have been.
type orderError struct {
	line int
	error
}

func (e orderError) Unwrap() error { return e.error }

// whole says what is to be said of a whole card: the card and job beside it.
func (v *Verified) whole(opened sequence.CardOpened) {
	state := "open"
	if v.Closed {
		state = "closed"
	}
	if opened.Practice || card.IsPractice(v.Path) {
		state = "PRACTICE, no joint was tightened, " + state
	}
	v.State = "whole"
	word := "WHOLE    "
	text := fmt.Sprintf("%s: %s, %d lines, seal %s", v.Path, state, v.Lines, v.Seal)
	if f := opened.Follows; f != nil {
		link, same := linked(v.Path, *f)
		v.Before = f.Words() + ", " + link
		text += "; follows " + v.Before
		if !same {
			v.State, v.Why, word = "link", "the card before it is not as it was: "+link, "LINK     "
		}
	}
	if v.Job = jobChanged(v.Path, opened); v.Job != "" {
		text += "; " + v.Job
	}
	if len(v.Back) > 0 {
		text += fmt.Sprintf("; the clock went back at line %d", v.Back[0])
	}
	v.said = word + text
}

// jobChanged says that the job file beside a card is another now, or gives other
// values with its tool files, or none; empty where it is the same or is not there.
func jobChanged(path string, opened sequence.CardOpened) string {
	name := filepath.Join(filepath.Dir(path), filepath.Base(opened.JobFile))
	if _, err := os.Stat(name); opened.JobFile == "" || err != nil {
		return ""
	}
	j, err := job.Load(name)
	switch {
	case j.SHA256 == "":
		return "the job file " + opened.JobFile + " cannot be read, so whether it has changed since is not known"
	case err == nil && j.SHA256 == opened.JobSHA256 && slices.Equal(j.Inputs, opened.Inputs):
		return ""
	case j.SHA256 == opened.JobSHA256:
		return "a tool file or default of the job " + opened.JobFile + " has changed since: the card keeps its own plan"
	}
	return "the job file " + opened.JobFile + " has changed since: the card keeps its own plan"
}

// linked says whether the card that another one follows lies beside it as it was
// when that began. One that lies elsewhere proves nothing.
func linked(path string, f sequence.Follows) (text string, ok bool) {
	name := filepath.Join(filepath.Dir(path), filepath.Base(f.Card))
	if _, err := os.Stat(name); err != nil || !card.IsCard(name) {
		return "which is not beside it", true
	}
	before, err := card.StreamFile(name, func(card.Entry) error { return nil })
	switch {
	case err != nil:
		return "WHICH DOES NOT VERIFY", false
	case before.Seal() != f.Seal:
		return "WHICH HAS SEAL " + before.Seal() + " NOW", false
	}
	return "which is beside it, unchanged", true
}
