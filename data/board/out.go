package board

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"time"

	"evenload/data/visible"
)

// rowHead are the columns of the board as a file for spreadsheets.
var rowHead = []string{"joint", "kind", "where", "stage", "pass", "passes", "share", "round", "done", "bolts", "who", "signed_on", "last_at", "last_by", "last",
	"waits_for", "why", "state", "lines", "card", "path", "copies", "hash", "forks", "fork_lines"}

func rowCells(r Row) []string {
	var who, why []string
	for _, w := range r.Waits {
		who, why = append(who, w.For), append(why, w.For+": "+w.Why)
	}
	j := jsonOf(r)
	var forks, forkLines []string
	for _, f := range r.Forks {
		forks, forkLines = append(forks, f.Path), append(forkLines, number(f.Line))
	}
	done, share := "", ""
	if j.Done != nil {
		done = fmt.Sprint(*j.Done)
	}
	if r.Pass > 0 {
		share = r.Share.Text()
	}
	return []string{r.Name(), string(r.Kind), r.Where, r.StageWord(), number(r.Pass), number(r.Of), share, number(r.Round), done, number(r.Bolts),
		r.Who(), fmt.Sprint(r.Working), j.LastAt, r.LastBy, r.Last, strings.Join(who, "; "), strings.Join(why, "; "), r.State(), number(r.Lines), short(r.ID), r.Path,
		strings.Join(r.Copies, "; "), short(r.Hash), strings.Join(forks, "; "), strings.Join(forkLines, "; ")}
}

// number is one that is known, else empty.
func number(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

// CSV writes the rows with a head: UTF-8 with a byte-order mark, as
// spreadsheets want it.
func CSV(out io.Writer, rows []Row) error {
	return writeCSV(out, rowHead, rows, rowCells)
}

func writeCSV[T any](out io.Writer, head []string, rows []T, cells func(T) []string) error {
	if _, err := io.WriteString(out, "\ufeff"); err != nil {
		return err
	}
	w := csv.NewWriter(out)
	w.UseCRLF = true
	if err := w.Write(head); err != nil {
		return err
	}
	for _, r := range rows {
		line := cells(r)
		for i := range line {
			line[i] = visible.Cell(line[i])
		}
		if err := w.Write(line); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

// Plain writes the rows as a table of text, its times in the zone of now.
func Plain(out io.Writer, rows []Row, now time.Time) error {
	return writePlain(out, []string{"JOINT", "STAGE", "PASS", "BOLTS", "WAITS FOR", "WHO", "LAST (LOCAL TIME)", "WHAT"}, rows, func(r Row) []string {
		return []string{r.Name(), r.StageWord(), r.PassWord(), r.BoltsWord(), r.WaitWord(), r.Who(), r.LastWord(now), r.Last}
	})
}

func writePlain[T any](out io.Writer, head []string, rows []T, cells func(T) []string) error {
	w := tabwriter.NewWriter(out, 0, 4, 2, ' ', 0)
	fmt.Fprintln(w, strings.Join(head, "\t"))
	for _, r := range rows {
		line := cells(r)
		for i := range line {
			if line[i] = visible.Text(line[i]); line[i] == "" {
				line[i] = "-"
			}
		}
		fmt.Fprintln(w, strings.Join(line, "\t"))
	}
	return w.Flush()
}

// short is an identity that can be read aloud.
func short(id string) string {
	if len(id) < 12 {
		return id
	}
	return id[:4] + "-" + id[4:8] + "-" + id[8:12]
}

// hitHead are the columns of a recall.
var hitHead = []string{"joint", "where", "tool", "gauge", "day", "place", "bolts", "stage", "state", "last_at", "card", "path", "copies"}

func hitCells(h Hit) []string {
	return []string{h.Name(), h.Where, h.Tool, h.Gauge, h.Day.String(), h.PlaceWord(), h.BoltsText(), h.StageWord(), h.State(), jsonOf(h.Row).LastAt,
		short(h.ID), h.Path, strings.Join(h.Copies, "; ")}
}

// HitsCSV writes a recall for spreadsheets. Cards of which it cannot be said
// stand at its end, their place "unknown".
func HitsCSV(out io.Writer, hits []Hit, unknown []Row) error {
	all := append([]Hit(nil), hits...)
	for _, r := range unknown {
		all = append(all, Unknown(r))
	}
	return writeCSV(out, hitHead, all, hitCells)
}

func cardWord(n int) string {
	if n == 1 {
		return "card"
	}
	return "cards"
}

// HitsPlain writes a recall as a table of text.
func HitsPlain(out io.Writer, q Recall, hits []Hit, unknown []Row) error {
	joints, cards := map[string]bool{}, map[string]bool{}
	for _, h := range hits {
		joints[h.Name()], cards[h.Path] = true, true
	}
	judges := ""
	if len(hits) > 0 {
		judges = " The responsible engineer judges each."
	}
	fmt.Fprintf(out, "Joints that tool, gauge or certificate %s touched%s: %d, on %d %s.%s\n", visible.Text(q.Tool), q.SinceWord(), len(joints), len(cards), cardWord(len(cards)), judges)
	var err error
	if len(hits) > 0 {
		err = writePlain(out, []string{"JOINT", "WHERE", "TOOL", "GAUGE", "DAY", "PLACE", "BOLTS", "STAGE", "CARD"}, hits, func(h Hit) []string {
			return []string{h.Name(), h.Where, h.Tool, h.Gauge, h.Day.String(), h.PlaceWord(), h.BoltsText(), h.StageWord(), h.Path}
		})
	}
	if err != nil || len(unknown) == 0 {
		return err
	}
	fmt.Fprintf(out, "\nNot known of %d: damaged or not readable, look at them by hand.\n", len(unknown))
	return writePlain(out, []string{"JOINT", "FILE", "WHY"}, unknown, func(r Row) []string { return []string{r.Name(), r.Path, r.WaitWord()} })
}
