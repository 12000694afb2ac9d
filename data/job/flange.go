package job

import (
	"fmt"
	"slices"
	"strings"

	"evenload/data/reference"
	"evenload/joint"
	"evenload/joint/flange"
	"evenload/joint/unit"
	"evenload/sequence"
)

// FlangeKind is what a flange is by its shape.
type FlangeKind string

// The kinds. Only a weld neck has a hub that stiffens it.
const (
	WeldNeck FlangeKind = "weld neck"
	SlipOn   FlangeKind = "slip-on"
	LapJoint FlangeKind = "lap joint"
	Blind    FlangeKind = "blind"
)

// Flange is what a job says of its flanges and of how its gasket gives; 0 and ""
// are silent.
type Flange struct {
	Kind                                          FlangeKind
	Outside, Thickness, Bore, HubLarge, HubLength unit.Length
	Pipe                                          string
	Gasket                                        unit.Stiffness
}

func (r *reader) flangeSizes(t *table) {
	f := &r.job.Flange
	f.Kind = choice(t, "kind", "", WeldNeck, SlipOn, LapJoint, Blind)
	f.Outside = quantity(t, "outside", "", unit.ParseLength)
	f.Thickness = quantity(t, "thickness", "", unit.ParseLength)
	f.Bore = quantity(t, "bore", "", unit.ParseLength)
	f.HubLarge = quantity(t, "hub_large", "", unit.ParseLength)
	f.HubLength = quantity(t, "hub_length", "", unit.ParseLength)
	f.Pipe = t.text("pipe", "")
}

// Pair is what is needed to compute how a joint's bolts unload each other, with
// where every value comes from: the job, a table with its doubt, an assumption.
type Pair struct {
	Section flange.Section
	Give    unit.Compliance // of one bolt
	Gasket  unit.Stiffness
	Values  []sequence.Input
}

// assumed is the origin of what neither job nor table says.
const assumed = "assumption"

// usualGap is between two flanges when they are tight: a spiral-wound gasket (common
// practice).
const usualGap = 3.2 * unit.Millimetre

// Pair takes the flanges of the job, of the tables where the job is silent, and
// says what had to be assumed. The error is Faults: what is not computed, and
// every value that is missing.
func (j Job) Pair() (Pair, error) {
	p := pairing{job: j}
	switch {
	case len(j.Joint.Positions) > 0:
		p.fault("bolts.positions", "bolts that are no ring are not computed: the model is of a ring of equal bolts")
	case j.Flange.Kind == Blind:
		p.fault("flange.kind", "a blind flange is not computed: the model is of two equal flanges with a bore")
	default:
		p.table, _ = reference.FlangeOf(j.About.Flange) // not in the tables: then the job has to say
		p.plate()
		p.bore()
		p.hub()
		p.boltsAndGasket()
	}
	if len(p.faults) == 0 {
		if err := p.Section.Check(); err != nil {
			p.fault("flange", "%v", err)
		}
	}
	if len(p.faults) > 0 {
		return Pair{}, p.faults.sorted(j.Path)
	}
	return p.Pair, nil
}

// pairing fills a Pair.
type pairing struct {
	Pair
	job    Job
	table  reference.Flange
	faults Faults
}

func (p *pairing) fault(key, format string, a ...any) {
	file, line := p.job.Locate(key)
	f := Fault{file, line, fmt.Sprintf(format, a...)}
	if !slices.Contains(p.faults, f) { // the pipe is asked for twice
		p.faults = append(p.faults, f)
	}
}

func (p *pairing) note(key, value, origin string) {
	p.Values = append(p.Values, sequence.Input{Key: key, Value: value, Origin: origin})
}

// read repeats a value that the job was read with, as it stands among its inputs.
func (p *pairing) read(key string) bool {
	for _, in := range p.job.Inputs {
		if in.Key == key {
			p.Values = append(p.Values, in)
			return true
		}
	}
	return false
}

// length is the job's, else the table's, else a fault that says what to give.
func (p *pairing) length(key string, own, table unit.Length, mark reference.Mark, note, missing string) unit.Length {
	switch {
	case own > 0:
		p.read(key)
		return own
	case table > 0:
		p.note(key, table.Text(unit.SI)+note, tableOrigin(mark))
		return table
	}
	p.fault(key, "%s", missing)
	return 0
}

func (p *pairing) plate() {
	f := p.job.Flange
	p.Section.Outside = p.length("flange.outside", f.Outside, p.table.Outside, p.table.Mark, "", "flange.outside is needed, the outside diameter of the flange: no table has it here")
	p.Section.Thickness = p.length("flange.thickness", f.Thickness, p.table.Thickness, p.table.Mark, ", without raised face", "flange.thickness is needed, from the gasket to the nut: no table has it here")
}

// pipe is that of the job, else the standard one of the flange's size.
func (p *pairing) pipe() (of reference.Pipe, origin string, ok bool) {
	if name := p.job.Flange.Pipe; name != "" {
		of, err := reference.PipeOf(name)
		if err != nil {
			p.fault("flange.pipe", "flange.pipe: %v; or take it out and give flange.bore", err)
			return of, "", false
		}
		return of, "flange.pipe, " + tableOrigin(of.Mark), true
	}
	of, err := reference.PipeOf("NPS " + p.table.NPS + " STD")
	return of, assumed + ": standard pipe", err == nil
}

// bore is the pipe's inside, of a flange that is slipped over it the pipe's outside.
func (p *pairing) bore() {
	s, hub := &p.Section, p.table.Hub
	over := p.job.Flange.Kind == SlipOn || p.job.Flange.Kind == LapJoint
	switch {
	case p.job.Flange.Bore > 0:
		p.read("flange.bore")
		s.Bore = p.job.Flange.Bore
		return
	case hub.Bore > 0 && !over && p.job.Flange.Pipe == "":
		p.note("flange.bore", hub.Bore.Text(unit.SI)+" (weld neck)", tableOrigin(hub.Mark))
		s.Bore = hub.Bore
		return
	}
	pipe, origin, ok := p.pipe()
	switch {
	case !ok && p.job.Flange.Pipe != "": // said
	case !ok:
		p.fault("flange.bore", "flange.bore is needed, the inside diameter of the flange: no table has it here")
	case over:
		s.Bore = pipe.Outside
		p.note("flange.bore", fmt.Sprintf("%s (outside of %s)", s.Bore.Text(unit.SI), strings.TrimPrefix(pipe.Name, "ASME ")), origin)
	default:
		s.Bore = pipe.Outside - 2*pipe.Wall
		p.note("flange.bore", fmt.Sprintf("%s (inside of %s)", s.Bore.Text(unit.SI), strings.TrimPrefix(pipe.Name, "ASME ")), origin)
	}
}

// hub fills in the hub of a weld neck. Without one that is known it is a ring,
// which is stated.
func (p *pairing) hub() {
	f, hub := p.job.Flange, p.table.Hub
	given := f.HubLarge > 0 || f.HubLength > 0
	switch {
	case f.Kind == SlipOn || f.Kind == LapJoint:
		if given {
			p.fault("flange.hub_large", "flange.hub_large and hub_length are of a weld neck, and flange.kind is %q: keep one", string(f.Kind))
			return
		}
		p.note("flange.kind", fmt.Sprintf("%s: computed as a ring without hub", f.Kind), "job")
		return
	case !given && hub.Large == 0:
		p.note("flange.hub_large", "no hub known: computed as a ring without hub, which closes more", assumed)
		return
	case f.Kind == "" && !given:
		p.note("flange.kind", string(WeldNeck), assumed+": the job does not say")
	default:
		p.read("flange.kind")
	}
	s := &p.Section
	s.HubLarge = p.length("flange.hub_large", f.HubLarge, hub.Large, hub.Mark, "", "flange.hub_large is needed beside hub_length: the diameter of the hub at the flange")
	s.HubLength = p.length("flange.hub_length", f.HubLength, hub.Length, hub.Mark, "", "flange.hub_length is needed beside hub_large: from the gasket through the hub")
	if f.Pipe == "" && hub.Small > 0 {
		s.Pipe = hub.Small
		p.note("flange.pipe", "outside "+s.Pipe.Text(unit.SI), tableOrigin(hub.Mark))
		return
	}
	pipe, origin, ok := p.pipe()
	if !ok {
		if f.Pipe == "" {
			p.fault("flange.pipe", `flange.pipe is needed beside the hub, such as pipe = "NPS 8 schedule 40"`)
		}
		return
	}
	s.Pipe = pipe.Outside
	p.note("flange.pipe", fmt.Sprintf("outside %s (%s)", s.Pipe.Text(unit.SI), strings.TrimPrefix(pipe.Name, "ASME ")), origin)
}

func (p *pairing) boltsAndGasket() {
	j, s := p.job, &p.Section
	s.Bolts = j.Joint.Bolts
	need := func(key string, v unit.Length, missing string) unit.Length {
		if v > 0 {
			p.read(key)
		} else {
			p.fault(key, "%s", missing)
		}
		return v
	}
	s.BoltCircle = need("bolts.circle", j.Joint.Circle, "bolts.circle is needed, the diameter of the circle of the bolts")
	s.Hole = need("bolts.hole", j.Hole, "bolts.hole is needed, the diameter of the bolt holes")
	p.nut()
	s.GasketInner = need("gasket.inner", j.Joint.Gasket.Inner, "gasket.inner is needed: where the gasket seals on the inside")
	s.GasketOuter = need("gasket.outer", j.Joint.Gasket.Outer, "gasket.outer is needed: where the gasket seals on the outside")
	p.stiffness()
	grip := j.Grip
	switch {
	case grip > 0:
		p.read("bolts.grip")
	case s.Thickness > 0:
		grip = 2*s.Thickness + usualGap
		p.note("bolts.grip", grip.Text(unit.SI)+" (two flanges and 3.2 mm)", assumed)
	}
	// Half a nut at each end takes part: about one diameter in all.
	e := joint.Modulus(j.Joint.Grade)
	p.Give = unit.Compliance(joint.Elongation(j.Joint.Thread, 1, grip, j.Joint.Thread.Diameter, e))
	if p.Give > 0 && grip > 0 {
		p.note("bolt stiffness", fmt.Sprintf("%.0f kN/mm, E As/(grip + d), E %.0f GPa, threaded all along", 1e-6/float64(p.Give), float64(e)/1e9), "computed")
	}
}

// nut bears on the flange up to its flats (common practice).
func (p *pairing) nut() {
	s, j := &p.Section, p.job
	if j.NutWidth > 0 {
		p.read("bolts.nut_width")
		s.NutBearing = j.NutWidth
		return
	}
	nuts, err := reference.NutsOf(j.Joint.Thread.Size())
	if err != nil {
		p.fault("bolts.nut_width", "bolts.nut_width is needed, the nut's width across flats: no table has it here")
		return
	}
	s.NutBearing = nuts[0].Width
	p.note("bolts.nut_width", nuts[0].Text+" across flats ("+nuts[0].Name+")", tableOrigin(nuts[0].Mark))
}

// gasketClasses are rough stiffnesses while the load rises, whole thickness, from
// memory: the first word that the type holds counts.
var gasketClasses = []struct {
	name  string
	by    unit.Stiffness
	words []string
}{
	{"spiral wound", 200e9, []string{"spiral"}},
	{"with a metal core", 2000e9, []string{"metal", "grooved", "corrugated", "jacket", "ring joint"}},
	{"fibre sheet", 200e9, []string{"fibre", "fiber"}},
	{"soft rubber or soft PTFE", 20e9, []string{"rubber", "elastomer", "ptfe"}},
	{"sheet", 200e9, []string{"sheet", "graphite"}},
}

func (p *pairing) stiffness() {
	if p.Gasket = p.job.Flange.Gasket; p.Gasket > 0 {
		p.read("gasket.stiffness")
		return
	}
	kind := strings.ToLower(p.job.About.Gasket)
	for _, c := range gasketClasses {
		for _, w := range c.words {
			if strings.Contains(kind, w) {
				p.Gasket = c.by
				p.note("gasket.stiffness", fmt.Sprintf("%.0f N/mm³ (%s, rough)", float64(c.by)/1e9, c.name), assumed+", from memory")
				return
			}
		}
	}
	p.fault("gasket.stiffness", `gasket.stiffness is needed, such as stiffness = "200 N/mm³", or a gasket.type that says what it is: spiral wound, fibre sheet, rubber, PTFE, metal`)
}
