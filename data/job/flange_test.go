package job

import (
	"errors"
	"math"
	"strings"
	"testing"

	"evenload/joint/unit"
)

// edited is a shipped job with some texts replaced.
func edited(t *testing.T, file string, edits ...string) Job {
	t.Helper()
	text, err := readFile(jobs + file)
	if err != nil {
		t.Fatal(err)
	}
	made := string(text)
	for i := 0; i < len(edits); i += 2 {
		if !strings.Contains(made, edits[i]) {
			t.Fatalf("%s is not in %s", edits[i], file)
		}
		made = strings.Replace(made, edits[i], edits[i+1], 1)
	}
	j, err := Parse("job.toml", []byte(made), jobs)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

const (
	strainer = "strainer-8in-300.toml"
	dn400    = "header-dn400-pn16.toml"
	above    = "[numbering]"
)

// with puts a table before another one of the job.
func with(lines string) (old, new string) { return above, lines + "\n\n" + above }

func pairOf(t *testing.T, j Job) (Pair, string) {
	t.Helper()
	p, err := j.Pair()
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, in := range p.Values {
		if in.Key == "" || in.Value == "" || in.Origin == "" {
			t.Errorf("%+v lacks its key, value or origin", in)
		}
		all = append(all, in.Key+" = "+in.Value+" | "+in.Origin)
	}
	return p, strings.Join(all, "\n")
}

func says(t *testing.T, text string, wants ...string) {
	t.Helper()
	for _, w := range wants {
		if !strings.Contains(text, w) {
			t.Errorf("%q is not said:\n%s", w, text)
		}
	}
}

func millimetres(t *testing.T, what string, got unit.Length, want float64) {
	t.Helper()
	if math.Abs(float64(got)/unit.Millimetre-want) > 0.06 {
		t.Errorf("the %s is %.2f mm, want %.2f", what, float64(got)/unit.Millimetre, want)
	}
}

// All of an ASME B16.5 weld neck is in the tables; the strainer's own grip.
func TestPairOfTables(t *testing.T) {
	p, text := pairOf(t, edited(t, strainer))
	s := p.Section
	if s.Bolts != 12 || p.Gasket != 200e9 {
		t.Errorf("%d bolts, gasket %v", s.Bolts, p.Gasket)
	}
	for _, v := range []struct {
		what string
		got  unit.Length
		want float64
	}{{"outside", s.Outside, 381}, {"thickness", s.Thickness, 39.7}, {"bore", s.Bore, 202.7}, {"hub", s.HubLarge, 260}, {"length", s.HubLength, 110},
		{"pipe", s.Pipe, 219.1}, {"circle", s.BoltCircle, 330.2}, {"hole", s.Hole, 25.4}, {"nut", s.NutBearing, 36.51}, {"gasket inside", s.GasketInner, 233.4},
		{"gasket outside", s.GasketOuter, 263.7}} {
		millimetres(t, v.what, v.got, v.want)
	}
	// 7/8-9: tensile area 0.4617 in² (ASME B1.1), grip 92 mm, 205 GPa.
	want := (92 + 22.225) / (205e3 * 0.4617 * 645.16) // mm/N
	if got := float64(p.Give) * 1e3; math.Abs(got-want) > 2e-4*want {
		t.Errorf("a bolt gives %.5g mm/N, want %.5g", got, want)
	}
	says(t, text, "flange.kind = weld neck | assumption", "flange.outside = 381 mm | table", "flange.hub_large = 260 mm | table, one source", "without raised face | table",
		"flange.bore = 202.7 mm (weld neck) | table, one source", "bolts.grip = 92 mm | job", "gasket.stiffness = 200 N/mm³ (spiral wound, rough) | assumption, from memory",
		"gasket.inner = 233.4 mm", "bolts.nut_width = 1-7/16 in across flats", "bolt stiffness = 535 kN/mm")
}

func TestPairOfJob(t *testing.T) {
	old, now := with(`[flange]
kind = "weld neck"
outside = "380 mm"
thickness = "41 mm"
hub_length = "112 mm"
pipe = "NPS 8 schedule 80"`)
	p, text := pairOf(t, edited(t, strainer, old, now, `grip   = "92 mm"`, "", `type         = "spiral wound, stainless"`, "type = \"spiral wound, stainless\"\nstiffness = \"150 N/mm³\""))
	millimetres(t, "outside", p.Section.Outside, 380)
	millimetres(t, "thickness", p.Section.Thickness, 41)
	millimetres(t, "bore", p.Section.Bore, 219.075-2*12.7) // schedule 80: wall 0.500 in
	millimetres(t, "length", p.Section.HubLength, 112)
	millimetres(t, "hub", p.Section.HubLarge, 260)
	if p.Gasket != 150e9 {
		t.Errorf("gasket %v", p.Gasket)
	}
	says(t, text, "flange.outside = 380 mm | job", "flange.hub_length = 112 mm | job", "flange.hub_large = 260 mm | table, one source", "flange.kind = weld neck | job",
		"(inside of B36.10 NPS 8 schedule 80) | flange.pipe, table, one source", "bolts.grip = 85.2 mm (two flanges and 3.2 mm) | assumption", "gasket.stiffness = 150 N/mm³ | job")
	// Without hub: what is slipped over the pipe is as wide inside as the pipe outside.
	for _, kind := range []string{"slip-on", "lap joint"} {
		old, now := with("[flange]\nkind = \"" + kind + `"`)
		p, text := pairOf(t, edited(t, strainer, old, now))
		if p.Section.HubLarge != 0 || p.Section.Pipe != 0 {
			t.Errorf("a %s has a hub", kind)
		}
		millimetres(t, "bore", p.Section.Bore, 219.075)
		says(t, text, kind+": computed as a ring without hub | job", "outside of B36.10 NPS 8 schedule STD) | assumption")
	}
}

// An EN 1092-1 flange has its plate in the table and no hub.
func TestPairOfEN(t *testing.T) {
	gasket := "[gasket]\ntype = \"fibre sheet\"\ninner = \"425 mm\"\nouter = \"480 mm\"\n\n[target]"
	p, text := pairOf(t, edited(t, dn400, "[target]", gasket))
	if p.Section.HubLarge != 0 || p.Section.Bolts != 16 {
		t.Errorf("%+v", p.Section)
	}
	millimetres(t, "outside", p.Section.Outside, 580)
	millimetres(t, "thickness", p.Section.Thickness, 32)
	millimetres(t, "bore", p.Section.Bore, 406.4-2*9.525)
	says(t, text, "no hub known: computed as a ring without hub, which closes more | assumption", "(inside of B36.10 NPS 16 schedule STD) | assumption",
		"gasket.stiffness = 200 N/mm³ (fibre sheet, rough)", "bolts.grip = 67.2 mm")
	hub := "[flange]\nhub_large = \"450 mm\"\nhub_length = \"85 mm\"\nbore = \"390 mm\"\n\n"
	p, text = pairOf(t, edited(t, dn400, "[target]", hub+gasket))
	millimetres(t, "hub", p.Section.HubLarge, 450)
	millimetres(t, "pipe", p.Section.Pipe, 406.4)
	says(t, text, "flange.hub_large = 450 mm | job", "flange.pipe = outside 406.4 mm (B36.10 NPS 16 schedule STD) | assumption")
}

func TestGasketClasses(t *testing.T) {
	for kind, want := range map[string]float64{
		"spiral wound, stainless, PTFE filled": 200, "Grooved metal, graphite faced": 2000, "corrugated metal": 2000, "flat ring, fibre with rubber binder": 200,
		"soft PTFE": 20, "EPDM rubber with metal core": 2000, "rubber sheet": 20, "graphite sheet": 200, "ring joint": 2000,
	} {
		p, _ := pairOf(t, edited(t, strainer, "spiral wound, stainless\"", kind+"\"\ninner = \"233.4 mm\"\nouter = \"263.7 mm\""))
		if got := float64(p.Gasket) / 1e9; got != want {
			t.Errorf("%s has %v N/mm³, want %v", kind, got, want)
		}
	}
}

// What is not computed is refused by its name, with its line, and what is missing
// is said all at once.
func TestPairRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		file  string
		edits []string
		says  []string
	}{
		"blind":              {strainer, []string{above, "[flange]\nkind = \"blind\"\n\n" + above}, []string{"job.toml:22: a blind flange is not computed"}},
		"positions":          {"filter-cover-10.toml", nil, []string{"job.toml:25: bolts that are no ring are not computed"}},
		"nothing of gasket":  {dn400, nil, []string{"gasket.inner is needed", "gasket.outer is needed", "gasket.stiffness is needed"}},
		"no thickness":       {"booster-dn300-pn25.toml", nil, []string{"flange.thickness is needed", "gasket.inner is needed"}},
		"unknown pipe":       {strainer, []string{above, "[flange]\npipe = \"DN 200, 6.3 mm\"\n\n" + above}, []string{`job.toml:22: flange.pipe: "DN 200, 6.3 mm" is no pipe`}},
		"unknown gasket":     {strainer, []string{"spiral wound, stainless\"", "cork\"\ninner = \"233.4 mm\"\nouter = \"263.7 mm\""}, []string{"gasket.stiffness is needed"}},
		"hub of slip-on":     {strainer, []string{above, "[flange]\nkind = \"slip-on\"\nhub_large = \"250 mm\"\n\n" + above}, []string{"job.toml:23: flange.hub_large and hub_length are of a weld neck"}},
		"half a hub":         {dn400, []string{"[target]", "[flange]\nhub_large = \"450 mm\"\n\n[target]"}, []string{"flange.hub_length is needed"}},
		"no such flange":     {strainer, []string{above, "[flange]\nbore = \"400 mm\"\n\n" + above}, []string{"job.toml:21: the bore is not smaller"}},
		"gasket in the bore": {strainer, []string{above, "[flange]\nbore = \"250 mm\"\n\n" + above}, []string{"job.toml:21: the gasket does not lie"}},
	} {
		_, err := edited(t, c.file, c.edits...).Pair()
		var faults Faults
		if !errors.As(err, &faults) {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, w := range c.says {
			if strings.Count(err.Error(), w) != 1 {
				t.Errorf("%s: not once %q:\n%v", name, w, err)
			}
		}
	}
	text := strings.Replace(least, "[friction]", "[flange]\nkind = \"screwed\"\n[friction]", 1)
	if _, err := Parse("job.toml", []byte(text), "."); err == nil || !strings.Contains(err.Error(), `flange.kind is "screwed", it can be weld neck, slip-on, lap joint, blind`) {
		t.Errorf("a kind that is none: %v", err)
	}
}
