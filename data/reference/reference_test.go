package reference

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"evenload/joint"
	"evenload/joint/unit"
)

// all the tables by the name of their file.
var all = map[string]table{
	"flange_b16_5.csv": asmeFlanges, "flange_b16_5_hub.csv": hubs, "flange_en1092_1.csv": enFlanges, "gasket_b16_20_spiral_wound.csv": seals,
	"gasket_m_y.csv": gaskets, "materials.csv": grades, "nut_factors.csv": lubricants, "nuts_across_flats.csv": nuts,
	"pipe_b36_10.csv": pipes, "scatter_by_method.csv": scatters,
}

// Every row of the checked tables is in the embedded one, and equal.
func TestTablesAreThePublishedOnes(t *testing.T) {
	entries, err := files.ReadDir("tables")
	if err != nil || len(entries) != len(all)+1 { // the list of findings is our own
		t.Fatalf("%d files are embedded, %d tables are known: %v", len(entries), len(all), err)
	}
	for name, tab := range all {
		text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "check", name))
		if err != nil {
			t.Fatal(err)
		}
		want, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		got := tab.get()
		if len(got.Rows) != len(want)-1 || got.Title == "" || len(got.Sources) == 0 {
			t.Fatalf("%s: %d rows, want %d; title %q, sources %q", name, len(got.Rows), len(want)-1, got.Title, got.Sources)
		}
		for i, w := range want[1:] {
			for j, cell := range w {
				if g := got.Rows[i].text(want[0][j]); g != cell {
					t.Errorf("%s row %d, %s: %q, want %q", name, i+1, want[0][j], g, cell)
				}
			}
		}
	}
}

func TestFlangesAsPeopleWriteThem(t *testing.T) {
	for asked, want := range map[string]string{
		"ASME B16.5 NPS 8 class 300": "ASME B16.5 NPS 8 class 300",
		"8 in 300#":                  "ASME B16.5 NPS 8 class 300",
		`8" 300 lb`:                  "ASME B16.5 NPS 8 class 300",
		"nps 8 cl 300":               "ASME B16.5 NPS 8 class 300",
		"8 300":                      "ASME B16.5 NPS 8 class 300",
		"class 300 NPS 8":            "ASME B16.5 NPS 8 class 300",
		"DN 200 class 300":           "ASME B16.5 NPS 8 class 300",
		"1-1/2 in 150#":              "ASME B16.5 NPS 1-1/2 class 150",
		"1 1/2\" 150#":               "ASME B16.5 NPS 1-1/2 class 150",
		"NPS 1.5 class 150":          "ASME B16.5 NPS 1-1/2 class 150",
		"0.5 in class 2500":          "ASME B16.5 NPS 1/2 class 2500",
		"DN200 PN16":                 "EN 1092-1 DN 200 PN 16",
		"EN 1092-1 PN 16 DN 200":     "EN 1092-1 DN 200 PN 16",
		"dn 400 / pn 16":             "EN 1092-1 DN 400 PN 16",
	} {
		f, err := FlangeOf(asked)
		if err != nil || f.Name != want {
			t.Errorf("%q is %q, want %q: %v", asked, f.Name, want, err)
		}
	}
	for asked, near := range map[string]string{
		"NPS 9 class 300": "NPS 8 class 300", "NPS 8 class 350": "class 300", "DN 210 PN 16": "DN 200 PN 16", "a flange": "such as", "": "such as", "class 300": "such as",
	} {
		if _, err := FlangeOf(asked); err == nil || !strings.Contains(err.Error(), near) {
			t.Errorf("%q gives %v, want one that names %q", asked, err, near)
		}
	}
}

// Every flange can be named by its own name, has a thread of a series, a hole
// wider than its bolt and a circle between its raised face and its rim.
func TestEveryFlange(t *testing.T) {
	n := 0
	for _, tab := range []table{asmeFlanges, enFlanges} {
		for _, r := range tab.get().Rows {
			f, err := FlangeOf(r.Name)
			if err != nil || f.Name != r.Name {
				t.Fatalf("%s: %v", r.Name, err)
			}
			thread, err := joint.ParseThread(f.Thread)
			if err != nil {
				t.Errorf("%s: %v", r.Name, err)
			}
			if thread.Inch && thread.Diameter > unit.Inch+1e-9 && !strings.Contains(thread.Designation, "-8 UN") {
				t.Errorf("%s has %s: above 1 in the standard has the 8-UN series", r.Name, thread.Designation)
			}
			if f.Hole <= thread.Diameter || f.Circle <= f.Hole || f.Outside <= f.Circle || f.RaisedFace >= f.Circle || f.Bolts%4 != 0 {
				t.Errorf("%s: %+v", r.Name, f)
			}
			n++
		}
	}
	t.Logf("%d flanges", n)
}

func TestGrades(t *testing.T) {
	for _, c := range []struct {
		asked string
		d     unit.Length // mm
		name  string
		yield float64 // MPa
	}{
		{"B7", 22.225, "A193 B7", 720}, {"ASTM A193 grade B7", 63.5, "A193 B7", 720}, {"A193-B7", 69.85, "A193 B7", 655},
		{"A193 B7", 64, "A193 B7", 720}, {"b7m", 20, "A193 B7M", 550}, {"B8 class 2", 24, "A193 B8 class 2", 550},
		{"8.8", 16, "ISO 898-1 8.8", 640}, {"8.8", 20, "ISO 898-1 8.8", 660}, {"ISO 898-1 10.9", 36, "ISO 898-1 10.9", 940},
		{"L7", 20, "A320 L7 / L7B", 725}, {"grade 5", 12.7, "SAE J429 grade 5", 634}, {"A325", 22.225, "ASTM F3125 A325", 635},
		{"660 class D", 20, "A453 660 class D", 725},
	} {
		g, err := GradeOf(c.asked, c.d*unit.Millimetre)
		if err != nil || g.Name != c.name || float64(g.Yield) != c.yield*1e6 {
			t.Errorf("%q at %v mm is %s with %v, want %s with %v MPa: %v", c.asked, c.d, g.Name, g.Yield, c.name, c.yield, err)
		}
	}
	for asked, want := range map[string]string{"B8": "B8 class 1", "B77": "B7", "A193 B8 class 2": "not made in this size"} {
		if _, err := GradeOf(asked, 60*unit.Millimetre); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q gives %v, want one that names %q", asked, err, want)
		}
	}
	// A range that a later table adds must get its bounds.
	for _, r := range grades.get().Rows {
		if r.text("size_range") != "all" && !strings.HasPrefix(r.text("size_range"), "all ") && r.text("upto_mm")+r.text("over_mm") == "" {
			t.Errorf("%s %s has no bounds", r.Name, r.text("size_range"))
		}
	}
}

// Proof stress times stress area: the proof loads of ISO 898-1, here the
// published one of M12 class 8.8, 48.9 kN, and yield above proof everywhere.
func TestProofLoads(t *testing.T) {
	m12, err := joint.ParseThread("M12")
	if err != nil {
		t.Fatal(err)
	}
	g, err := GradeOf("8.8", m12.Diameter)
	if err != nil {
		t.Fatal(err)
	}
	if kN := float64(g.Proof) * float64(m12.TensileArea()) / 1e3; kN < 48.85 || kN > 48.95 {
		t.Errorf("proof load of M12 8.8 is %.2f kN, ISO 898-1 has 48.9", kN)
	}
	for _, r := range grades.get().Rows {
		if r.number("proof_MPa") >= r.number("yield_MPa") || r.number("yield_MPa") >= r.number("tensile_MPa") {
			t.Errorf("%s: proof, yield and tensile do not rise", r.Name)
		}
	}
}

func TestLubricants(t *testing.T) {
	for asked, want := range map[string]Lubricant{
		"nickel anti-seize": {"nickel-based anti-seize paste", 0.13, 0.15, 0.27, FromMemory},
		"Copper anti-seize": {"copper-based anti-seize paste", 0.08, 0.132, 0.23, FromMemory},
		"MoS2 paste":        {"MoS2 paste or grease", 0.1, 0.13, 0.18, FromMemory},
		"zinc-flake":        {"zinc-flake coating", 0.16, 0, 0.32, ""},
		"machine oil":       {"machine oil", 0.1, 0.21, 0.225, FromMemory},
	} {
		if l, err := LubricantOf(asked); err != nil || l != want {
			t.Errorf("%q is %+v, want %+v: %v", asked, l, want, err)
		}
	}
	for asked, want := range map[string]string{"anti-seize": "may be", "nikel antiseize": "nickel-based", "": "near it"} {
		if _, err := LubricantOf(asked); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q gives %v", asked, err)
		}
	}
	for _, r := range lubricants.get().Rows {
		low, usual, high := r.number("K_min"), r.number("K_mean"), r.number("K_max")
		if usual > 0 && (low > usual || high > 0 && high < usual) {
			t.Errorf("%s does not rise", r.Name)
		}
	}
}

func TestGasketsSealsNutsAndPipe(t *testing.T) {
	if g, err := GasketOf("spiral wound, stainless"); err != nil || g.M != 3 || g.Y != 68.9e6 || g.Mark != "" {
		t.Errorf("%+v: %v", g, err)
	}
	if s, err := SealOf("NPS 8 class 300"); err != nil || s.Inner.Text(unit.SI) != "233.4 mm" || s.Outer.Text(unit.SI) != "263.7 mm" {
		t.Errorf("%+v: %v", s, err)
	}
	if _, err := SealOf("DN 200 PN 16"); err == nil {
		t.Error("an EN flange has no B16.20 gasket")
	}
	for size, want := range map[string]string{"7/8": "1-7/16 in", "1-1/8": "1-13/16 in", "M20": "30 mm", "M72": "105 mm"} {
		n, err := NutsOf(size)
		if err != nil || n[0].Text != want {
			t.Errorf("%s: %+v, want %s: %v", size, n, want, err)
		}
	}
	if n, err := NutsOf("M12"); err != nil || len(n) != 3 || n[0].Text != "18 mm" {
		t.Errorf("M12: %+v: %v", n, err)
	}
	if _, err := NutsOf("M13"); err == nil {
		t.Error("there is no nut M13")
	}
	for asked, wall := range map[string]float64{"NPS 8 schedule 40": 0.322, "8 in sch 40": 0.322, "8 STD": 0.322, "1-1/4 XS": 0.191, "1 1/4 in sch 80": 0.191} {
		if p, err := PipeOf(asked); err != nil || p.Wall != unit.Length(wall*unit.Inch) {
			t.Errorf("%q: %+v: %v", asked, p, err)
		}
	}
	if _, err := PipeOf("NPS 8 schedule 41"); err == nil || !strings.Contains(err.Error(), "schedule 40") {
		t.Errorf("%v", err)
	}
}

// Every row can be found by its own name and carries its table's sources.
func TestEveryEntry(t *testing.T) {
	for _, k := range Kinds() {
		for _, tab := range k.Tables() {
			for _, r := range tab.Rows {
				e, err := k.Entries(r.Name)
				if err != nil || !slices.ContainsFunc(e, func(e Entry) bool { return slices.Equal(e.Cells, r.Cells) }) || len(e[0].Sources) == 0 {
					t.Errorf("%s %q: %v", k.Name, r.Name, err)
				}
			}
		}
	}
}

func TestMarks(t *testing.T) {
	for asked, want := range map[string]Mark{"DN 450 PN 10": FromMemory, "DN 400 PN 16": "", "NPS 8 class 300": "", "NPS 2 class 400": OneSource} {
		if f, err := FlangeOf(asked); err != nil || f.Mark != want {
			t.Errorf("%s: mark %q, want %q: %v", asked, f.Mark, want, err)
		}
	}
	if f, err := FlangeOf("NPS 8 class 300"); err != nil || f.Hub.Mark != OneSource || f.Hub.Large <= f.Hub.Small {
		t.Errorf("hub %+v: %v", f.Hub, err)
	}
}

// BenchmarkTables reads all the tables anew.
func BenchmarkTables(b *testing.B) {
	for b.Loop() {
		for name := range all {
			text, err := files.ReadFile("tables/" + name)
			if err != nil {
				b.Fatal(err)
			}
			parse(name, string(text), func(r Row) string { return r.Cells[0] })
		}
	}
}

// A nut is found by its thread alone, and 7/8 is no part of 1-7/8.
func TestNutsByThread(t *testing.T) {
	for asked, want := range map[string]int{"7/8": 1, "7/8 in": 1, "m20": 2, "heavy hex 1-7/8": 1} {
		rows, err := findNuts(asked)
		if err != nil || len(rows) < want {
			t.Errorf("%q: %d rows, %v", asked, len(rows), err)
		}
		for _, f := range rows {
			if thread := f.row.text("thread"); !strings.Contains(strings.ToUpper(asked), thread) {
				t.Errorf("%q gives a nut of %s", asked, thread)
			}
		}
	}
}
