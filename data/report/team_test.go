package report

import (
	"slices"
	"strings"
	"testing"

	"evenload/data/card"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

const booster = jobs + "booster-dn300-pn25.toml"

// TestRecordNamesToolOfEachBolt: every bolt of every pass with the tool that
// turned it, every reading with its tool.
func TestRecordNamesToolOfEachBolt(t *testing.T) {
	j := load(t, booster)
	o := opened(t)
	o.Plan, _ = j.Plan(day)
	o.Plan.GapPlaces = o.Plan.GapPlaces[:2]
	c := begin(t, o)
	c.toBolt(1, 5)
	c.do(sequence.Undone{Bolts: []sequence.Bolt{1, 9}})
	c.toBolt(1, 5)
	c.do(sequence.ProblemFound{Bolt: 5, Reason: "the nut binds"})
	c.until(func(s sequence.Step) bool { _, ok := s.(sequence.Release); return ok })
	c.do(sequence.Undone{Bolt: 5})
	c.until(func(s sequence.Step) bool { set, ok := s.(sequence.Set); return ok && set.AtEnd && set.Slot == 1 })
	high := o.Plan.Passes[0].Settings[1].Set + 0.5*unit.Bar
	c.do(sequence.PressureSet{AtEnd: true, Tool: 1, Running: high, Sure: true}, sequence.Released{Of: sequence.OfPressure, Tool: 1, Named: engineer})
	c.toTheEnd()
	text := recordOf(t, c.close())
	for _, want := range []string{
		"tool A         W-21 certificate C-2331", "tool B         W-22 certificate C-2332", "check rounds   clockwise with tool A alone",
		"pressure set, read back with tool A W-21 2 bar running", "pressure set, read back with tool B W-22 1.9 bar running",
		"bolts 1, 9 taken back", "bolt 5 left undone: the nut binds", "pass 1, bolt 13 with tool B W-22 done", "pass 1, bolt 5 with tool A W-21 done",
		"end reading with tool A W-21 2 bar running", "the pressure above its band at the end of the pass with tool B W-22, by Eva",
		"check round 1.1, nut 16 still with tool A W-21",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the record does not say %q:\n%s", want, text)
		}
	}
	w, err := sequence.New(&o.Plan)
	if err != nil {
		t.Fatal(err)
	}
	for pass := 2; pass <= 3; pass++ {
		for _, s := range o.Plan.Stations {
			want := Sentence(w, sequence.BoltDone{Pass: pass, Bolts: s})
			if strings.Count(text, want) != 1 || !strings.Contains(want, " with tool A W-21, bolt ") || !strings.Contains(want, " with tool B W-22 done") {
				t.Errorf("station %v of pass %d: %q", s, pass, want)
			}
		}
	}
}

// TestPlanOfSeveralTools: what is worst of any tool is what other programs read.
func TestPlanOfSeveralTools(t *testing.T) {
	j := load(t, booster)
	j.Joint.Tools[1].Accuracy = 0.3
	j.Joint.Gasket = joint.Gasket{Inner: 0.32, Outer: 0.37, MostStress: 80e6}
	got := decoded(t, j, day)
	number := func(path string) float64 {
		t.Helper()
		v, err := at(got, path)
		if err != nil {
			t.Fatal(err)
		}
		return v.(float64)
	}
	a, b := number("scatter_by_tool #0 high_load_kN"), number("scatter_by_tool #1 high_load_kN")
	if b <= a || number("scatter high_load_kN") != b {
		t.Errorf("high loads %v and %v, the scatter has %v", a, b, number("scatter high_load_kN"))
	}
	if v, _ := at(got, "stations #0"); len(v.([]any)) != 2 {
		t.Errorf("the first station is %v", v)
	}
	// The gasket's limit lies between the high loads of the two tools.
	load := (a + b) / 2 * 1e3 * float64(j.Joint.Bolts)
	j.Joint.Gasket.MostStress = unit.Stress(load / float64(j.Joint.Gasket.Area()))
	got = decoded(t, j, day)
	verdicts := map[any]any{}
	limits, _ := at(got, "limits")
	for _, one := range limits.([]any) {
		verdicts[one.(map[string]any)["code"]] = one.(map[string]any)["verdict"]
	}
	if verdicts["gasket-crush"] != "warning" {
		t.Errorf("verdicts: %v", verdicts)
	}
	text := planText(t, j, day)
	for _, want := range []string{"SCATTER A W-21", "SCATTER B W-22", "LIMITS A W-21", "LIMITS B W-22", "tool B W-22: gasket: crush"} {
		if !strings.Contains(text, want) {
			t.Errorf("the plan does not say %q:\n%s", want, text)
		}
	}
}

// TestCardOfOneToolReplays: a card that was written before several tools could be
// walked goes on at every line, and ends as it did.
func TestCardOfOneToolReplays(t *testing.T) {
	c, err := card.Read("../../testdata/walk/one-tool.card.jsonl")
	if err != nil || c.Torn != nil {
		t.Fatal(c.Torn, err)
	}
	o := c.Opened()
	events := c.Events()[1:]
	for n := range events {
		if _, err := sequence.Replay(&o.Plan, events[:n]); err != nil {
			t.Fatal(err)
		}
	}
	w, err := sequence.Replay(&o.Plan, events)
	if err != nil || !w.IsClosed() {
		t.Fatalf("closed %t: %v", w.IsClosed(), err)
	}
	want := []string{"answered no and released by Eva: Are both faces clean and undamaged?", "gaps after snug not even, spread 3 mm, accepted by Eva: looked at",
		"bolt 2 left undone in the pass at 50 % (nut runs dry), released by Eva: looked at", "pressure high at the end of the pass at 50 %, 3.02 bar, released by Eva: looked at",
		"work stopped by Ann: a leak at the drain", "work opened again by Ann with permit P-3371", "nuts still moved in check round 2, released by Eva: looked at"}
	if got := w.Exceptions(); !slices.Equal(got, want) {
		t.Errorf("the exceptions are %q", got)
	}
}

// TestToolWithAnotherGauge: the same tool comes back with another gauge and chart, so
// that it is set otherwise. Both have a row of their own, with what they were set to and read.
func TestToolWithAnotherGauge(t *testing.T) {
	o := opened(t)
	c := begin(t, o)
	c.toBolt(2, 3)
	other := o.Plan.Tools[0]
	other.Certificate, other.Gauge.ID, other.Chart = "C-9901", "G-77", slices.Clone(other.Chart)
	for i := range other.Chart {
		other.Chart[i].Pressure *= 1.06
	}
	change, err := c.s.Walk.ToolChange(0, other, joint.DateOf(c.at))
	if err != nil {
		t.Fatal(err)
	}
	change.Reason, change.GoOn = "the gauge sticks", &engineer
	first, second := o.Plan.Passes[1].Settings[0].Set, change.Settings[1].Set
	if first == second {
		t.Fatal("both gauges are set alike")
	}
	c.do(change)
	c.toTheEnd()
	done, err := card.Read(c.close())
	if err != nil {
		t.Fatal(err)
	}
	d, err := DoneOf(done, nil)
	if err != nil {
		t.Fatal(err)
	}
	was, now := o.Plan.Tools[0].ID, o.Plan.Tools[0].ID+" with gauge G-77"
	var rows [][]string
	for _, row := range d.PassRows() {
		if row[0] == o.Plan.Passes[1].Share.Text() {
			rows = append(rows, row)
		}
	}
	if len(rows) != 2 || rows[0][1] != was || rows[1][1] != now || rows[0][3] != o.Plan.Tools[0].Gauged(first) || rows[1][3] != other.Gauged(second) ||
		rows[0][4] != d.Plan.Passes[1].Settings[0].Delivered.Text(d.Plan.System) || rows[0][2] == rows[0][4] {
		t.Errorf("pass 2 has %q", rows)
	}
	var out strings.Builder
	if err := RecordText(&out, d); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"tool at the end", was + " certificate C-9901 ", "gauge G-77 due", "in place of " + was + " with gauge " + o.Plan.Tools[0].Gauge.ID} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the record does not say %q:\n%s", want, out.String())
		}
	}
	out.Reset()
	if err := RecordJSON(&out, d); err != nil || strings.Count(out.String(), `"gauge": "G-77"`) < 2+4 {
		t.Errorf("%v: the gauge is in the JSON %d times", err, strings.Count(out.String(), `"gauge": "G-77"`))
	}
}

// TestMissedBoltOfAnotherTool: a bolt that was missed is of the tool that it belongs
// to, also when that one is at another bolt now.
func TestMissedBoltOfAnotherTool(t *testing.T) {
	j := load(t, booster)
	o := opened(t)
	o.Plan, _ = j.Plan(day)
	o.Plan.GapPlaces = o.Plan.GapPlaces[:2]
	c := begin(t, o)
	c.toBolt(1, 5)
	c.do(sequence.ProblemFound{Bolt: 9, What: sequence.Missed})
	done, err := card.Read(c.close())
	if err != nil {
		t.Fatal(err)
	}
	d, err := DoneOf(done, nil)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(d.Turns, func(t BoltTurn) bool { return t.Result == ResultProblem })
	set := o.Plan.Passes[0].Settings[1]
	if turn := d.Turns[i]; turn.Bolt != 9 || turn.Slot != 1 || turn.Letter != "B" || turn.Tool.ID != "W-22" || turn.Setting != set || turn.Read != set.Set || !strings.Contains(turn.Note, "tool B W-22") {
		t.Errorf("%+v", turn)
	}
}
