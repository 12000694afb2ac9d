package job

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

const jobs = "../../testdata/jobs/"

var day = joint.Date{Year: 2026, Month: time.November, Day: 25}

// TestShippedJobs also holds that their tools work where a tool works well:
// each pass at 1.5 to 6 bar (common practice) on a division in the band.
func TestShippedJobs(t *testing.T) {
	files, _ := filepath.Glob(jobs + "*.toml")
	if len(files) < 4 {
		t.Fatalf("only %d job files are shipped", len(files))
	}
	var all []Job
	for _, f := range files {
		j, err := Load(f)
		if err != nil {
			t.Errorf("%v", err)
		}
		if !IsJob(f) {
			t.Errorf("%s is not seen as a job", f)
		}
		all = append(all, j)
	}
	practice, err := Practice()
	if err != nil || len(practice) != 6 {
		t.Fatalf("practice joints: %d, %v", len(practice), err)
	}
	for i, bolts := range []int{4, 8, 12, 36, 9, 12} {
		if practice[i].Joint.Bolts != bolts {
			t.Errorf("practice joint %d has %d bolts, not %d", i+1, practice[i].Joint.Bolts, bolts)
		}
	}
	for _, j := range append(all, practice...) {
		p, findings := j.Plan(day)
		findings = slices.DeleteFunc(findings, func(f joint.Finding) bool { return f.Severity == joint.Note })
		if len(findings) > 0 || len(p.Passes) < 3 {
			t.Errorf("%s: %d passes, %v", j.Path, len(p.Passes), findings)
		}
		for _, pass := range p.Passes {
			if s := pass.Settings[0]; s.Set < 1.5*unit.Bar || s.Set > 6*unit.Bar {
				t.Errorf("%s: %s of the target is set to %s", j.Path, pass.Share.Text(), s.Set.Text(unit.SI))
			}
		}
		if share := p.Aim.YieldShare; share < 0.3 || share > 0.6 {
			t.Errorf("%s: the target is %s of yield", j.Path, share.Text())
		}
		for _, tool := range j.Joint.Tools {
			if tool.Due.Year != 2036 || tool.Gauge.Due.Year != 2036 {
				t.Errorf("%s: tool %s is due on %s, its gauge on %s", j.Path, tool.ID, tool.Due, tool.Gauge.Due)
			}
		}
	}
}

const least = `format = 1
[joint]
tag = "F1"
[bolts]
count = 12
thread = "M20"
[friction]
nut_factor = 0.15
[target]
torque = "200 N·m"
[[tools]]
id = "W-1"
curve = [{ pressure = "1 bar", torque = "40 N·m" }, { pressure = "6 bar", torque = "300 N·m" }]
gauge = { span = "0 to 10 bar", division = "0.1 bar" }
`

// TestDefaults has the values that are common practice where a job is silent,
// and that each is listed as a default.
func TestDefaults(t *testing.T) {
	j, err := Parse("job.toml", []byte(least), ".")
	if err != nil {
		t.Fatal(err)
	}
	p := j.Procedure
	want := sequence.Procedure{Pattern: sequence.Star, Passes: []unit.Share{0.3, 0.6, 1}, ToolsAtOnce: 1, Snug: 0.2, GapPlaces: 4,
		GapFirst: 0.8 * unit.Millimetre, GapSpread: 0.5 * unit.Millimetre, CheckRounds: 4, Rest: 4 * time.Hour, RestartAfter: 30 * time.Minute, ReadBack: 0.02}
	if fmt.Sprint(p) != fmt.Sprint(want) {
		t.Errorf("got  %v\nwant %v", p, want)
	}
	tool := j.Joint.Tools[0]
	if tool.Reading != joint.Running || tool.GaugeAt != joint.AtRegulator || tool.AccuracyOf != "reading" || j.Joint.Friction.Scatter != 0.3 {
		t.Errorf("tool %v, scatter %v", tool, j.Joint.Friction.Scatter)
	}
	a := j.About
	if a.Datum != "top centre" || a.ViewedFrom != "tool side" || a.Bolt1OnDatum || a.ApprovedBy != "" || j.Conditions != (sequence.Conditions{DriveGas: "air"}) {
		t.Errorf("about %v, conditions %v", a, j.Conditions)
	}
	var got []string
	for _, in := range j.Inputs {
		got = append(got, in.Key+" = "+in.Value+" ("+in.Origin+")")
	}
	if text := strings.Join(got, "\n"); text != inputs {
		t.Errorf("inputs:\n%s", text)
	}
}

const inputs = `format = 1 (job)
joint.tag = F1 (job)
joint.never_connected = false (default)
bolts.count = 12 (job)
bolts.thread = M20 (job)
numbering.datum = top centre (default)
numbering.viewed_from = tool side (default)
numbering.bolt_1 = first clockwise of datum (default)
friction.nut_factor = 0.15 (job)
friction.scatter = 30 % (default)
target.torque = 200 N·m (job)
tools.1.id = W-1 (job)
tools.1.accuracy_of = reading (default)
tools.1.reading = running (default)
tools.1.gauge_at = regulator (default)
tools.1.curve.1.pressure = 1 bar (job)
tools.1.curve.1.torque = 40 N·m (job)
tools.1.curve.2.pressure = 6 bar (job)
tools.1.curve.2.torque = 300 N·m (job)
tools.1.gauge.span = 0 to 10 bar (job)
tools.1.gauge.division = 0.1 bar (job)
procedure.pattern = star (default)
procedure.passes = 30 %, 60 %, 100 % (default)
procedure.tools_at_once = 1 (default)
procedure.gap_places = 4 (default)
procedure.gap_spread before the first pass = 0.8 mm (default)
procedure.gap_spread = 0.5 mm (default)
procedure.check_rounds = 4 (default)
procedure.rest = 4 h (default)
procedure.restart_after = 30 min (default)
procedure.read_back = 2 % (default)
procedure.snug by hand, at most = 20 % (default)
conditions.at_height = false (default)
conditions.hazardous_area = false (default)
conditions.drive_gas = air (default)`

// TestEveryKeyIsRead takes a job with every key that there is, long friction
// and an order of its own.
func TestEveryKeyIsRead(t *testing.T) {
	j, err := Load("testdata/every-key.toml")
	if err != nil {
		t.Fatal(err)
	}
	f := j.Joint.Friction
	if f.NutFactor != 0 || f.Thread != 0.12 || f.Bearing != 0.14 || f.BearingInner != 22*unit.Millimetre || f.BearingOuter != 30*unit.Millimetre {
		t.Errorf("friction %+v", f)
	}
	p := j.Procedure
	if p.Rest != 90*time.Minute || !slices.Equal(p.Given, []sequence.Bolt{1, 3, 2, 4}) || !slices.Equal(p.Hold, []sequence.Hold{{Name: "before 100 %", At: sequence.HoldBeforePass, Pass: len(p.Passes)}}) || p.GapPlaces != 4 {
		t.Errorf("procedure %+v", p)
	}
	tool := j.Joint.Tools[0]
	if tool.Reading != joint.Static || tool.Gauge.Unit != unit.InPsi || math.Abs(tool.Gauge.High.In(unit.InPsi)-160) > 1e-9 || tool.HoseLength != 10 {
		t.Errorf("tool %+v", tool)
	}
	if !j.About.Bolt1OnDatum || j.System != unit.SI || j.Joint.Target.Area != joint.Root || j.Joint.Air.Supply != 7*unit.Bar {
		t.Errorf("job %+v", j)
	}
	text, _ := os.ReadFile("testdata/every-key.toml")
	for _, key := range libraryKeys(t, string(text)) {
		key = strings.ReplaceAll(strings.ReplaceAll(key, "positions.0", "positions.1"), "tools.0", "tools.1")
		if parts := strings.Split(key, "."); len(parts) < 2 || slices.Contains([]string{"tools", "positions", "curve", "passes", "order", "hold", "gauge"}, parts[len(parts)-1]) || strings.Contains(key, "curve") || strings.Trim(parts[len(parts)-1], "0123456789") == "" {
			continue
		}
		if !slices.ContainsFunc(j.Inputs, func(in sequence.Input) bool { return in.Key == key }) && !strings.Contains(key, "positions.") {
			t.Errorf("%s is not listed", key)
		}
	}
}

func TestLocate(t *testing.T) {
	j, err := Load(jobs + "header-dn400-pn16.toml")
	if err != nil {
		t.Fatal(err)
	}
	tool := filepath.Join(jobs, "tools/w-11.toml")
	for key, want := range map[string]string{
		"target":             j.Path + ":22",
		"target.yield_share": j.Path + ":23",
		"joint.approved_by":  j.Path + ":11",
		"bolts.grip":         j.Path + ":14",
		"procedure.passes":   j.Path + ":1",
		"tools.0.due":        tool + ":5",
		"tools.0.curve":      tool + ":9",
		"tools.0.curve.2":    tool + ":12",
		"tools.0.hose_bore":  tool + ":1",
		"tools.0.gauge.due":  tool + ":23",
		"":                   j.Path + ":1",
	} {
		if file, line := j.Locate(key); fmt.Sprintf("%s:%d", file, line) != want {
			t.Errorf("%s is at %s:%d, want %s", key, file, line, want)
		}
	}
}

func TestToolFileIsNamedAsOrigin(t *testing.T) {
	j, err := Load(jobs + "header-dn400-pn16.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, in := range j.Inputs {
		if in.Key == "tools.1.certificate" && in.Origin == "tool file tools/w-11.toml" {
			return
		}
	}
	t.Error("the certificate is not listed as out of the tool file")
}

func TestLoadSaysWhatIsNotThere(t *testing.T) {
	_, err := Load(filepath.Join(t.TempDir(), "none.toml"))
	var faults Faults
	if !errors.Is(err, os.ErrNotExist) || errors.As(err, &faults) {
		t.Errorf("got %v", err)
	}
	if IsJob(jobs + "tools/w-11.toml") {
		t.Error("a tool file is taken for a job")
	}
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := Load(jobs + "exchanger-cover-32.toml"); err != nil {
			b.Fatal(err)
		}
	}
}
