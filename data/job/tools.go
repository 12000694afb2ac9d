package job

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"evenload/data/visible"
	"evenload/joint"
	"evenload/joint/unit"
)

// tools reads [[tools]], each in the job or in a file of its own.
func (r *reader) tools(top *table) {
	list := top.list("tools", 16)
	if top.has["tools"] == nil || list != nil && len(list) == 0 {
		top.fault("", "%s", NoTool)
	}
	for i, v := range list {
		path := join("tools", strconv.Itoa(i))
		m, ok := v.(map[string]any)
		if !ok {
			top.fault(path, "tools: entry %d is %s, a table [[tools]] is wanted", i+1, typeName(v))
			continue
		}
		t := &table{source: top.source, path: path, name: "tools." + strconv.Itoa(i+1), has: m, given: true}
		// A tool that cannot be read keeps its place, so that those behind it
		// are named by their own.
		var tool joint.Tool
		if m["file"] != nil {
			tool = r.toolFile(t)
		} else {
			tool = r.tool(t)
		}
		r.job.Joint.Tools = append(r.job.Joint.Tools, tool)
	}
	r.sameIDs(top)
}

func (r *reader) sameIDs(top *table) {
	var ids []string
	for i, t := range r.job.Joint.Tools {
		if t.ID != "" && slices.Contains(ids, t.ID) {
			top.fault(join("tools", strconv.Itoa(i)), "two tools have the id %q, each tool is listed once", clean(t.ID))
		}
		ids = append(ids, t.ID)
	}
}

// toolFile reads a tool out of a file beside or below the job file.
func (r *reader) toolFile(t *table) joint.Tool {
	t.need("file", `"tools/w-07.toml"`)
	name := t.text("file", "")
	for _, key := range slices.Sorted(maps.Keys(t.has)) {
		if key != "file" {
			t.fault(t.at(key), "%s stands beside file, the tool file says all: take one of them out", t.key(clean(key)))
		}
	}
	if name == "" {
		return joint.Tool{}
	}
	path, err := within(r.dir, name)
	var text []byte
	if err == nil {
		text, err = readFile(path)
	}
	if err != nil {
		t.fault(t.at("file"), "%s is %q: %s", t.key("file"), clean(name), visible.Text(err.Error()))
		return joint.Tool{}
	}
	tool, ok := open(path, text, t.faults, t.inputs, "tool file "+name)
	if !ok {
		return joint.Tool{}
	}
	sum := sha256.Sum256(text)
	r.job.ToolFiles = append(r.job.ToolFiles, Sum{name, hex.EncodeToString(sum[:])})
	tool.name = t.name
	for key, line := range tool.lines {
		r.job.places[join(t.path, key)] = place{path, line}
	}
	r.job.places[t.path] = place{path, 1}
	if tool.has["file"] != nil {
		tool.take("file")
		tool.fault("file", "a tool file cannot name another file, give the tool itself")
	}
	return r.tool(tool)
}

// within finds a file that does not leave dir, by its name or by a link.
func within(dir, name string) (string, error) {
	local := filepath.FromSlash(name)
	if !filepath.IsLocal(local) || strings.ContainsRune(name, '\\') || strings.ContainsRune(name, ':') {
		return "", errors.New("a tool file lies beside or below the job file, such as \"tools/w-07.toml\"")
	}
	path := filepath.Join(dir, local)
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		if errors.Is(err, os.ErrNotExist) {
			return "", errors.New("there is no such file, look at its name and folder")
		}
		return "", errors.New("it cannot be read")
	}
	home, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return "", errors.New("its folder cannot be read")
	}
	if rel, err := filepath.Rel(home, real); err != nil || !filepath.IsLocal(rel) {
		return "", errors.New("it is a link that leaves the folder of the job file")
	}
	return path, nil
}

// tool reads one tool with its gauge and curve.
func (r *reader) tool(t *table) joint.Tool {
	var tool joint.Tool
	t.need("id", `"W-07"`)
	tool.ID = t.text("id", "")
	tool.Certificate = t.text("certificate", "")
	tool.Calibrated = t.date("calibrated")
	tool.Due = t.date("due")
	if !tool.Calibrated.IsZero() && !tool.Due.IsZero() && tool.Due.Before(tool.Calibrated) {
		t.fault(t.at("due"), "%s is %s, before it was calibrated on %s", t.key("due"), tool.Due, tool.Calibrated)
	}
	tool.Accuracy = quantity(t, "accuracy", "", unit.ParseShare)
	if tool.Accuracy > 0.5 {
		t.fault(t.at("accuracy"), "%s is above 50 %%, 3 %% to 5 %% is usual", t.key("accuracy"))
	}
	tool.AccuracyOf = choice(t, "accuracy_of", "reading", "reading", "top")
	tool.Reading = choice(t, "reading", joint.Running, joint.Running, joint.Static)
	tool.MostPressure = quantity(t, "most_pressure", "", unit.ParsePressure)
	tool.ReactionArm = quantity(t, "reaction_arm", "", unit.ParseLength)
	tool.GaugeAt = choice(t, "gauge_at", joint.AtRegulator, joint.AtRegulator, joint.AtTool)
	tool.HoseBore = quantity(t, "hose_bore", "", unit.ParseLength)
	tool.HoseLength = quantity(t, "hose_length", "", unit.ParseLength)
	tool.Chart = r.curve(t)
	tool.Gauge = r.gauge(t.sub("gauge"), t)
	t.end()
	return tool
}

func (r *reader) curve(t *table) joint.Chart {
	t.need("curve", `[ { pressure = "1.0 bar", torque = "80 N·m" }, ... ]`)
	before := len(*t.faults)
	points := t.list("curve", mostPoints)
	chart := make(joint.Chart, 0, len(points))
	path, name := t.at("curve"), t.key("curve")
	for i, v := range points {
		at := join(path, strconv.Itoa(i))
		m, ok := v.(map[string]any)
		if !ok {
			t.fault(at, `%s: point %d is %s, { pressure = "1.0 bar", torque = "80 N·m" } is wanted`, t.key("curve"), i+1, typeName(v))
			continue
		}
		p := &table{source: t.source, path: at, name: join(name, strconv.Itoa(i+1)), has: m, asked: make([]string, 0, 2)}
		p.need("pressure", `"1.0 bar"`)
		p.need("torque", `"80 N·m"`)
		point := joint.Point{Pressure: quantity(p, "pressure", "", unit.ParsePressure), Torque: quantity(p, "torque", "", unit.ParseTorque)}
		p.end()
		chart = append(chart, point)
	}
	if len(*t.faults) > before || t.has["curve"] == nil {
		return nil
	}
	var wrong *joint.ChartError
	if err := chart.Check(); errors.As(err, &wrong) {
		text := fmt.Sprintf("%s: point %d %s", t.key("curve"), wrong.Point+1, wrong.Why)
		if i := wrong.Point; i > 0 && i < len(points) {
			text += fmt.Sprintf(": %s after %s; a chart rises in both", asWritten(points[i]), asWritten(points[i-1]))
		}
		t.fault(join(t.at("curve"), strconv.Itoa(wrong.Point)), "%s", text)
		return nil
	}
	return chart
}

// asWritten is a point of a chart as the file has it.
func asWritten(point any) string {
	m, _ := point.(map[string]any)
	return fmt.Sprintf("%v at %v", m["torque"], m["pressure"])
}

func (r *reader) gauge(t, tool *table) joint.Gauge {
	g := joint.Gauge{Unit: unit.InBar}
	if !t.given {
		tool.fault(tool.path, "%s is missing: id, class, span and division", tool.key("gauge"))
		return g
	}
	g.ID = t.text("id", "")
	g.Class = t.plain("class", 10)
	t.need("span", `"0 to 10 bar"`)
	if text := t.text("span", ""); text != "" {
		r.span(t, text, &g)
	}
	t.need("division", `"0.1 bar"`)
	g.Division = quantity(t, "division", "", unit.ParsePressure)
	if g.Division > 0 && g.High > 0 && g.Division > (g.High-g.Low)/4 {
		t.fault(t.at("division"), "%s is coarser than a quarter of the span", t.key("division"))
	}
	if text, ok := t.has["division"].(string); ok && g.Division > 0 && g.High > 0 {
		if _, u, err := unit.ParseGaugePressure(text); err == nil && u != g.Unit {
			t.fault(t.at("division"), "%s is in %s and the span in %s: a dial has one unit", t.key("division"), u, g.Unit)
		}
	}
	g.Due = t.date("due")
	t.end()
	return g
}

// span reads "0 to 10 bar".
func (r *reader) span(t *table, text string, g *joint.Gauge) {
	from, to, ok := strings.Cut(text, " to ")
	if !ok {
		t.fault(t.at("span"), "%s is %q, \"0 to 10 bar\" is wanted", t.key("span"), clean(text))
		return
	}
	high, u, err := unit.ParseGaugePressure(to)
	if err != nil {
		t.fault(t.at("span"), "%s: %v", t.key("span"), err)
		return
	}
	low, err := unit.ParsePressure(strings.TrimSpace(from) + " " + string(u))
	if err != nil {
		t.fault(t.at("span"), "%s: %v", t.key("span"), err)
		return
	}
	if low < 0 || low >= high {
		t.fault(t.at("span"), "%s is %q, it begins at 0 or above and rises", t.key("span"), clean(text))
		return
	}
	g.Low, g.High, g.Unit = low, high, u
}
