package report

import (
	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

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
	Limits    []limitJSON        `json:"limits"`
	SnugNm    any                `json:"snug_Nm"`
	GapPlaces []sequence.Bolt    `json:"gap_places"`
	Positions [][2]float64       `json:"positions_mm"` // null for a ring
	Inputs    []sequence.Input   `json:"inputs"`

	ScatterByTool []scatterJSON `json:"scatter_by_tool,omitempty"` // by slot, with several tools; scatter is the highest
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
func FaultsJSON(path string, faults job.Faults) any {
	return planJSON{Format: 1, Passes: []passJSON{}, Findings: ofFaults(path, faults), Limits: []limitJSON{}}
}

// PlanJSON is the plan for other programs.
func PlanJSON(j job.Job, p sequence.Plan, findings []joint.Finding) any {
	out := planJSON{Format: 1, Tag: p.About.Tag, Bolts: p.Bolts, Thread: p.Thread, Stations: p.Stations, Inputs: j.Inputs,
		Passes: []passJSON{}, Findings: []Finding{}, Limits: limitsJSON(j, p), SnugNm: known(float64(p.Snug.Torque)), GapPlaces: p.GapPlaces, Positions: positionsMm(p),
		Area: map[string]float64{"tensile": float64(j.Joint.Thread.TensileArea()) * 1e6, "root": float64(j.Joint.Thread.RootArea()) * 1e6}}
	out.Target = map[string]any{"bolt_stress_MPa": known(float64(p.Aim.TensileStress) / 1e6), "bolt_load_kN": known(float64(p.Aim.Load) / 1e3),
		"torque_Nm": known(float64(p.Aim.Torque)), "nut_factor": known(p.Aim.NutFactor), "yield_share": known(float64(p.Aim.YieldShare))}
	if width, _ := socket(j); width > 0 {
		mm := float64(width) / unit.Millimetre
		out.SocketMm = &mm
	}
	all := scatters(j, p)
	low, high := outermost(all)
	if len(all) > 0 {
		out.Scatter = newScatterJSON(high)
	}
	if len(all) > 1 {
		for _, one := range all {
			out.ScatterByTool = append(out.ScatterByTool, newScatterJSON(one))
		}
	}
	if p.Aim.Load > 0 {
		if area := j.Joint.Gasket.Area(); area > 0 {
			stress := func(load unit.Force) float64 { return float64(load) * float64(p.Bolts) / float64(area) / 1e6 }
			gasket := map[string]any{"area_mm2": float64(area) * 1e6, "stress_MPa": stress(p.Aim.Load), "low_MPa": nil, "high_MPa": nil}
			if len(all) > 0 {
				gasket["low_MPa"], gasket["high_MPa"] = stress(low.LowLoad()), stress(high.HighLoad())
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
