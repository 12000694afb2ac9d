package job

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

const coverJob = jobs + "filter-cover-10.toml"

// TestCover: where its bolts are, where that comes from, and what is silent.
func TestCover(t *testing.T) {
	j, err := Load(coverJob)
	if err != nil {
		t.Fatal(err)
	}
	l := j.Joint.Positions
	if len(l) != 10 || l[0] != (joint.Position{X: -225 * unit.Millimetre, Y: 150 * unit.Millimetre}) || j.Procedure.Pattern != sequence.Outward || j.Procedure.GapPlaces != 8 {
		t.Errorf("%v, %+v", l, j.Procedure)
	}
	for _, want := range []sequence.Input{
		{Key: "bolts.positions.1.x", Value: "-225 mm", Origin: "job"}, {Key: "bolts.positions.10.y", Value: "0 mm", Origin: "job"},
		{Key: "procedure.pattern", Value: "outward", Origin: "default"}, {Key: "procedure.gap_places", Value: "8", Origin: "default"},
	} {
		if !slices.Contains(j.Inputs, want) {
			t.Errorf("%v is not listed", want)
		}
	}
	if text, _ := os.ReadFile(coverJob); !strings.Contains(string(text), "[bolts]") {
		t.Error("the job has no bolts")
	}
	for i, in := range j.Inputs {
		if in.Key == "numbering.bolt_1" {
			t.Errorf("input %d is bolt_1, which is for a ring", i)
		}
	}
}

// TestCoverFaults changes one thing in a cover's job that is right.
func TestCoverFaults(t *testing.T) {
	text, err := os.ReadFile(coverJob)
	if err != nil {
		t.Fatal(err)
	}
	first := 1 + strings.Count(string(text)[:strings.Index(string(text), "{ x =")], "\n") // line of bolt 1
	line := func(bolt int) string { return fmt.Sprintf("job.toml:%d: ", first+bolt-1) }
	for _, c := range []struct{ name, old, new, want string }{
		{"too near", `{ x = "225 mm", y = "0 mm" }`, `{ x = "225 mm", y = "-125 mm" }`,
			line(6) + fmt.Sprintf("bolts.positions: bolt 6 is 25 mm from bolt 5 (line %d), 1.5 bolt diameters (30 mm) are the least: look at both", first+4)},
		{"twice", `{ x = "-75 mm", y = "150 mm" }`, `{ x = "-225 mm", y = "150 mm" }`, line(2) + "bolts.positions: bolt 2 is 0 mm from bolt 1"},
		{"count", "count  = 10", "count  = 12", "bolts.positions has 10 bolts, bolts.count is 12"},
		{"axis missing", `{ x = "225 mm", y = "0 mm" }`, `{ x = "225 mm" }`, line(5) + "bolts.positions.5.y is missing"},
		{"no length", `{ x = "225 mm", y = "0 mm" }`, `{ x = "225 mm", y = "0 bar" }`, line(5) + `bolts.positions.5.y: "0 bar" is a pressure`},
		{"no text", `{ x = "225 mm", y = "0 mm" }`, `{ x = "225 mm", y = 0 }`, line(5) + "bolts.positions.5.y is a whole number"},
		{"far away", `{ x = "225 mm", y = "0 mm" }`, `{ x = "225 m", y = "0 mm" }`, line(5) + `bolts.positions.5.x is "225 m", a bolt is at most 50 m`},
		{"no table", `{ x = "225 mm", y = "0 mm" }`, `"225 mm"`, line(5) + "bolts.positions: bolt 5 is text"},
		{"a third axis", `y = "0 mm" }`, `y = "0 mm", z = "0 mm" }`, `unknown key "z"`},
		{"a ring's circle", "grade  =", "circle = \"300 mm\"\ngrade  =", "bolts.circle is given beside bolts.positions: keep circle for a ring, positions for a cover"},
		{"a ring's flange", "grade  =", "flange = \"ASME B16.5 NPS 8 class 300\"\ngrade  =", "bolts.flange is given beside bolts.positions: a flange of the tables is a ring"},
		{"a ring's bolt 1", "[numbering]", "[numbering]\nbolt_1 = \"on datum\"", "numbering.bolt_1 is given beside bolts.positions: positions say where bolt 1 is"},
		{"a ring's pattern", "[procedure]", "[procedure]\npattern = \"star\"", `procedure.pattern is "star": bolts with positions take "outward", which silent means, or "given" with an order`},
		{"a bent order", "[procedure]", "[procedure]\npattern = \"given\"\norder = [1, 2, 3]", "missing 4, 5, 6, 7, 8, 9, 10"},
		{"few gap places", "[procedure]", "[procedure]\ngap_places = 2", "procedure.gap_places is 2, it can be 4 to 64"},
	} {
		changed := strings.Replace(string(text), c.old, c.new, 1)
		if changed == string(text) {
			t.Fatalf("%s: %s is not in the job", c.name, c.old)
		}
		if _, err := Parse("job.toml", []byte(changed), jobs); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got\n%v\nwant %s", c.name, err, c.want)
		} else if c.name != "count" && strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: one fault, and the rest follows from it:\n%v", c.name, err)
		}
	}
	inLine := string(text)
	for _, y := range []string{`"150 mm"`, `"-150 mm"`} {
		inLine = strings.ReplaceAll(inLine, "y = "+y, `y = "0 mm"`)
	}
	for i, x := range []string{"-225", "-75", "75", "225", "225", "225", "75", "-75", "-225", "-225"} {
		inLine = strings.Replace(inLine, `{ x = "`+x+` mm"`, fmt.Sprintf(`{ x = "%d.0 mm"`, 60*i), 1)
	}
	if _, err := Parse("job.toml", []byte(inLine), jobs); err == nil || !strings.Contains(err.Error(), "all bolts are on one line") {
		t.Errorf("on one line: %v\n%s", err, inLine)
	}
	given := strings.Replace(string(text), "[procedure]", "[procedure]\npattern = \"given\"\norder = [10, 1, 9, 2, 8, 3, 7, 4, 6, 5]", 1)
	j, err := Parse("job.toml", []byte(given), jobs)
	if err != nil || j.Procedure.Pattern != sequence.Given || len(j.Procedure.Given) != 10 {
		t.Errorf("given: %+v, %v", j.Procedure, err)
	}
}
