package report

import (
	"fmt"
	"io"
	"strings"
	"time"

	"evenload/data/job"
	"evenload/data/reference"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// Plan prints a plan for people.
func Plan(out io.Writer, j job.Job, p sequence.Plan, findings []joint.Finding) error {
	t := newTable(out)
	s := p.System
	t.row(p.About.Tag + "  " + p.About.Where)
	if p.About.ApprovedBy == "" {
		t.row("UNAPPROVED")
	} else {
		t.row("approved by " + p.About.ApprovedBy + " " + p.About.ApprovedOn.String())
	}
	t.head("TARGET", "(estimates: torque is not load)")
	t.row("bolts", fmt.Sprintf("%d x %s", p.Bolts, p.Thread), "tensile area "+j.Joint.Thread.TensileArea().Text(s), "root area "+j.Joint.Thread.RootArea().Text(s))
	if width, text := socket(j); width > 0 {
		t.row("socket", text)
	}
	t.row("bolt load", "about "+p.Aim.Load.Text(s))
	t.row("bolt stress", p.Aim.TensileStress.Text(s)+" on the tensile area", p.Aim.RootStress.Text(s)+" on the root area")
	if p.Aim.YieldShare > 0 {
		t.row("share of yield", p.Aim.YieldShare.Text()+" on the tensile area")
	}
	t.row("torque", p.Aim.Torque.Text(s), fmt.Sprintf("nut factor %.3g", p.Aim.NutFactor))
	if stretch, ok := elongation(j, p); ok {
		t.row("elongation", "about "+stretch+" of each stud, between the middles of its nuts, if threaded all along")
	}
	t.row("snug", "by hand, at most "+p.Snug.Torque.Text(s))
	if scatter, ok := scatterOf(j, p); ok {
		t.head("SCATTER", "of one bolt's load at the last setting, estimated", "low", "high")
		for _, part := range scatter.Parts {
			t.row("", part.Name, "-"+percent(part.Low), "+"+percent(part.High))
		}
		t.row("", "together (root of squares)", "-"+percent(scatter.Low), "+"+percent(scatter.High))
		t.row("", "bolt load", "about "+scatter.LowLoad().Text(s), "about "+scatter.HighLoad().Text(s))
	}
	t.head("PASSES", "tool", "torque", "pressure", "read back", "set to", "gives", "foot force")
	for _, pass := range p.Passes {
		for i, set := range pass.Settings {
			tool := p.Tools[i]
			foot := "-"
			if set.Foot > 0 {
				foot = set.Foot.Text(s)
			}
			t.row(pass.Share.Text(), tool.ID, set.Torque.Text(s), tool.Fine(set.Pressure),
				tool.Band(set), tool.Gauged(set.Set), set.Delivered.Text(s), foot)
		}
	}
	t.head("ORDER", fmt.Sprintf("%s, bolts numbered clockwise, seen from the %s", p.Pattern, p.About.ViewedFrom))
	t.row("", order(p.Stations))
	t.row("gaps", fmt.Sprintf("beside bolts %s", sequence.BoltList(p.GapPlaces)), fmt.Sprintf("spread at most %s after snug, %s after a pass", p.GapFirst.Text(s), p.GapSpread.Text(s)))
	t.row("check rounds", fmt.Sprintf("at most %d, clockwise at full torque, until no nut moves; rest %s", p.CheckRounds, span(p.Rest)))
	t.head("INPUTS")
	for _, in := range j.Inputs {
		t.row(in.Key, in.Value, in.Origin)
	}
	t.head("FINDINGS")
	if len(findings) == 0 {
		t.row("none")
	}
	for _, f := range findings {
		t.row(Located(j, f).String())
	}
	t.head("CAUTIONS")
	for _, c := range []string{sequence.SiteFirst, sequence.OnlyFor, sequence.NotLoadWord,
		"The responsible engineer approves torque, lubricant, order and limits."} {
		t.row(c)
	}
	return t.w.Flush()
}

// scatterOf is the scatter at the setting of the last pass, false where there
// is none.
func scatterOf(j job.Job, p sequence.Plan) (joint.Scatter, bool) {
	if len(p.Passes) == 0 || len(p.Passes[len(p.Passes)-1].Settings) == 0 {
		return joint.Scatter{}, false
	}
	return j.Joint.Scatter(p.Tools[0], p.Passes[len(p.Passes)-1].Settings[0]), true
}

// socket is the width of the nuts across flats, 0 where no table has it, with
// what it is for.
func socket(j job.Job) (unit.Length, string) {
	if j.NutWidth > 0 {
		return j.NutWidth, j.NutWidth.Text(j.System) + ", as the job gives it"
	}
	nuts, err := reference.NutsOf(j.Joint.Thread.Size())
	if err != nil {
		return 0, ""
	}
	var all []string
	for _, n := range nuts {
		text := n.Text + " for " + n.Name
		if j.Joint.Thread.Inch {
			text = fmt.Sprintf("%s (%.1f mm) for %s", n.Text, float64(n.Width)/unit.Millimetre, n.Name)
		}
		if n.Mark != "" {
			text += " (" + string(n.Mark) + ")"
		}
		all = append(all, text)
	}
	text := strings.Join(all, ", or ")
	if len(all) > 1 {
		text += ": measure"
	}
	return nuts[0].Width, text
}

// elongation is how much each stud stretches at the target, to two figures;
// false where grip or nut are not known.
func elongation(j job.Job, p sequence.Plan) (string, bool) {
	nuts, err := reference.NutsOf(j.Joint.Thread.Size())
	if err != nil || nuts[0].Height <= 0 || j.Grip <= 0 || p.Aim.Load <= 0 {
		return "", false
	}
	stretch := joint.Elongation(j.Joint.Thread, p.Aim.Load, j.Grip, nuts[0].Height, joint.Modulus(p.About.Grade))
	if p.System == unit.US {
		return fmt.Sprintf("%.2g in", float64(stretch)/unit.Inch), true
	}
	return fmt.Sprintf("%.2g mm", float64(stretch)/unit.Millimetre), true
}

// percent prints a share without decimals: no scatter is known better.
func percent(s unit.Share) string { return fmt.Sprintf("%.0f %%", float64(s)*100) }

func order(stations []sequence.Station) string {
	var parts []string
	for _, s := range stations {
		parts = append(parts, strings.ReplaceAll(sequence.BoltList(s), ", ", "+"))
	}
	return strings.Join(parts, " ")
}

// span prints a length of time without the parts that are nothing: 4h, 1h30m.
func span(s sequence.Span) string {
	text := time.Duration(s).String()
	switch {
	case s == 0:
		return "none"
	case strings.HasSuffix(text, "h0m0s"):
		return strings.TrimSuffix(text, "0m0s")
	case strings.HasSuffix(text, "m0s"):
		return strings.TrimSuffix(text, "0s")
	}
	return text
}

// planJSON is what other programs may rely on; unknown is null, never 0.
type planJSON struct {
	Format    int                `json:"format"`
	Tag       string             `json:"tag"`
	Bolts     int                `json:"bolts"`
	Thread    string             `json:"thread"`
	SocketMm  *float64           `json:"socket_mm"`
	Area      map[string]float64 `json:"area_mm2"`
	Target    map[string]any     `json:"target"`
	Scatter   any                `json:"scatter"`
	Gasket    any                `json:"gasket"`
	Stations  []sequence.Station `json:"stations"`
	Passes    []passJSON         `json:"passes"`
	Findings  []Finding          `json:"findings"`
	SnugNm    any                `json:"snug_Nm"`
	GapPlaces []sequence.Bolt    `json:"gap_places"`
	Inputs    []sequence.Input   `json:"inputs"`
}

type passJSON struct {
	Share float64    `json:"share"`
	Tools []toolJSON `json:"tools"`
}

type toolJSON struct {
	ID        string   `json:"id"`
	Torque    float64  `json:"torque_Nm"`
	Pressure  float64  `json:"pressure_bar"`
	Set       float64  `json:"set_bar"`
	Delivered float64  `json:"delivered_Nm"`
	Least     float64  `json:"least_bar"`
	Most      float64  `json:"most_bar"`
	Foot      *float64 `json:"foot_force_kN"`
}

type scatterJSON struct {
	Low      float64    `json:"low"`
	High     float64    `json:"high"`
	LowLoad  float64    `json:"low_load_kN"`
	HighLoad float64    `json:"high_load_kN"`
	Parts    []partJSON `json:"parts"`
}

type partJSON struct {
	Name string  `json:"name"`
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

func newScatterJSON(s joint.Scatter) scatterJSON {
	out := scatterJSON{Low: float64(s.Low), High: float64(s.High), LowLoad: float64(s.LowLoad()) / 1e3, HighLoad: float64(s.HighLoad()) / 1e3}
	for _, p := range s.Parts {
		out.Parts = append(out.Parts, partJSON{p.Name, float64(p.Low), float64(p.High)})
	}
	return out
}

// known is null for 0.
func known(v float64) any {
	if v == 0 {
		return nil
	}
	return v
}

// FaultsJSON is the plan of a job whose files cannot be read: only why.
func FaultsJSON(faults job.Faults) any {
	return planJSON{Format: 1, Passes: []passJSON{}, Findings: ofFaults(faults)}
}

// PlanJSON is the plan for other programs.
func PlanJSON(j job.Job, p sequence.Plan, findings []joint.Finding) any {
	out := planJSON{Format: 1, Tag: p.About.Tag, Bolts: p.Bolts, Thread: p.Thread, Stations: p.Stations, Inputs: j.Inputs,
		Passes: []passJSON{}, Findings: []Finding{}, SnugNm: known(float64(p.Snug.Torque)), GapPlaces: p.GapPlaces,
		Area: map[string]float64{"tensile": float64(j.Joint.Thread.TensileArea()) * 1e6, "root": float64(j.Joint.Thread.RootArea()) * 1e6}}
	out.Target = map[string]any{"bolt_stress_MPa": known(float64(p.Aim.TensileStress) / 1e6), "bolt_load_kN": known(float64(p.Aim.Load) / 1e3),
		"torque_Nm": known(float64(p.Aim.Torque)), "nut_factor": known(p.Aim.NutFactor), "yield_share": known(float64(p.Aim.YieldShare))}
	if width, _ := socket(j); width > 0 {
		mm := float64(width) / unit.Millimetre
		out.SocketMm = &mm
	}
	scatter, scattered := scatterOf(j, p)
	if scattered {
		out.Scatter = newScatterJSON(scatter)
	}
	if p.Aim.Load > 0 {
		if area := j.Joint.Gasket.Area(); area > 0 {
			stress := func(load unit.Force) float64 { return float64(load) * float64(p.Bolts) / float64(area) / 1e6 }
			gasket := map[string]any{"area_mm2": float64(area) * 1e6, "stress_MPa": stress(p.Aim.Load), "low_MPa": nil, "high_MPa": nil}
			if scattered {
				gasket["low_MPa"], gasket["high_MPa"] = stress(scatter.LowLoad()), stress(scatter.HighLoad())
			}
			out.Gasket = gasket
		}
	}
	for _, pass := range p.Passes {
		one := passJSON{Share: float64(pass.Share)}
		for i, s := range pass.Settings {
			t := toolJSON{p.Tools[i].ID, float64(s.Torque), s.Pressure.In(unit.InBar), s.Set.In(unit.InBar), float64(s.Delivered),
				s.Least.In(unit.InBar), s.Most.In(unit.InBar), nil}
			if s.Foot > 0 {
				kN := float64(s.Foot) / 1e3
				t.Foot = &kN
			}
			one.Tools = append(one.Tools, t)
		}
		out.Passes = append(out.Passes, one)
	}
	for _, f := range findings {
		out.Findings = append(out.Findings, Located(j, f))
	}
	return out
}
