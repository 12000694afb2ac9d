package report

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// decoded is the JSON of a job's plan as another program reads it.
func decoded(t *testing.T, j job.Job, on joint.Date) map[string]any {
	t.Helper()
	p, findings := j.Plan(on)
	return decodedPlan(t, j, p, findings)
}

func decodedPlan(t *testing.T, j job.Job, p sequence.Plan, findings []joint.Finding) map[string]any {
	t.Helper()
	text, err := json.Marshal(PlanJSON(j, p, findings))
	if err != nil {
		t.Fatal(err)
	}
	var v map[string]any
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// at follows keys, "#0" the first of a list. A key that is missing is not null.
func at(v any, path string) (any, error) {
	for _, key := range strings.Fields(path) {
		switch m := v.(type) {
		case map[string]any:
			next, ok := m[key]
			if !ok {
				return nil, fmt.Errorf("%s: there is no %s", path, key)
			}
			v = next
		case []any:
			i, err := strconv.Atoi(strings.TrimPrefix(key, "#"))
			if err != nil || i >= len(m) {
				return nil, fmt.Errorf("%s: the list has %d entries", path, len(m))
			}
			v = m[i]
		default:
			return nil, fmt.Errorf("%s: %v has no %s", path, v, key)
		}
	}
	return v, nil
}

// kindOf is the JSON type of a value.
func kindOf(v any) string {
	switch v.(type) {
	case nil:
		return "null"
	case float64:
		return "number"
	case string:
		return "text"
	case []any:
		return "list"
	case map[string]any:
		return "object"
	}
	return fmt.Sprintf("%T", v)
}

// TestJSONFields: the fields that other programs rely on, with what each holds
// where all is known. More may come; none of these may change.
func TestJSONFields(t *testing.T) {
	got := decoded(t, load(t, jobs+"strainer-8in-300.toml"), day)
	want := map[string]string{
		"format": "number", "tag": "text", "bolts": "number", "thread": "text", "area_mm2 tensile": "number", "area_mm2 root": "number",
		"target bolt_stress_MPa": "number", "target bolt_load_kN": "number", "target torque_Nm": "number", "target nut_factor": "number", "target yield_share": "number",
		"gasket area_mm2": "number", "gasket stress_MPa": "number", "stations #0 #0": "number", "passes #0 share": "number", "passes #0 tools #0 id": "text",
		"socket_mm": "number", "scatter low": "number", "scatter high": "number", "scatter low_load_kN": "number", "scatter high_load_kN": "number",
		"scatter parts #0 name": "text", "scatter parts #0 low": "number", "scatter parts #0 high": "number", "gasket low_MPa": "number", "gasket high_MPa": "number",
		"findings": "list", "snug_Nm": "number", "gap_places #0": "number", "inputs #0 key": "text", "inputs #0 value": "text", "inputs #0 origin": "text",
	}
	for _, key := range []string{"torque_Nm", "pressure_bar", "set_bar", "delivered_Nm", "least_bar", "most_bar", "foot_force_kN"} {
		want["passes #0 tools #0 "+key] = "number"
	}
	for path, kind := range want {
		v, err := at(got, path)
		if err != nil || kindOf(v) != kind {
			t.Errorf("%s is %v, %s is wanted: %v", path, v, kind, err)
		}
	}
	if v, _ := at(got, "format"); v != 1.0 {
		t.Errorf("format %v", v)
	}
	if zero := zeros("", got); zero != nil {
		t.Errorf("0 stands in %v", zero)
	}
}

// zeros lists where a 0 stands: nothing in a plan is 0 when it is known.
func zeros(path string, v any) (found []string) {
	switch v := v.(type) {
	case map[string]any:
		for key, one := range v {
			found = append(found, zeros(path+" "+key, one)...)
		}
	case []any:
		for _, one := range v {
			found = append(found, zeros(path+" #", one)...)
		}
	case float64:
		if v == 0 {
			found = append(found, path)
		}
	}
	return found
}

// TestJSONAgreesWithThePlan: the units are those that the names say.
func TestJSONAgreesWithThePlan(t *testing.T) {
	j := load(t, jobs+"strainer-8in-300.toml")
	p, findings := j.Plan(day)
	got := decodedPlan(t, j, p, findings)
	s := p.Passes[0].Settings[0]
	for path, want := range map[string]float64{
		"bolts": 12, "passes #0 share": 0.3, "target bolt_load_kN": float64(p.Aim.Load) / 1e3, "target torque_Nm": float64(p.Aim.Torque),
		"passes #0 tools #0 pressure_bar": float64(s.Pressure / unit.Bar), "passes #0 tools #0 set_bar": 2.1,
		"passes #0 tools #0 torque_Nm": float64(s.Torque), "passes #0 tools #0 delivered_Nm": float64(s.Delivered),
		"passes #0 tools #0 least_bar": float64(s.Least / unit.Bar), "passes #0 tools #0 most_bar": float64(s.Most / unit.Bar),
		"passes #0 tools #0 foot_force_kN": float64(s.Delivered) / 0.15 / 1e3, // the job's reaction arm is 150 mm
		// By hand: 12 bolts of 93.33 kN on the ring of 233.4 and 263.7 mm.
		"gasket stress_MPa": 94.67, "gasket area_mm2": 11829.8,
		"socket_mm": 36.5125, // 1-7/16 in, ASME B18.2.2 heavy hex
	} {
		v, err := at(got, path)
		f, ok := v.(float64)
		if err != nil || !ok || f < want*0.9999 || f > want*1.0001 {
			t.Errorf("%s is %v, want %v: %v", path, v, want, err)
		}
	}
}

// TestJSONUnknownIsNull takes out of a job what it can do without.
func TestJSONUnknownIsNull(t *testing.T) {
	for old, path := range map[string]string{
		"grade  = \"A193 B7\"":                       "target yield_share",
		"reaction_arm  = \"150 mm\"":                 "passes #0 tools #0 foot_force_kN",
		"type         = \"spiral wound, stainless\"": "gasket",
	} {
		got := decoded(t, changed(t, old, ""), day)
		if v, err := at(got, path); err != nil || v != nil {
			t.Errorf("without %s: %s is %v, %v", old, path, v, err)
		}
		if zero := zeros("", got); zero != nil {
			t.Errorf("without %s: 0 stands in %v", old, zero)
		}
	}
}

// TestJSONWithoutTarget: what computes without friction, no zero in what does not.
func TestJSONWithoutTarget(t *testing.T) {
	j := load(t, jobs+"strainer-8in-300.toml")
	j.Joint.Friction = joint.Friction{}
	got := decoded(t, j, day)
	for _, path := range []string{"target bolt_stress_MPa", "target bolt_load_kN", "target torque_Nm", "target nut_factor", "target yield_share", "gasket", "snug_Nm"} {
		if v, err := at(got, path); err != nil || v != nil {
			t.Errorf("%s is %v, %v", path, v, err)
		}
	}
	if zero := zeros("", got); zero != nil {
		t.Errorf("0 stands in %v", zero)
	}
}

// TestJSONWithErrors: what computes, passes an empty list, each finding with its place.
func TestJSONWithErrors(t *testing.T) {
	got := decoded(t, load(t, jobs+"strainer-8in-300.toml"), late)
	if passes, ok := got["passes"].([]any); !ok || len(passes) != 0 {
		t.Errorf("passes %v", got["passes"])
	}
	for path, kind := range map[string]string{"findings #0 severity": "text", "findings #0 code": "text", "findings #0 key": "text",
		"findings #0 text": "text", "findings #0 file": "text", "findings #0 line": "number", "target torque_Nm": "number", "stations #0 #0": "number"} {
		if v, err := at(got, path); err != nil || kindOf(v) != kind {
			t.Errorf("%s is %v, %s is wanted: %v", path, v, kind, err)
		}
	}
	for path, want := range map[string]any{"findings #0 severity": "error", "findings #0 code": "tool-due", "findings #0 line": 42.0} {
		if v, _ := at(got, path); v != want {
			t.Errorf("%s is %v, want %v", path, v, want)
		}
	}
}
