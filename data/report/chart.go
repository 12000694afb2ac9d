package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"evenload/data/visible"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// Charts prints the chart of each tool and gives what was found on the day.
func Charts(out io.Writer, tools []joint.Tool, s unit.System, on joint.Date) ([]joint.Finding, error) {
	var all []joint.Finding
	for i, t := range tools {
		if i > 0 {
			fmt.Fprintln(out)
		}
		found := append(t.DueFindings(on, "tool"), t.ChartFindings("tool", s)...)
		if err := chart(out, t, s, found); err != nil {
			return nil, err
		}
		all = append(all, found...)
	}
	return all, nil
}

// chart prints a tool's chart: a plot that fills one screen of 80x24, then a
// table for the pocket with the torque at each division of the gauge. findings
// are what was found of chart, gauge and due dates.
func chart(out io.Writer, tool joint.Tool, s unit.System, findings []joint.Finding) error {
	title := visible.Text(ChartTitle(tool)) + "  "
	fmt.Fprintln(out, ansi.Truncate(title, plotWidth-len(SetState(tool)), "... ")+SetState(tool))
	for _, line := range plot(tool, s) {
		fmt.Fprintln(out, line)
	}
	t := newTable(out)
	t.head("POCKET TABLE", SetState(tool))
	for _, row := range ChartFacts(tool, s) {
		t.told(row.Label, row.Text)
	}
	if err := t.w.Flush(); err != nil {
		return err
	}
	if err := pocketTable(out, tool, s); err != nil {
		return err
	}
	t = newTable(out)
	t.head("FINDINGS")
	if len(findings) == 0 {
		t.row("none")
	}
	for _, f := range findings {
		t.wrapped(fmt.Sprintf("%s: %s (%s)", f.Severity, f.Text, f.Code))
	}
	t.head("CAUTIONS")
	for _, c := range ChartCautions {
		t.row(c)
	}
	return t.w.Flush()
}

// ChartCautions stand under every chart.
var ChartCautions = []string{"For this tool with this gauge, hose and fittings only. Nothing beyond the ends of its chart.",
	sequence.NotLoadWord, sequence.SiteFirst}

// SetState is how a pressure of the chart is set.
func SetState(t joint.Tool) string {
	if t.Reading == joint.Static {
		return "SET AT REST"
	}
	return "SET WHILE RUNNING"
}

// ChartTitle names tool and gauge.
func ChartTitle(t joint.Tool) string { return strings.TrimSpace("TOOL " + t.ID + "  " + gaugeName(t)) }

func gaugeName(t joint.Tool) string {
	if t.Gauge.ID == "" {
		return "gauge without id"
	}
	return "gauge " + t.Gauge.ID
}

// ChartFacts say which tool and gauge a table is for, and which point of the
// chart looks wrong.
func ChartFacts(t joint.Tool, s unit.System) []sequence.Told {
	first, last := t.Chart.First(), t.Chart.Last()
	rows := []sequence.Told{
		{Label: "tool", Text: t.ID + ", " + dueWord(t.Due)},
		{Label: "certificate", Text: cmp.Or(t.Certificate, "not given") + ", calibrated " + cmp.Or(t.Calibrated.String(), "on a day not given")},
		{Label: "gauge", Text: fmt.Sprintf("%s, %s to %s, at the %s, %s", cmp.Or(t.Gauge.ID, "id not given"), t.Gauge.Low.Exact(t.Gauge.Unit), t.Typed(t.Gauge.High), t.GaugeAt, dueWord(t.Gauge.Due))},
		{Label: "chart", Text: fmt.Sprintf("%s at %s to %s at %s, points: %d", first.Torque.Text(s), t.Typed(first.Pressure), last.Torque.Text(s), t.Typed(last.Pressure), len(t.Chart))},
	}
	if t.MostPressure > 0 {
		rows = append(rows, sequence.Told{Label: "rated", Text: "at most " + t.Typed(t.MostPressure)})
	}
	if t.HoseBore > 0 || t.HoseLength > 0 {
		rows = append(rows, sequence.Told{Label: "hose", Text: strings.TrimSpace(bore(t, s) + " " + long(t, s))})
	}
	if i, off, found := t.Chart.OddPoint(); found {
		rows = append(rows, sequence.Told{Label: "LOOKS WRONG", Text: fmt.Sprintf("point %d of the chart, %s at %s: %s off the straight line of the others; look at the certificate before the rows with ? are used",
			i+1, t.Chart[i].Torque.Text(s), t.Typed(t.Chart[i].Pressure), off.Text(s))})
	}
	return rows
}

func bore(t joint.Tool, s unit.System) string {
	if t.HoseBore <= 0 {
		return ""
	}
	return "bore " + t.HoseBore.Text(s)
}

func long(t joint.Tool, s unit.System) string {
	if t.HoseLength <= 0 {
		return ""
	}
	if s == unit.US {
		return fmt.Sprintf("length %.3g ft", float64(t.HoseLength)/unit.Foot)
	}
	return fmt.Sprintf("length %.3g m", float64(t.HoseLength))
}

// fewRows is up to how many rows a table has two columns, three above.
const fewRows = 24

// pocketTable prints the torque of each division, down the columns.
func pocketTable(out io.Writer, tool joint.Tool, s unit.System) error {
	rows, err := tool.Divisions()
	if err != nil {
		_, err = fmt.Fprintln(out, "\n"+visible.Text(err.Error()))
		return err
	}
	if len(rows) == 0 {
		_, err = fmt.Fprintln(out, "\nno division of the gauge lies inside the chart: take a finer gauge")
		return err
	}
	columns := 3
	if len(rows) <= fewRows {
		columns = 2
	}
	name := "N·m"
	if s == unit.US {
		name = "lbf·ft"
	}
	height := (len(rows) + columns - 1) / columns
	columns = (len(rows) + height - 1) / height
	fmt.Fprintln(out)
	head := fmt.Sprintf("%8s %8s  ", tool.Gauge.Unit, name)
	fmt.Fprintln(out, strings.TrimRight(strings.Repeat(head+"    ", columns), " "))
	for r := range height {
		line := ""
		for i := r; i < len(rows); i += height {
			line += division(tool, s, rows[i]) + "    "
		}
		if _, err := fmt.Fprintln(out, strings.TrimRight(line, " ")); err != nil {
			return err
		}
	}
	for _, l := range PocketMarks(tool, rows) {
		fmt.Fprintln(out, l)
	}
	return nil
}

// PocketMarks say what the marks of a table mean.
func PocketMarks(t joint.Tool, rows []joint.Division) []string {
	steady := t.Gauged(joint.SteadyStall)
	all := []string{"   all at or above " + steady + ", the lowest steady pressure (common practice)"}
	if slices.ContainsFunc(rows, func(d joint.Division) bool { return d.Unsteady }) {
		all[0] = "*  below " + steady + " (common practice): the tool may not stall steadily; a higher share or a smaller tool is better"
	}
	if slices.ContainsFunc(rows, func(d joint.Division) bool { return d.Doubtful }) {
		all = append(all, "?  beside the point of the chart that looks wrong")
	}
	return all
}

// division is one row: pressure, torque, two places for marks.
func division(t joint.Tool, s unit.System, d joint.Division) string {
	torque, _, _ := strings.Cut(d.Torque.Text(s), " ")
	marks := ""
	if d.Unsteady {
		marks += "*"
	}
	if d.Doubtful {
		marks += "?"
	}
	return fmt.Sprintf("%8s %8s%-2s", d.Pressure.Reading(t.Gauge.Unit, t.Gauge.Division), torque, marks)
}
