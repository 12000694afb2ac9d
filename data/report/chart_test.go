package report

import (
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/unit"
)

// charts prints the tools of a text as the command does.
func charts(t *testing.T, text, dir string, on joint.Date) string {
	t.Helper()
	tools, system, err := job.ParseTools("file.toml", []byte(text), dir)
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if _, err := Charts(&out, tools, system, on); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// awry is the strainer's tool set at rest, with a gauge in psi, a low first
// point and one that was mistyped.
func awry(t *testing.T) string {
	return strings.NewReplacer(`"running"`, `"static"`, `"0 to 10 bar"`, `"0 to 160 psi"`, `"0.1 bar"`, `"2 psi"`, `"232 N·m"`, `"290 N·m"`,
		`"1.5 bar", torque = "50 N·m"`, `"1.2 bar", torque = "28 N·m"`, `"6.9 bar"`, `"5.5 bar"`, "2036-01-15", "2026-11-01").Replace(read(t, jobs+"strainer-8in-300.toml"))
}

func TestChartsOfShippedTools(t *testing.T) {
	for _, name := range []string{"tools/w-11.toml", "strainer-8in-300.toml", "booster-dn300-pn25.toml"} {
		path := jobs + name
		golden(t, "chart-"+strings.TrimSuffix(filepath.Base(path), ".toml")+".txt", charts(t, read(t, path), filepath.Dir(path), day))
	}
	golden(t, "chart-awry.txt", charts(t, awry(t), jobs, day))
}

// What matters of a chart is said whatever the golden text looks like.
func TestChartSays(t *testing.T) {
	text := charts(t, awry(t), jobs, day)
	for _, want := range []string{"SET AT REST", "LOOKS WRONG", "point 4 of the chart, 214 lbf·ft at 58.015 psi", "chart-point", "gauge G-14 was due for calibration on 2026-11-01",
		"! rated 79.771 psi", "*  below 22 psi (common practice)", "?  beside the point", "certificate   C-2291", "due 2036-06-02", "? looks wrong"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said:\n%s", want, text)
		}
	}
	// 1.2 bar is 17.4 psi, the rating 5.5 bar 79.8 psi: 18 to 78 psi.
	_, table, _ := strings.Cut(text, "POCKET TABLE")
	if !strings.Contains(table, "\n      18 ") || strings.Contains(table, "\n      16 ") || !strings.Contains(table, "      78 ") || strings.Contains(table, "      80 ") {
		t.Errorf("the table leaves chart or rating:\n%s", text)
	}
	if sound := charts(t, read(t, jobs+"strainer-8in-300.toml"), jobs, day); !strings.Contains(sound, "SET WHILE RUNNING") || strings.Contains(sound, "?") || strings.Contains(sound, "*") || !strings.Contains(sound, "all at or above 1.5 bar") {
		t.Errorf("a sound chart:\n%s", sound)
	}
}

func TestChartWithoutTable(t *testing.T) {
	for old, c := range map[string]struct{ new, want string }{
		`"0.1 bar"`: {`"0.001 bar"`, "no table for tool W-07: its gauge has more than 600 divisions"},
		`span     = "0 to 10 bar"
division = "0.1 bar"`: {"span = \"0 to 40 bar\"\ndivision = \"8 bar\"", "no division of the gauge lies inside the chart"},
	} {
		text := strings.Replace(read(t, jobs+"strainer-8in-300.toml"), old, c.new, 1)
		if got := charts(t, text, jobs, day); !strings.Contains(got, c.want) {
			t.Errorf("%s is not said:\n%s", c.want, got)
		}
	}
}

// anyTool draws a tool with a chart from tiny to huge.
func anyTool(t *rapid.T) joint.Tool {
	scale := func(name string) float64 {
		return rapid.SampledFrom([]float64{5e-324, 1e-300, 1e-9, 1, 1e5, 1e18}).Draw(t, name)
	}
	x, y := scale("pressures"), scale("torques")
	pressure, torque := 0.0, 0.0
	var c joint.Chart
	for range rapid.IntRange(2, 9).Draw(t, "points") {
		pressure += x * rapid.Float64Range(1, 30).Draw(t, "pressure")
		torque += y * rapid.Float64Range(1, 30).Draw(t, "torque")
		c = append(c, joint.Point{Pressure: unit.Pressure(pressure), Torque: unit.Torque(torque)})
	}
	u := rapid.SampledFrom([]unit.PressureUnit{unit.InBar, unit.InPsi, unit.InKgfPerCm2, unit.InPascal}).Draw(t, "unit")
	return joint.Tool{ID: "W", Chart: c, MostPressure: unit.Pressure(pressure * rapid.Float64Range(0, 1).Draw(t, "rated")), Gauge: joint.Gauge{High: unit.Pressure(2 * pressure), Division: unit.Pressure(pressure / 20), Unit: u}}
}

// Whatever the chart: title and plot fill a screen of 80x24 at most, in plain
// ASCII, and the curve ends where the chart ends.
func TestPlotFitsTheSmallestScreen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tool := anyTool(t)
		system := rapid.SampledFrom([]unit.System{unit.SI, unit.US}).Draw(t, "system")
		lines := plot(tool, system)
		if len(lines) != 23 {
			t.Fatalf("%d lines", len(lines))
		}
		p := newPlotted(tool, system)
		from, to := plotMargin+p.col(tool.Chart.First().Pressure), plotMargin+p.col(tool.Chart.Last().Pressure)
		for i, line := range lines {
			if len(line) > plotWidth || strings.ContainsFunc(line, func(r rune) bool { return r < ' ' || r > '~' }) {
				t.Fatalf("line %d: %q", i, line)
			}
			for col, sign := range line {
				if i >= 1 && i <= plotRows && col >= plotMargin && strings.ContainsRune("o.?", sign) && (col < from || col > to) {
					t.Fatalf("beyond the chart's ends, %d to %d: %q", from, to, line)
				}
			}
		}
		var out strings.Builder
		if err := chart(&out, tool, system, nil); err != nil {
			t.Fatal(err)
		}
	})
}

// Every point stands where its figures say, read off the axes of the plot.
func TestPlotPutsPointsWhereTheyAre(t *testing.T) {
	tool := joint.Tool{Chart: joint.Chart{{Pressure: 2e5, Torque: 100}, {Pressure: 4e5, Torque: 200}}, Gauge: joint.Gauge{Unit: unit.InBar, Division: 1e4, High: 1e6}}
	lines := plot(tool, unit.SI)
	// The axis goes to 4 bar over 70 columns, half of it at 34.5, and to 200 N·m over 18 rows.
	if top := lines[1]; !strings.HasPrefix(top, "     200 +") || top[len(top)-1] != 'o' || len(top) != 80 {
		t.Errorf("4 bar, 200 N·m: %q", top)
	}
	half := lines[1+9] // 100 N·m is 8.5 rows of 17 up
	if other := lines[1+8]; !strings.Contains(half+other, "o") || max(strings.IndexByte(half, 'o'), strings.IndexByte(other, 'o')) != plotMargin+35 {
		t.Errorf("2 bar, 100 N·m: %q %q", other, half)
	}
	if n := strings.Count(strings.Join(lines[1:1+plotRows], ""), "o"); n != 2 {
		t.Errorf("%d points", n)
	}
}

// TestNoHostileTextInChart: ids and certificates that try to move the terminal.
func TestNoHostileTextInChart(t *testing.T) {
	tools, system, err := job.ParseTools("file.toml", []byte(read(t, jobs+"strainer-8in-300.toml")), jobs)
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(r *rapid.T) {
		tool := tools[0]
		text := func() string { return hostile().Draw(r, "text") }
		tool.ID, tool.Certificate, tool.Gauge.ID = text(), text(), text()
		if rapid.Bool().Draw(r, "no table") {
			tool.Gauge.Division = 1
		}
		var out strings.Builder
		if _, err := Charts(&out, []joint.Tool{tool}, system, late); err != nil {
			r.Fatalf("%v", err)
		}
		checkShown(r, out.String())
		first, _, _ := strings.Cut(out.String(), "\n")
		if !strings.HasSuffix(first, "SET WHILE RUNNING") {
			r.Fatalf("the title is %q", first)
		}
	})
}
