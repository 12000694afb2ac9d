package job

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strconv"

	"evenload/data/reference"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// mostReadings is how many bolts a trial may have.
const mostReadings = 500

// The nut factors that a reading may have at all: what lies beyond is a wrong
// number or unit (usual are 0.08 to 0.4, common practice).
const leastFactor, mostFactor = 0.01, 1

// Trial is a checked file of readings on the site's own bolts.
type Trial struct {
	Path, SHA256 string
	Name         string
	Lubricant    string
	Instrument   string // what measured load or stretch
	MadeBy       string
	MadeOn       joint.Date
	Thread       joint.Thread
	Yield        unit.Stress // 0: not known
	Tensile      unit.Stress // the least of the grade; 0: not known
	Readings     []TrialReading
	System       unit.System // inch threads US, metric threads SI
	Inputs       []sequence.Input
	Result       joint.Trial
}

// TrialReading is a reading with what the file says of it.
type TrialReading struct {
	joint.TrialReading
	TypedTorque string
	Typed       string // the load or the stretch
	Stretch     bool   // Typed is a stretch, the load comes of it
}

// LoadTrial reads a file of readings. The error is Faults when the file could
// be read.
func LoadTrial(path string) (Trial, error) {
	text, err := readFile(path)
	if err != nil {
		return Trial{}, fmt.Errorf("trial file: %w", err)
	}
	return ParseTrial(path, text)
}

// ParseTrial reads the text of a trial file called name.
func ParseTrial(name string, text []byte) (Trial, error) {
	sum := sha256.Sum256(text)
	tr := Trial{Path: name, SHA256: hex.EncodeToString(sum[:])}
	var faults Faults
	t, ok := open(name, text, &faults, &tr.Inputs, "trial")
	switch {
	case !ok:
	case t.has["joint"] != nil:
		t.fault("joint", "this is a job and no trial: a trial has thread, lubricant and readings")
	case t.has["curve"] != nil:
		t.fault("curve", "this is the file of a tool and no trial: a trial has thread, lubricant and readings")
	default:
		tr.read(t)
	}
	if len(faults) > 0 {
		return tr, faults.sorted(name)
	}
	return tr, nil
}

// stud is what turns a stretch into a load.
type stud struct {
	grip, nut unit.Length
	modulus   unit.Stress
}

func (tr *Trial) read(t *table) {
	if t.has["format"] == nil {
		t.fault("", "format is missing, such as format = 1")
	}
	t.whole("format", 0, 1, 1)
	tr.Name = t.text("name", "")
	t.need("lubricant", `"nickel anti-seize"; readings hold for one lubricant only`)
	tr.Lubricant = t.text("lubricant", "")
	tr.Instrument = t.text("instrument", "")
	tr.MadeBy = t.text("made_by", "")
	tr.MadeOn = t.date("made_on")
	t.need("thread", `"7/8-9 UNC"`)
	if name := t.text("thread", ""); name != "" {
		thread, err := joint.ParseThread(name)
		if err != nil {
			t.fault(t.at("thread"), "thread: %v", err)
		}
		tr.Thread = thread
	}
	tr.System = unit.SI
	if tr.Thread.Inch {
		tr.System = unit.US
	}
	grade := t.text("grade", "")
	tr.Yield = quantity(t, "yield", "", unit.ParseStress)
	if g, err := reference.GradeOf(grade, tr.Thread.Diameter); err == nil && grade != "" && tr.Thread.Diameter > 0 {
		tr.Tensile = g.Tensile
		if tr.Yield == 0 && t.has["yield"] == nil {
			tr.Yield = g.Yield
			t.note("yield", fmt.Sprintf("%s (%s, %s)", g.Yield.Text(tr.System), g.Name, g.Sizes), tableOrigin(g.Mark))
		}
	}
	s := tr.stud(t, grade)
	tr.readings(t, s)
	t.end()
}

// stud reads grip, nut and modulus; a nut or a modulus that is silent comes of
// thread and grade, where a stretch needs it.
func (tr *Trial) stud(t *table, grade string) stud {
	s := stud{grip: quantity(t, "grip", "", unit.ParseLength), nut: quantity(t, "nut_height", "", unit.ParseLength),
		modulus: quantity(t, "modulus", "", unit.ParseStress)}
	if !stretched(t) {
		return s
	}
	t.need("grip", `"92 mm", where stretch is read`)
	if t.has["nut_height"] == nil && tr.Thread.Diameter > 0 {
		nuts, err := reference.NutsOf(tr.Thread.Size())
		if err == nil && nuts[0].Height > 0 {
			s.nut = nuts[0].Height
			t.note("nut_height", s.nut.Text(tr.System)+" ("+nuts[0].Name+")", tableOrigin(nuts[0].Mark))
		} else {
			t.need("nut_height", `"20 mm", where stretch is read`)
		}
	}
	if t.has["modulus"] == nil && grade == "" {
		t.fault("", `grade is missing, such as grade = "A193 B7", where stretch is read; or give modulus = "205 GPa"`)
	} else if t.has["modulus"] == nil {
		s.modulus = joint.Modulus(grade)
		t.note("modulus", fmt.Sprintf("%.0f GPa", float64(s.modulus)/1e9), "default")
	}
	return s
}

// stretched says whether any reading has a stretch.
func stretched(t *table) bool {
	switch all := t.has["readings"].(type) {
	case []any:
		for _, v := range all {
			if m, ok := v.(map[string]any); ok && m["stretch"] != nil {
				return true
			}
		}
	case []map[string]any:
		for _, m := range all {
			if m["stretch"] != nil {
				return true
			}
		}
	}
	return false
}

func (tr *Trial) readings(t *table, s stud) {
	t.need("readings", `[ { torque = "90 N·m", load = "34 kN" }, ... ], or stretch = "0.21 mm" in place of load`)
	before := len(*t.faults)
	var all []joint.TrialReading
	// The readings have a table of their own in the report.
	unlisted := *t.source
	unlisted.inputs = new([]sequence.Input)
	for i, v := range t.list("readings", mostReadings) {
		at := join("readings", strconv.Itoa(i))
		m, ok := v.(map[string]any)
		if !ok {
			t.fault(at, `readings: reading %d is %s, { torque = "90 N·m", load = "34 kN" } is wanted`, i+1, typeName(v))
			continue
		}
		r := &table{source: &unlisted, path: at, name: "readings." + strconv.Itoa(i+1), has: m}
		one := tr.reading(r, s)
		tr.Readings = append(tr.Readings, one)
		all = append(all, one.TrialReading)
	}
	if len(*t.faults) > before || t.has["readings"] == nil || tr.Thread.Diameter <= 0 {
		return
	}
	for i, r := range all {
		if k := r.NutFactor(tr.Thread); !(k >= leastFactor && k <= mostFactor) && r.Load > 0 {
			t.fault(join("readings", strconv.Itoa(i)), "readings: reading %d, %s and %s, is a nut factor of %.3g, and 0.08 to 0.4 is usual: look at figures and units",
				i+1, clean(tr.Readings[i].TypedTorque), clean(tr.Readings[i].Typed), k)
		}
	}
	if len(*t.faults) > before {
		return
	}
	result, err := joint.NewTrial(tr.Thread, all)
	switch {
	case errors.Is(err, joint.ErrFewReadings):
		t.fault("readings", "readings: %v", err)
	case err != nil && t.quiet(): // a fault of grip or nut says why no load is known
		t.fault("readings", "readings: %v", err)
	}
	tr.Result = result
}

// quiet says that nothing is wrong so far.
func (s *source) quiet() bool { return len(*s.faults) == 0 }

// reading reads one bolt of a trial.
func (tr *Trial) reading(t *table, s stud) TrialReading {
	var r TrialReading
	t.need("torque", `"90 N·m"`)
	r.Torque = quantity(t, "torque", "", unit.ParseTorque)
	r.Load = quantity(t, "load", "", unit.ParseForce)
	stretch := quantity(t, "stretch", "", unit.ParseLength)
	r.TypedTorque, _ = t.has["torque"].(string)
	switch {
	case t.has["load"] != nil && t.has["stretch"] != nil:
		t.fault(t.at("stretch"), "%s has load and stretch, give the one that was measured", t.name)
	case t.has["load"] != nil:
		r.Typed, _ = t.has["load"].(string)
	case t.has["stretch"] == nil:
		t.fault(t.path, `%s has neither load nor stretch, such as load = "34 kN" or stretch = "0.21 mm"`, t.name)
	default:
		r.Stretch = true
		r.Typed, _ = t.has["stretch"].(string)
		if s.grip > 0 && s.nut > 0 && tr.Thread.Diameter > 0 {
			r.Load = joint.StretchLoad(tr.Thread, stretch, s.grip, s.nut, s.modulus)
		}
	}
	t.end()
	return r
}

// OverYield lists the readings, 1 the first, whose load is above the yield of
// the bolts on the tensile area: a stretch is no load there.
func (tr Trial) OverYield() []int { return tr.above(tr.Yield) }

// OverTensile lists the readings whose load is above the least tensile strength of
// the grade: hardly a load of these bolts.
func (tr Trial) OverTensile() []int { return tr.above(tr.Tensile) }

func (tr Trial) above(limit unit.Stress) []int {
	var all []int
	for i, r := range tr.Readings {
		if limit > 0 && float64(r.Load) > float64(limit)*float64(tr.Thread.TensileArea()) {
			all = append(all, i+1)
		}
	}
	return all
}
