package report

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"evenload/data/visible"
	"evenload/joint/pattern"
	"evenload/joint/unit"
	"evenload/sequence"
)

// stamp is ISO 8601 with the zone.
const stamp = "2006-01-02T15:04:05.000-07:00"

// columns of the CSV, in order. They may grow at the end and never change.
var columns = []string{"record", "seal", "state", "tag", "line", "bolt", "pass", "passes", "share_percent", "check_series", "check_round", "repeat", "new_bolt",
	"tool_letter", "tool", "gauge", "torque", "torque_unit", "pressure_set", "pressure_read", "pressure_unit", "reading", "result", "at", "by", "role", "note", "check_series_why",
	"gasket_no", "rejected", "stretch", "stretch_unit", "load", "load_give_or_take", "load_unit", "in_band", "beyond_yield",
	"torque_given", "pressure_end", "end_judged", "end_released_by", "fork"}

// spelling is how a CSV has its numbers.
type spelling struct{ comma bool }

func (s spelling) number(v float64, digits int) string {
	if v == 0 {
		return ""
	}
	text := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if s.comma {
		text = strings.Replace(text, ".", ",", 1)
	}
	return text
}

var pointed = pattern.Lazy{Text: `\d\.\d`}

// prose is a sentence of ours with its numbers, and with what people typed as they
// typed it.
func (s spelling) prose(text string, typed []string) string {
	if !s.comma || !pointed.Made().MatchString(text) {
		return text
	}
	var either []string
	for _, t := range typed {
		if pointed.Made().MatchString(t) {
			either = append(either, regexp.QuoteMeta(t))
		}
	}
	return regexp.MustCompile(strings.Join(append(either, `\d+\.\d+`), "|")).ReplaceAllStringFunc(text, func(found string) string {
		if slices.Contains(typed, found) {
			return found
		}
		return strings.Replace(found, ".", ",", 1)
	})
}

// CSV writes a row a bolt and pass or check round, and a row a reading of a stud,
// in order of the card: UTF-8 with a byte order mark, comma between cells, or
// semicolon where the decimal sign is a comma. What was taken back has its own row.
// A cell that a spreadsheet would take for a formula begins with an apostrophe.
func CSV(out io.Writer, d AsDone, decimalComma bool) error {
	if _, err := io.WriteString(out, "\ufeff"); err != nil {
		return err
	}
	w := csv.NewWriter(out)
	w.UseCRLF = true
	if decimalComma {
		w.Comma = ';'
	}
	spell := spelling{decimalComma}
	if err := w.Write(columns); err != nil {
		return err
	}
	studs := d.Studs
	for _, t := range d.Turns {
		for len(studs) > 0 && (t.Line == 0 || studs[0].Line < t.Line) {
			if err := w.Write(studRow(d, studs[0], spell)); err != nil {
				return err
			}
			studs = studs[1:]
		}
		if err := w.Write(turnRow(d, t, spell)); err != nil {
			return err
		}
	}
	for _, s := range studs {
		if err := w.Write(studRow(d, s, spell)); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

func whole(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func turnRow(d AsDone, t BoltTurn, spell spelling) []string {
	torque, given, name := float64(t.Setting.Torque), float64(t.Setting.Delivered), "N·m"
	if d.Plan.System == unit.US {
		torque, given, name = torque/unit.PoundForceFoot, given/unit.PoundForceFoot, "lbf·ft"
	}
	u := t.Tool.Gauge.Unit
	note := spell.prose(t.Note, append(d.typed(t.Line), t.Tool.ID, t.Tool.Gauge.ID))
	row := []string{plainCell(d.ID), plainCell(d.Seal), string(d.State), plainCell(d.Plan.About.Tag), whole(t.Line), fmt.Sprint(t.Bolt), whole(t.Pass), whole(t.Of),
		spell.number(float64(t.Share)*100, 2), whole(t.RoundSet), whole(t.Round), whole(t.Repeat), whole(int(t.Redo)),
		t.Letter, plainCell(t.Tool.ID), plainCell(t.Tool.Gauge.ID), spell.number(torque, 1), name, spell.number(t.Setting.Set.In(u), 4), spell.number(t.Read.In(u), 4), plainCell(string(u)),
		plainCell(string(t.Tool.Reading)), t.Result, isoOrEmpty(t.At), plainCell(t.By), plainCell(t.Role), plainCell(note), plainCell(d.setWhy(t.RoundSet)),
		whole(t.Gasket), d.columnOfTurn(t).Rejected, "", "", "", "", "", "", "", spell.number(given, 1)}
	return append(append(row, d.endCells(t, spell)...), plainCell(d.ForkWords()))
}

func studRow(d AsDone, s StudTurn, spell spelling) []string {
	stretch, length, load, force := float64(s.Stretch)/unit.Millimetre, "mm", 1000.0, "kN"
	if d.Plan.System == unit.US {
		stretch, length, load, force = float64(s.Stretch)/unit.Inch, "in", unit.PoundForce, "lbf"
	}
	read := func(v float64, digits int) string { return cmp.Or(spell.number(v, digits), "0") }
	yesNo := map[bool]string{true: "yes", false: "no"}
	// Beyond yield the load is the one that an elastic stud would have, and no measure.
	beyond := d.Plan.Stretch != nil && d.Plan.Stretch.Beyond(s.Load)
	row := make([]string, len(columns))
	for i, cell := range []string{plainCell(d.ID), plainCell(d.Seal), string(d.State), plainCell(d.Plan.About.Tag), whole(s.Line), fmt.Sprint(s.Bolt)} {
		row[i] = cell
	}
	row[slices.Index(columns, "result")] = s.Result
	for i, cell := range []string{isoOrEmpty(s.At), plainCell(s.By), plainCell(s.Role)} {
		row[slices.Index(columns, "at")+i] = cell
	}
	for i, cell := range []string{whole(s.Gasket), "", read(stretch, 4), length, read(float64(s.Load)/load, 1), read(float64(s.Within)/load, 1), force, yesNo[s.InBand(d.Plan)], yesNo[beyond]} {
		row[slices.Index(columns, "gasket_no")+i] = cell
	}
	row[slices.Index(columns, "fork")] = plainCell(d.ForkWords())
	return row
}

// typed is what people typed in the event of a line, where its sentence has it.
func (d *AsDone) typed(line int) []string {
	if line < 1 || line > len(d.Events) {
		return nil
	}
	switch data := d.Events[line-1].Data.(type) {
	case sequence.ProblemFound:
		return []string{strings.TrimSpace(data.Reason), data.Batch}
	case sequence.Replaced:
		return []string{data.Batch}
	case sequence.Released:
		return []string{data.Name, data.Role, data.Reason}
	}
	return nil
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
