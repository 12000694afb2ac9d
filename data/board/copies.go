package board

import (
	"cmp"
	"errors"
	"fmt"
	"iter"
	"slices"
	"strings"

	"evenload/data/card"
)

// head is one way that a card went on: its longest copy, with those that are
// its begin or the same.
type head struct {
	Summary
	copies []Summary
	forks  []Fork
	after  bool // another card follows this one
}

// Fork is another way that the same card went on.
type Fork struct {
	Path string
	Line int // the first that differs, 0 where that could not be read
}

func (f Fork) at() string {
	if f.Line == 0 {
		return ""
	}
	return fmt.Sprintf(" at line %d", f.Line)
}

func (h head) paths() []string {
	var all []string
	for _, s := range h.copies {
		all = append(all, s.Path)
	}
	return all
}

func longestFirst(a, b Summary) int {
	return cmp.Or(cmp.Compare(b.Lines, a.Lines), cmp.Compare(len(a.Damage), len(b.Damage)), strings.Compare(a.Path, b.Path))
}

// unsettled takes the longest copy for the card until the copies are compared.
func unsettled(copies []Summary) []head {
	copies = slices.SortedStableFunc(slices.Values(copies), longestFirst)
	return []head{{Summary: copies[0], copies: copies[1:]}}
}

// Settle compares the copies of every card that has several, once all files
// are added. It reads again those that are not equal.
func (b *Board) Settle() {
	b.heads = map[string][]head{}
	for id, copies := range b.cards {
		if len(copies) > 1 {
			b.heads[id] = settle(b.dir, copies)
		}
	}
}

// settle puts each copy behind the longest one that begins as it does. What is
// the begin of none is a fork.
func settle(dir string, copies []Summary) []head {
	var heads []head
next:
	for _, s := range slices.SortedStableFunc(slices.Values(copies), longestFirst) {
		var forks []Fork
		for i := range heads {
			same, line := begins(dir, heads[i].Summary, s)
			if same {
				heads[i].copies = append(heads[i].copies, s)
				continue next
			}
			forks = append(forks, Fork{heads[i].Path, line})
		}
		for i := range heads {
			heads[i].forks = append(heads[i].forks, Fork{s.Path, forks[i].Line})
		}
		heads = append(heads, head{Summary: s, forks: forks})
	}
	return heads
}

// begins says that a card begins with all lines of a shorter copy; else line is
// the first that differs, 0 where one of them can no longer be read.
func begins(dir string, longer, shorter Summary) (same bool, line int) {
	if longer.Lines == shorter.Lines && longer.Hash == shorter.Hash {
		return true, 0
	}
	a, stopA := iter.Pull(hashes(dir, longer.Path))
	defer stopA()
	b, stopB := iter.Pull(hashes(dir, shorter.Path))
	defer stopB()
	for n := 1; n <= shorter.Lines; n++ {
		one, okA := a()
		other, okB := b()
		if !okA || !okB {
			return false, 0
		}
		if one != other {
			return false, n
		}
	}
	return true, 0
}

// hashes are those of the whole lines of a card, one by one.
func hashes(dir, name string) iter.Seq[string] {
	return func(yield func(string) bool) {
		f, err := openIn(dir, name)
		if err != nil {
			return
		}
		defer f.Close()
		_, _ = card.Stream(name, f, func(e card.Entry) error { // its end shows as too few hashes
			if !yield(e.Hash) {
				return errEnough
			}
			return nil
		})
	}
}

var errEnough = errors.New("enough was read")
