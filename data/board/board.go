package board

import (
	"cmp"
	"os"
	"path"
	"slices"
	"strings"
	"time"

	"evenload/data/card"
	"evenload/sequence"
)

// Board gathers the summaries of one folder.
type Board struct {
	dir      string
	cards    map[string][]Summary // by ID: the copies of one card lie together
	jobs     []Summary
	troubles []Summary
	heads    map[string][]head // of cards with several copies, once these are compared
	seen     int
	practice int
}

// New is the board of a folder, empty.
func New(dir string) *Board { return &Board{dir: dir, cards: map[string][]Summary{}} }

// Add takes a summary.
func (b *Board) Add(s Summary) {
	b.seen++
	switch {
	case s.Kind == Practice || card.IsPractice(s.Path):
		b.practice++
	case s.Kind == Card:
		id := s.ID
		if id == "" { // its first line is damaged: nothing says whose copy it is
			id = s.Path
		}
		b.cards[id] = append(b.cards[id], s)
	case s.Kind == Job:
		b.jobs = append(b.jobs, s)
	default:
		b.troubles = append(b.troubles, s)
	}
}

// Dir is the folder of the board.
func (b *Board) Dir() string { return b.dir }

// Seen is how many files were summarised, and how many of them are practice
// cards, which are no joints and left out.
func (b *Board) Seen() (files, practice int) { return b.seen, b.practice }

// Row is one joint's card, one job without a card, or one file in trouble.
// Nothing in it has been made safe to show.
type Row struct {
	Summary
	Copies []string // paths of the same card, or job, elsewhere
	Forks  []Fork   // other copies of the card that went on otherwise
	Waits  []Wait   // the most urgent first
}

// Rows are all that the board shows at a time, the most urgent first.
func (b *Board) Rows(now time.Time) []Row {
	var rows []Row
	jobs := map[string]Summary{}
	for _, j := range b.jobs {
		jobs[j.Path] = j
	}
	followed, open := b.followed(), map[string][]int{} // by joint: rows of open cards
	for id, copies := range b.cards {
		heads := b.heads[id]
		if heads == nil {
			heads = unsettled(copies)
		}
		for _, h := range heads {
			h.after = followed[short(h.Hash)]
			if h.Tag != "" && h.Stage != "" && h.Stage != sequence.StageClosed {
				open[h.Tag] = append(open[h.Tag], len(rows))
			}
			rows = append(rows, h.row(now, changed(h.Summary, jobs)))
		}
	}
	twice(rows, open)
	for _, s := range b.waiting() {
		rows = append(rows, Row{Summary: s.Summary, Copies: s.paths(), Waits: s.Summary.waits(now)})
	}
	for _, s := range b.troubles {
		rows = append(rows, Row{Summary: s, Waits: s.waits(now)})
	}
	ByWaits.Sort(rows, false)
	return rows
}

// twice tells each open card of another one of the same joint, begun on its own.
func twice(rows []Row, open map[string][]int) {
	for _, at := range open {
		slices.SortStableFunc(at, func(i, j int) int { return strings.Compare(rows[i].Path, rows[j].Path) })
		for _, i := range at {
			j := slices.IndexFunc(at, func(j int) bool { return rows[j].ID != rows[i].ID })
			if j < 0 {
				break // forks of one card
			}
			rows[i].wait(Wait{forForeman, "another card of this joint is open: " + rows[at[j]].Path, rankFault})
		}
	}
}

// followed are the seals of the cards that another one goes on from.
func (b *Board) followed() map[string]bool {
	seals := map[string]bool{}
	for _, copies := range b.cards {
		for _, s := range copies {
			if s.Follows != "" {
				seals[s.Follows] = true
			}
		}
	}
	return seals
}

// row of a head of copies. job says what became of its job file.
func (h head) row(now time.Time, job string) Row {
	r := Row{Summary: h.Summary, Copies: h.paths(), Forks: h.forks, Waits: h.waits(now)}
	for _, f := range h.forks {
		r.wait(Wait{forForeman, "fork: parted" + f.at() + " from " + f.Path + ", the same card", rankDamage})
	}
	for _, c := range h.copies {
		if c.Damage != "" {
			r.wait(Wait{forForeman, "a copy is damaged, this one is not: " + c.Path, rankNote})
		}
	}
	if h.Leak == sequence.Leaked && !h.after {
		r.wait(Wait{forEngineer, "leaked at its test beside bolt " + sequence.BoltList(h.LeakAt) + ": the cause first; no card follows this one yet", rankEngineer})
	}
	if job != "" && h.Stage != sequence.StageClosed {
		r.wait(Wait{forForeman, job, rankFault})
	}
	return r
}

// wait puts one more wait behind those that are as urgent.
func (r *Row) wait(w Wait) {
	r.Waits = append(r.Waits, w)
	slices.SortStableFunc(r.Waits, func(a, b Wait) int { return cmp.Compare(a.Rank, b.Rank) })
}

// changed says that the job file beside a card is another now than when the card was
// begun, empty where it is not, or is not there. The jobs are by their paths.
func changed(s Summary, jobs map[string]Summary) string {
	j, ok := jobs[path.Join(path.Dir(s.Path), s.JobFile)]
	switch {
	case !ok || j.Inputs == "" || path.Base(j.Path) != s.JobFile:
		return ""
	case j.JobSHA256 != s.JobSHA256:
		return "the job file has changed since the card was begun: " + s.JobFile
	case j.Inputs != s.Inputs:
		return "a tool file or default of the job has changed since the card was begun: " + s.JobFile
	}
	return ""
}

// waiting are the jobs that no card was begun with: neither with this text of
// it, nor with this file beside the card. Copies of a job are one.
func (b *Board) waiting() []head {
	begun := map[string]bool{}
	for _, copies := range b.cards {
		for _, s := range copies {
			begun[s.JobSHA256], begun[path.Join(path.Dir(s.Path), s.JobFile)] = true, true
		}
	}
	var all []head
	at := map[string]int{}
	jobs := slices.Clone(b.jobs)
	slices.SortStableFunc(jobs, func(a, b Summary) int { return strings.Compare(a.Path, b.Path) })
	for _, j := range jobs {
		if begun[j.JobSHA256] && j.JobSHA256 != "" || begun[j.Path] {
			continue
		}
		if i, ok := at[j.JobSHA256]; ok {
			all[i].copies = append(all[i].copies, j)
			continue
		}
		at[j.JobSHA256] = len(all)
		all = append(all, head{Summary: j})
	}
	return all
}

// Open opens the file of a row for reading, never one outside the folder.
func (b *Board) Open(r Row) (*os.File, error) { return openIn(b.dir, r.Path) }

func openIn(dir, name string) (*os.File, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	return root.Open(name)
}
