package board

import (
	"time"

	"evenload/data/visible"
)

// FileJSON is the board for other programs. More fields may come, none may
// change. What is not known is null or left out.
type FileJSON struct {
	Format   int       `json:"format"`
	At       time.Time `json:"at"`
	Files    int       `json:"files"`
	Practice int       `json:"practice_left_out"`
	Rows     []rowJSON `json:"rows"`
}

type rowJSON struct {
	Joint    string     `json:"joint"`
	Kind     Kind       `json:"kind"`
	Where    string     `json:"where"`
	Stage    string     `json:"stage"`
	Pass     *int       `json:"pass"`
	Passes   *int       `json:"passes"`
	Share    *float64   `json:"share"`
	Round    *int       `json:"round"`
	Done     *int       `json:"done"`
	Bolts    *int       `json:"bolts"`
	Who      string     `json:"who"`
	SignedOn bool       `json:"signed_on"`
	LastAt   string     `json:"last_at"` // RFC 3339 in the zone of the laptop that wrote it
	LastBy   string     `json:"last_by"`
	Last     string     `json:"last"`
	Waits    []waitJSON `json:"waits"`
	State    string     `json:"state"` // whole, torn, damaged, unreadable
	Damaged  *int       `json:"damaged_line"`
	Forked   bool       `json:"forked"`
	Forks    []forkJSON `json:"forks"` // the same card, where it went on otherwise
	Lines    int        `json:"lines"`
	Card     string     `json:"card"` // hash of its first line
	Seal     string     `json:"hash"` // of its last whole line
	Path     string     `json:"path"`
	Copies   []string   `json:"copies"`
}

type forkJSON struct {
	Path string `json:"path"`
	Line *int   `json:"line"` // the first that differs
}

type waitJSON struct {
	For string `json:"for"`
	Why string `json:"why"`
}

func known(n int) *int {
	if n == 0 {
		return nil
	}
	return &n
}

// jsonOf is a row for other programs, its texts safe to show.
func jsonOf(r Row) rowJSON {
	v := visible.Text
	j := rowJSON{Joint: v(r.Name()), Kind: r.Kind, Where: v(r.Where), Stage: r.StageWord(), Pass: known(r.Pass), Passes: known(r.Of), Round: known(r.Round),
		Bolts: known(r.Summary.Bolts), Who: v(r.Who()), SignedOn: r.Working, LastBy: v(r.LastBy), Last: v(r.Last), Waits: []waitJSON{}, State: r.State(),
		Damaged: known(r.Line), Forked: len(r.Forks) > 0, Forks: []forkJSON{}, Lines: r.Lines, Card: r.ID, Seal: r.Hash, Path: v(r.Path), Copies: seen(r.Copies)}
	if r.Pass > 0 {
		share := float64(r.Share)
		j.Share = &share
	}
	if r.BoltsWord() != "" {
		done := r.Done
		j.Done = &done
	}
	if !r.LastAt.IsZero() {
		j.LastAt = r.LastAt.In(time.FixedZone("", r.Offset*60)).Format(time.RFC3339)
	}
	for _, f := range r.Forks {
		j.Forks = append(j.Forks, forkJSON{v(f.Path), known(f.Line)})
	}
	for _, w := range r.Waits {
		j.Waits = append(j.Waits, waitJSON{v(w.For), v(w.Why)})
	}
	return j
}

// JSON is the whole board for other programs.
func (b *Board) JSON(rows []Row, now time.Time) FileJSON {
	f := FileJSON{Format: 1, At: now.UTC(), Files: b.seen, Practice: b.practice, Rows: []rowJSON{}}
	for _, r := range rows {
		f.Rows = append(f.Rows, jsonOf(r))
	}
	return f
}

// RecallJSON is a recall for other programs.
type RecallJSON struct {
	Format  int       `json:"format"`
	Tool    string    `json:"tool"`
	Since   string    `json:"since"`
	Hits    []hitJSON `json:"touched"`
	Unknown []rowJSON `json:"unknown"` // damaged or not readable: more may be missing
}

type hitJSON struct {
	Tool  string  `json:"tool"`
	Gauge string  `json:"gauge"`
	Day   string  `json:"day"`
	Place string  `json:"place"`
	Pass  *int    `json:"pass"`
	Set   *int    `json:"round_set"`
	Round *int    `json:"round"`
	Bolts []int   `json:"bolts"`
	Card  rowJSON `json:"card"`
}

// JSON is what Find gave, for other programs.
func (q Recall) JSON(hits []Hit, unknown []Row) RecallJSON {
	f := RecallJSON{Format: 1, Tool: visible.Text(q.Tool), Since: q.Since.String(), Hits: []hitJSON{}, Unknown: []rowJSON{}}
	for _, h := range hits {
		one := hitJSON{Tool: visible.Text(h.Tool), Gauge: visible.Text(h.Gauge), Day: h.Day.String(), Place: h.PlaceWord(),
			Pass: known(h.Touch.Pass), Set: known(h.Touch.Set), Round: known(h.Touch.Round), Bolts: []int{}, Card: jsonOf(h.Row)}
		for _, b := range h.Touch.Bolts {
			one.Bolts = append(one.Bolts, int(b))
		}
		f.Hits = append(f.Hits, one)
	}
	for _, r := range unknown {
		f.Unknown = append(f.Unknown, jsonOf(r))
	}
	return f
}
