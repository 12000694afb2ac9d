package report

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"evenload/joint/unit"
	"evenload/sequence"
)

// csvRows are the rows of a CSV by the names of their columns.
func csvRows(t *testing.T, d AsDone) (rows []map[string]string) {
	t.Helper()
	var out bytes.Buffer
	if err := CSV(&out, d, false); err != nil {
		t.Fatal(err)
	}
	all, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(out.String(), "\ufeff"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = cells[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// ended is what a row says of the reading at the end.
func ended(row map[string]string) string {
	return strings.TrimSpace(row["pressure_end"] + " " + row["end_judged"] + " " + row["end_released_by"])
}

// TestRowsBearTheirEnd: every bolt of a pass bears what its own tool read at the end of
// it, and who let one above the band count.
func TestRowsBearTheirEnd(t *testing.T) {
	j := load(t, booster)
	o := opened(t)
	o.Plan, _ = j.Plan(day)
	o.Plan.GapPlaces = o.Plan.GapPlaces[:2]
	c := begin(t, o)
	c.until(func(s sequence.Step) bool { set, ok := s.(sequence.Set); return ok && set.AtEnd && set.Slot == 1 })
	c.do(sequence.PressureSet{AtEnd: true, Tool: 1, Running: o.Plan.Passes[0].Settings[1].Set + 0.5*unit.Bar, Sure: true},
		sequence.Released{Of: sequence.OfPressure, Tool: 1, Named: engineer})
	c.toBolt(2, 5)
	rows := csvRows(t, asDone(t, c.close()))
	seen := map[string]int{}
	for _, row := range rows {
		want := ""
		if row["pass"] == "1" {
			want = map[string]string{"A": "2 in", "B": "2.4 HIGH Eva, engineer: looked at"}[row["tool_letter"]]
		}
		if got := ended(row); got != want {
			t.Errorf("pass %s, bolt %s, tool %s: the end is %q, want %q", row["pass"], row["bolt"], row["tool_letter"], got, want)
		}
		seen[want]++
	}
	if len(seen) != 3 {
		t.Errorf("the rows want %v", seen)
	}
}

// TestRowsOfEachAttempt: a pass that ended low keeps its own end when it is done again,
// a bolt by a tool that was changed before the end has none, and a series of check
// rounds has one end.
func TestRowsOfEachAttempt(t *testing.T) {
	c := begin(t, opened(t))
	c.until(func(s sequence.Step) bool { set, ok := s.(sequence.Set); return ok && set.AtEnd })
	s := c.s.Walk.Plan().Passes[0].Settings[0]
	c.do(sequence.PressureSet{AtEnd: true, Running: s.Least - 0.2*unit.Bar, Sure: true})
	c.until(func(s sequence.Step) bool { r, ok := s.(sequence.Check); return ok && r.Round == 1 })
	c.do(sequence.NutMoved{Round: 1, Bolt: 1})
	c.toTheEnd()
	got := map[string]int{}
	for _, row := range csvRows(t, asDone(t, c.close())) {
		got[strings.Join([]string{row["pass"], row["repeat"], row["check_series"], row["check_round"], row["end_judged"]}, ":")]++
	}
	for _, want := range []string{"1::::LOW", "1:1:::in", "2::::in", "2::1:1:in", "2::1:2:in"} {
		if got[want] != 4 {
			t.Errorf("%d rows of %s: %v", got[want], want, got)
		}
	}
}

// TestNoEndOfAnotherTool: what a tool that came later read at the end says nothing of
// the one before it.
func TestNoEndOfAnotherTool(t *testing.T) {
	c, _ := messy(t, nil)
	d := asDone(t, c.close())
	none := 0
	for _, turn := range d.Turns {
		r, ok := d.endOf(turn)
		if ok && (!sameTool(r.Tool, turn.Tool) || r.Line < turn.Line) {
			t.Errorf("line %d, bolt %d has the end of line %d", turn.Line, turn.Bolt, r.Line)
		}
		if !ok && turn.Result == ResultDone {
			none++
		}
	}
	if none == 0 {
		t.Error("no bolt of this walk was done by a tool that was changed before the end")
	}
}
