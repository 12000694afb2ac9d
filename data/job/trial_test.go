package job

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenload/joint"
	"evenload/joint/unit"
)

const trials = "../../testdata/trials/"

// leastTrial is all that a trial needs.
const leastTrial = `format = 1
thread = "M20"
lubricant = "MoS2 paste"
readings = [
  { torque = "100 N·m", load = "25 kN" },
  { torque = "100 N·m", load = "26 kN" },
  { torque = "100 N·m", load = "24 kN" },
]
`

func TestTrialsOfShippedFiles(t *testing.T) {
	for name, c := range map[string]struct {
		readings, outliers int
		system             unit.System
	}{"strainer-bolts.toml": {10, 0, unit.US}, "header-studs.toml": {8, 1, unit.SI}} {
		tr, err := LoadTrial(trials + name)
		if err != nil {
			t.Error(err)
			continue
		}
		if len(tr.Readings) != c.readings || tr.Result.All.Readings != c.readings || len(tr.Result.Outliers) != c.outliers || tr.System != c.system || tr.Yield <= 0 || tr.Lubricant == "" || len(tr.SHA256) != 64 {
			t.Errorf("%s: %+v", name, tr)
		}
		for _, in := range tr.Inputs {
			if strings.HasPrefix(in.Key, "readings") {
				t.Errorf("%s: the inputs list %s", name, in.Key)
			}
		}
	}
}

// By hand: M20 has As 244.79 mm² (ISO 898-1); 0.1 mm over 80 mm of grip and a
// nut of 20 mm is 0.1 x 205 000 x 244.79/100 = 50 183 N, with 200 N·m a nut factor of 0.19927. With
// 195 GPa the load is 47 735 N.
func TestTrialOfStretch(t *testing.T) {
	text := strings.ReplaceAll(leastTrial, `torque = "100 N·m", load = "25 kN"`, `torque = "200 N·m", stretch = "0.1 mm"`) +
		"grip = \"80 mm\"\nnut_height = \"20 mm\"\n"
	for add, want := range map[string]float64{"grade = \"8.8\"\n": 50183, "grade = \"A2-70\"\n": 47735, "modulus = \"205 GPa\"\n": 50183, "grade = \"8.8\"\nmodulus = \"195 GPa\"\n": 47735} {
		tr, err := ParseTrial("trial.toml", []byte(text+add))
		if err != nil {
			t.Errorf("%s: %v", add, err)
			continue
		}
		r := tr.Readings[0]
		if math.Abs(float64(r.Load)/want-1) > 1e-3 || !r.Stretch || r.Typed != "0.1 mm" || r.TypedTorque != "200 N·m" || tr.Readings[1].Stretch {
			t.Errorf("%s: %+v, want %v N", add, r, want)
		}
		if k := tr.Result.NutFactors[0]; math.Abs(k-200/(0.02*want)) > 1e-3 {
			t.Errorf("%s: nut factor %v", add, k)
		}
	}
	// The nut comes of the table: ISO 4032 M20, 18 mm; 0.1 mm over 98 mm is 51 206 N.
	tr, err := ParseTrial("trial.toml", []byte(strings.Replace(text, "nut_height = \"20 mm\"\n", "grade = \"8.8\"\n", 1)))
	if err != nil || math.Abs(float64(tr.Readings[0].Load)/51206-1) > 1e-3 {
		t.Errorf("nut of the table: %+v, %v", tr.Readings, err)
	}
}

// Yield of 8.8 in M20 is 660 MPa (ISO 898-1), 162 kN on the tensile area.
func TestTrialOverYield(t *testing.T) {
	text := strings.ReplaceAll(leastTrial, `"100 N·m", load = "26 kN"`, `"700 N·m", load = "170 kN"`)
	for add, want := range map[string]int{"grade = \"8.8\"\n": 1, "yield = \"700 MPa\"\ngrade = \"8.8\"\n": 0, "": 0} {
		tr, err := ParseTrial("trial.toml", []byte(text+add))
		if over := tr.OverYield(); err != nil || len(over) != want || want == 1 && over[0] != 2 {
			t.Errorf("%q: %v, %v", add, over, err)
		}
	}
}

// The least tensile load of 8.8 in M20 is 203 kN (ISO 898-1, from memory).
func TestTrialOverTensile(t *testing.T) {
	for load, want := range map[string]int{"202 kN": 0, "204 kN": 1} {
		text := strings.ReplaceAll(leastTrial, `"100 N·m", load = "26 kN"`, `"700 N·m", load = "`+load+`"`)
		tr, err := ParseTrial("trial.toml", []byte(text+"yield = \"900 MPa\"\ngrade = \"8.8\"\n"))
		if over := tr.OverTensile(); err != nil || len(over) != want || want == 1 && over[0] != 2 {
			t.Errorf("%s: %v, %v", load, over, err)
		}
	}
}

func TestTrialFaults(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{`format = 1`, ``, `:1: format is missing`},
		{`format = 1`, `format = 2`, `:1: format is 2, this version reads 1 only`},
		{`thread = "M20"`, ``, `:1: thread is missing`},
		{`"M20"`, `"M21"`, `:2: thread: "M21"`},
		{`lubricant = "MoS2 paste"`, ``, `:1: lubricant is missing, such as lubricant = "nickel anti-seize"; readings hold for one lubricant only`},
		{`lubricant = `, `lubricnat = `, `:3: unknown key "lubricnat" in the file, did you mean "lubricant"?`},
		{`"26 kN"`, `"26 mm"`, `:6: readings.2.load: "26 mm" is a length, a force is wanted`},
		{`"26 kN"`, `26`, `:6: readings.2.load: "26" has no unit`},
		{`"26 kN"`, `"-26 kN"`, `:6: readings.2.load is "-26 kN", it has to be above zero`},
		{`"26 kN"`, `"26 N"`, `:6: readings: reading 2, 100 N·m and 26 N, is a nut factor of 192, and 0.08 to 0.4 is usual: look at figures and units`},
		{`load = "26 kN"`, ``, `:6: readings.2 has neither load nor stretch`},
		{`load = "26 kN"`, `load = "26 kN", stretch = "0.1 mm"`, `:6: readings.2 has load and stretch, give the one that was measured`},
		{`load = "26 kN"`, `stretch = "0.1 mm"`, `:1: grip is missing, such as grip = "92 mm", where stretch is read`},
		{`load = "26 kN"`, `stretch = "0.1 mm"`, `:1: grade is missing, such as grade = "A193 B7", where stretch is read; or give modulus = "205 GPa"`},
		{`torque = "100 N·m", load = "26 kN"`, `load = "26 kN"`, `:6: readings.2.torque is missing`},
		{`load = "26 kN"`, `load = "26 kN", bolt = 2`, `:6: unknown key "bolt" in [readings.2]`},
		{`  { torque = "100 N·m", load = "26 kN" },` + "\n", ``, `:4: readings: too few readings: 2, and a spread needs 3, better ten`},
		{`  { torque = "100 N·m", load = "26 kN" },`, `  7,`, `:6: readings: reading 2 is a whole number`},
		{"[\n", "7 #[\n", `:5: not readable as TOML`},
		{`thread = "M20"`, "thread = \"M20\"\njoint = 1", `:3: this is a job and no trial`},
		{`thread = "M20"`, "thread = \"M20\"\ncurve = []", `:3: this is the file of a tool and no trial`},
		{`"MoS2 paste"`, `"MoS2\u001bpaste"`, `:3: lubricant holds the character U+001B`},
	} {
		text := strings.Replace(leastTrial, c.old, c.new, 1)
		if text == leastTrial {
			t.Fatalf("%s is not in the trial", c.old)
		}
		if _, err := ParseTrial("trial.toml", []byte(text)); err == nil || !strings.Contains(err.Error(), "trial.toml"+c.want) {
			t.Errorf("%s for %s: got %v, want %s", c.new, c.old, err, c.want)
		}
	}
	// All faults come in one run, by line.
	_, err := ParseTrial("trial.toml", []byte(strings.NewReplacer(`"M20"`, `"M21"`, `"24 kN"`, `"24"`, `"25 kN"`, `""`).Replace(leastTrial)))
	if faults, ok := err.(Faults); !ok || len(faults) != 3 || faults[0].Line != 2 || faults[1].Line != 5 || faults[2].Line != 7 {
		t.Errorf("got %v", err)
	}
	if _, err := LoadTrial(t.TempDir()); err == nil || !strings.Contains(err.Error(), "trial file") {
		t.Errorf("a folder: %v", err)
	}
}

func FuzzTrial(f *testing.F) {
	files, _ := filepath.Glob(trials + "*.toml")
	if len(files) == 0 {
		f.Fatal("no trials")
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Add([]byte(leastTrial))
	f.Fuzz(func(t *testing.T, text []byte) {
		tr, err := ParseTrial("trial.toml", text)
		if err != nil {
			checkVisible(t, strings.ReplaceAll(err.Error(), "\n", ""))
			for _, fault := range err.(Faults) {
				if fault.Line < 1 || len(fault.Text) > 5000 {
					t.Fatalf("line %d, %d bytes: %s", fault.Line, len(fault.Text), fault.Text)
				}
			}
			return
		}
		checkVisible(t, tr.Name+tr.Lubricant+tr.Instrument+tr.MadeBy)
		for _, r := range tr.Readings {
			checkVisible(t, r.Typed+r.TypedTorque)
		}
		s := tr.Result.All
		if n := len(tr.Readings); n < joint.FewestReadings || s.Readings != n || !(s.Least > 0) || !(s.Mean >= s.Least*(1-1e-9)) || !(s.Mean <= s.Most*(1+1e-9)) || math.IsNaN(s.Low+s.High+s.MeanLow+s.MeanHigh) {
			t.Fatalf("%d readings: %+v", n, s)
		}
		tr.OverYield()
	})
}
