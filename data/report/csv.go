package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"evenload/data/visible"
	"evenload/joint/unit"
)

// stamp is ISO 8601 with the zone.
const stamp = "2006-01-02T15:04:05.000-07:00"

// columns of the CSV, in order. They may grow at the end and never change.
var columns = []string{"record", "seal", "state", "tag", "line", "bolt", "pass", "passes", "share_percent", "check_series", "check_round", "repeat", "new_bolt",
	"tool_letter", "tool", "gauge", "torque", "torque_unit", "pressure_set", "pressure_read", "pressure_unit", "reading", "result", "at", "by", "role", "note", "check_series_why"}

// CSV writes a row a bolt and pass or check round: UTF-8 with a byte order mark,
// comma between cells, or semicolon where the decimal sign is a comma. What
// was taken back has its own row. A cell that a spreadsheet would take for a
// formula begins with an apostrophe.
func CSV(out io.Writer, d AsDone, decimalComma bool) error {
	if _, err := io.WriteString(out, "\ufeff"); err != nil {
		return err
	}
	w := csv.NewWriter(out)
	w.UseCRLF = true
	if decimalComma {
		w.Comma = ';'
	}
	number := func(v float64, digits int) string {
		if v == 0 {
			return ""
		}
		text := strconv.FormatFloat(v, 'f', digits, 64)
		if strings.Contains(text, ".") {
			text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
		}
		if decimalComma {
			text = strings.Replace(text, ".", ",", 1)
		}
		return text
	}
	whole := func(n int) string {
		if n == 0 {
			return ""
		}
		return strconv.Itoa(n)
	}
	if err := w.Write(columns); err != nil {
		return err
	}
	for _, t := range d.Turns {
		at := ""
		if !t.At.IsZero() {
			at = t.At.Format(stamp)
		}
		torque, name := float64(t.Setting.Torque), "N·m"
		if d.Plan.System == unit.US {
			torque, name = torque/unit.PoundForceFoot, "lbf·ft"
		}
		u := t.Tool.Gauge.Unit
		row := []string{plainCell(d.ID), plainCell(d.Seal), string(d.State), plainCell(d.Plan.About.Tag), whole(t.Line), fmt.Sprint(t.Bolt), whole(t.Pass), whole(t.Of),
			number(float64(t.Share)*100, 2), whole(t.RoundSet), whole(t.Round), whole(t.Repeat), whole(int(t.Redo)),
			t.Letter, plainCell(t.Tool.ID), plainCell(t.Tool.Gauge.ID), number(torque, 1), name, number(t.Setting.Set.In(u), 4), number(t.Read.In(u), 4), string(u),
			string(t.Tool.Reading), t.Result, at, plainCell(t.By), plainCell(t.Role), plainCell(t.Note), plainCell(d.SetWhy(t.RoundSet))}
		if err := w.Write(row); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

// plainCell makes text visible and harmless: a spreadsheet takes a cell that
// begins with one of these signs, blanks before it or not, for a formula.
func plainCell(text string) string {
	text = visible.Text(text)
	if first := strings.TrimLeft(text, " "); first != "" && strings.ContainsAny(first[:1], "=+-@") || strings.HasPrefix(text, "＝") ||
		strings.HasPrefix(text, "＋") || strings.HasPrefix(text, "－") || strings.HasPrefix(text, "＠") {
		return "'" + text
	}
	return text
}

// isoOrEmpty is a time for other programs.
func isoOrEmpty(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(stamp)
}
