package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"evenload/data/card"
	"evenload/joint/unit"
	"evenload/sequence"
)

func asDone(t *testing.T, path string) AsDone {
	t.Helper()
	c, err := card.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	d, err := DoneOf(c, nil)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// passOf is a pass as it was done last.
func passOf(d AsDone, pass int) Column {
	passes, _ := d.Columns()
	for _, c := range passes {
		if c.Pass == pass && c.Latest && c.Gasket == d.gasket {
			return c
		}
	}
	return Column{}
}

// TestEachMarkHasItsTurn: of a walk in which most goes wrong, every mark of a
// bolt stands once, with what was taken back; what counts is the last.
func TestEachMarkHasItsTurn(t *testing.T) {
	c, _ := messy(t, nil)
	d := asDone(t, c.close())
	lines := map[string]int{}
	for _, turn := range d.Turns {
		lines[fmt.Sprint(turn.Line, "/", turn.Bolt)]++
	}
	for _, e := range d.Events {
		var bolts []sequence.Bolt
		switch data := e.Data.(type) {
		case sequence.BoltDone:
			bolts = data.Bolts
		case sequence.NutMoved:
			bolts = []sequence.Bolt{data.Bolt}
		case sequence.NutStill:
			bolts = []sequence.Bolt{data.Bolt}
		}
		for _, b := range bolts {
			if n := lines[fmt.Sprint(e.N, "/", b)]; n != 1 {
				t.Errorf("line %d, bolt %d: %d turns", e.N, b, n)
			}
		}
	}
	if turn, ok := d.Last(3, passOf(d, 1)); !ok || turn.Result != ResultDone || turn.Line != 33 {
		t.Errorf("bolt 3 in pass 1: %+v", turn)
	}
	if turn, ok := d.Last(2, passOf(d, 2)); !ok || turn.Result != ResultDone || turn.Tool.ID != "W-02" {
		t.Errorf("bolt 2 in pass 2: %+v", turn)
	}
	if d.State != Closed || len(d.Gaps) != 4 || len(d.People) != 2 {
		t.Errorf("%s, %d gaps, %d people", d.State, len(d.Gaps), len(d.People))
	}
}

// TestOpenBoltsAreSaid: a pass that was never done has its bolts all the same.
func TestOpenBoltsAreSaid(t *testing.T) {
	c := begin(t, opened(t))
	c.toBolt(1, 2)
	d := asDone(t, c.close())
	open := 0
	for _, turn := range d.Turns {
		if turn.Result == ResultOpen {
			open++
		}
	}
	if d.State != Draft || open != 6 || len(d.Turns) != 8 {
		t.Errorf("%s, %d open of %d", d.State, open, len(d.Turns))
	}
}

// TestCSVReadsBack: the same bolts and times in both spellings, torque and
// pressure as planned.
func TestCSVReadsBack(t *testing.T) {
	c, _ := messy(t, nil)
	d := asDone(t, c.close())
	for _, comma := range []bool{false, true} {
		var out bytes.Buffer
		if err := CSV(&out, d, comma); err != nil {
			t.Fatal(err)
		}
		text, bom := strings.CutPrefix(out.String(), "\ufeff")
		r := csv.NewReader(strings.NewReader(text))
		if comma {
			r.Comma = ';'
		}
		rows, err := r.ReadAll()
		if err != nil || !bom || len(rows) != 1+len(d.Turns) {
			t.Fatalf("mark %t, %d rows for %d turns: %v", bom, len(rows), len(d.Turns), err)
		}
		at := map[string]int{}
		for i, name := range rows[0] {
			at[name] = i
		}
		for i, turn := range d.Turns {
			row := rows[1+i]
			set := strings.Replace(row[at["pressure_set"]], ",", ".", 1)
			if comma == strings.Contains(row[at["pressure_set"]], ".") && strings.ContainsAny(row[at["pressure_set"]], ".,") {
				t.Errorf("comma %t: %q", comma, row[at["pressure_set"]])
			}
			if row[at["bolt"]] != fmt.Sprint(turn.Bolt) || row[at["result"]] != turn.Result ||
				turn.Setting.Set > 0 && unit.PressureUnit("bar").Of(number(t, set)).Exact("bar") != turn.Setting.Set.Exact("bar") {
				t.Errorf("row %d: %q", i, row)
			}
			given := strings.Replace(row[at["torque_given"]], ",", ".", 1)
			if turn.Setting.Delivered > 0 && math.Abs(number(t, given)-float64(turn.Setting.Delivered)) > 0.06 {
				t.Errorf("row %d gives %q, want %v", i, given, turn.Setting.Delivered)
			}
			if turn.At.IsZero() {
				continue
			}
			if when, err := time.Parse(time.RFC3339, row[at["at"]]); err != nil || !when.Equal(turn.At) {
				t.Errorf("row %d: %s, %v", i, row[at["at"]], err)
			}
		}
	}
}

func number(t *testing.T, text string) (v float64) {
	t.Helper()
	if _, err := fmt.Sscan(text, &v); err != nil {
		t.Fatal(text, err)
	}
	return v
}

// TestNoCellIsAFormula: names and notes that a spreadsheet would run.
func TestNoCellIsAFormula(t *testing.T) {
	for _, text := range []string{"=1+1", "+1", "-1", "@x", " =1", "\t=1", "\r=1", "＝1", "\ufeff=1"} {
		if got := plainCell(text); strings.ContainsAny(got[:1], "=+-@\t\r ") || strings.HasPrefix(got, "＝") {
			t.Errorf("%q becomes %q", text, got)
		}
	}
	if got := plainCell("Ann-Marie = 2"); got != "Ann-Marie = 2" {
		t.Errorf("a plain name becomes %q", got)
	}
	c := begin(t, opened(t))
	c.name = `=HYPERLINK("x";"y")`
	c.toBolt(1, 2)
	var out bytes.Buffer
	if err := CSV(&out, asDone(t, c.close()), true); err != nil || strings.Contains(out.String(), ";\"=") || strings.Contains(out.String(), ";=") {
		t.Errorf("%v:\n%s", err, out.String())
	}
}

// TestJSONKeepsItsSchema: of walks of all kinds; the schema refuses what lacks a
// field.
func TestJSONKeepsItsSchema(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(RecordSchema))
	if err != nil {
		t.Fatal(err)
	}
	compiler := jsonschema.NewCompiler()
	if err := compiler.AddResource("record.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := compiler.Compile("record.json")
	if err != nil {
		t.Fatal(err)
	}
	c, _ := messy(t, nil)
	paths := []string{c.close(), "../../testdata/cards/DH-220-D1.20261125-aaaaaa.card.jsonl", "../../testdata/cards/DH-220-D1.20261125-bbbbbb.card.jsonl", "../../testdata/walk/one-tool.card.jsonl"}
	half := begin(t, opened(t))
	half.toBolt(1, 2)
	for _, path := range append(paths, half.close()) {
		var out, again bytes.Buffer
		d := asDone(t, path)
		if err := RecordJSON(&out, d); err != nil {
			t.Fatal(err)
		}
		if err := RecordJSON(&again, asDone(t, path)); err != nil || !bytes.Equal(out.Bytes(), again.Bytes()) {
			t.Errorf("%s: two records differ: %v", path, err)
		}
		got, err := jsonschema.UnmarshalJSON(bytes.NewReader(out.Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(got); err != nil {
			t.Errorf("%s: %v", path, err)
		}
		var r recordJSON
		if err := json.Unmarshal(out.Bytes(), &r); err != nil || len(r.Bolts) != len(d.Turns) || len(r.Events) != len(d.Events) || len(r.Studs) != len(d.Walk.Studs()) {
			t.Errorf("%s: %v", path, err)
		}
		delete(got.(map[string]any), "seal")
		if schema.Validate(got) == nil {
			t.Error("the schema takes a record without a seal")
		}
	}
}

// TestDamagedKeepsWhatStandsBefore: what a card says after it left its own plan
// is not taken for done. Practice is refused.
func TestDamagedKeepsWhatStandsBefore(t *testing.T) {
	c := begin(t, opened(t))
	c.toBolt(1, 2)
	done, err := card.Read(c.close())
	if err != nil {
		t.Fatal(err)
	}
	done.Entries[2].Event.Data = sequence.BoltDone{Pass: 1, Bolts: []sequence.Bolt{1}}
	d, err := DoneOf(done, nil)
	if err != nil || d.State != Damaged || len(d.Events) != 2 || !strings.Contains(d.Why, "line 3 ") {
		t.Errorf("%s, %d events, %s: %v", d.State, len(d.Events), d.Why, err)
	}
	done.Path = strings.Replace(done.Path, ".card.", ".practice.", 1)
	if _, err := DoneOf(done, nil); !errors.Is(err, errPractice) {
		t.Errorf("practice: %v", err)
	}
}

// TestNewGasketBeginsAgain: bolts done before a restart stay in the list and do
// not count for the joint.
func TestNewGasketBeginsAgain(t *testing.T) {
	c := begin(t, opened(t))
	c.toBolt(2, 2)
	c.do(sequence.ProblemFound{Bolt: 2, What: sequence.Broke, Batch: "H-441"}, sequence.Released{Of: sequence.OfProblem, Bolt: 2, Restart: true, Named: engineer})
	d := asDone(t, c.close())
	done := 0
	for _, turn := range d.Turns {
		if turn.Result == ResultDone {
			done++
		}
	}
	if turn, ok := d.Last(1, passOf(d, 1)); done != 6 || !ok || turn.Result != ResultOpen {
		t.Errorf("%d done, bolt 1 in pass 1 is %+v", done, turn)
	}
}
