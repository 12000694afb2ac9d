package board

import (
	"cmp"
	"slices"
	"strings"

	"evenload/sequence"
)

// Order is what rows are sorted by.
type Order int

// The orders.
const (
	ByWaits Order = iota // the most urgent first
	ByJoint
	ByStage
	ByLast // the latest event first
	ByWho
	Orders // how many there are
)

func (o Order) String() string { return [...]string{"waits", "joint", "stage", "last event", "who"}[o] }

var stageRank = map[sequence.Stage]int{"": 0, sequence.StageGate: 1, sequence.StageMaterials: 2, sequence.StageSnug: 3, sequence.StageGaps: 4,
	sequence.StagePass: 5, sequence.StageCheck: 6, sequence.StageRest: 7, sequence.StageStretch: 8,
	sequence.StageFinalGaps: 9, sequence.StageEnd: 10, sequence.StageClosed: 11}

// progress sorts the stages as the work goes: the gaps after a pass stand
// behind that pass.
func (r Row) progress() int {
	at := stageRank[r.Stage]
	if r.Stage == sequence.StageGaps && r.Pass > 0 {
		at = stageRank[sequence.StagePass]
	}
	return at*1_000_000 + r.Pass*10_000 + r.Round*1_000 + r.Done
}

// Sort sorts rows in place; equal ones stand by joint and path. What is damaged or
// not readable stands first in every order, also in a reversed one: little is
// known of it that it could be sorted by.
func (o Order) Sort(rows []Row, reverse bool) {
	slices.SortStableFunc(rows, func(a, b Row) int {
		if hurt := a.Damage != ""; hurt != (b.Damage != "") {
			if hurt {
				return -1
			}
			return 1
		}
		var by int
		switch o {
		case ByWaits:
			by = cmp.Compare(a.rank(), b.rank())
		case ByStage:
			by = cmp.Compare(a.progress(), b.progress())
		case ByLast:
			by = b.LastAt.Compare(a.LastAt)
		case ByWho:
			by = strings.Compare(strings.ToLower(a.Who()), strings.ToLower(b.Who()))
		}
		if by == 0 {
			by = natural(a.Tag, b.Tag)
		}
		if reverse {
			by = -by
		}
		return cmp.Or(by, strings.Compare(a.Path, b.Path))
	})
}

// natural compares tags as people do: F9 stands before F10.
func natural(a, b string) int {
	for a != "" && b != "" {
		x, restA := piece(a)
		y, restB := piece(b)
		if by := cmp.Or(compareDigits(x, y), strings.Compare(x, y)); by != 0 {
			return by
		}
		a, b = restA, restB
	}
	return cmp.Compare(len(a), len(b))
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

// piece cuts off what is digits, or is none.
func piece(s string) (first, rest string) {
	n := 1
	for n < len(s) && digit(s[n]) == digit(s[0]) {
		n++
	}
	return s[:n], s[n:]
}

// compareDigits compares two numbers of any length, 0 where one is none.
func compareDigits(a, b string) int {
	if !digit(a[0]) || !digit(b[0]) {
		return 0
	}
	a, b = strings.TrimLeft(a, "0"), strings.TrimLeft(b, "0")
	return cmp.Or(cmp.Compare(len(a), len(b)), strings.Compare(a, b))
}

// Show is which rows are shown.
type Show int

// What can be shown.
const (
	ShowAll Show = iota
	ShowOpen
	ShowWaiting // for somebody who is not the crew, or for a crew
	ShowTrouble
	ShowClosed
	Shows // how many there are
)

func (s Show) String() string {
	return [...]string{"all", "not closed", "waiting", "damaged or unreadable", "closed"}[s]
}

// Takes says whether a row is shown.
func (s Show) Takes(r Row) bool {
	switch s {
	case ShowOpen:
		return r.Stage != sequence.StageClosed
	case ShowWaiting:
		return len(r.Waits) > 0 && r.rank() < rankRest
	case ShowTrouble:
		return r.Damage != "" || len(r.Forks) > 0 || r.Torn
	case ShowClosed:
		return r.Stage == sequence.StageClosed
	}
	return true
}

// Matches says that a text stands somewhere in a row, upper and lower case alike.
func (r Row) Matches(text string) bool {
	text = strings.ToLower(text)
	for _, c := range r.texts() {
		if strings.Contains(strings.ToLower(c), text) {
			return true
		}
	}
	return false
}

func (r Row) texts() []string {
	all := append([]string{r.Tag, r.Where, r.StageWord(), r.PassWord(), r.Who(), r.LastBy, r.Last, r.Path}, r.Copies...)
	for _, w := range r.Waits {
		all = append(all, w.For+": "+w.Why)
	}
	for _, d := range r.Tools {
		all = append(all, d.Tool, d.Gauge)
	}
	for _, t := range r.Touches {
		all = append(all, t.Tool, t.Gauge)
	}
	return all
}
