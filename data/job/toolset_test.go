package job

import (
	"os"
	"strings"
	"testing"

	"evenload/joint/unit"
)

func TestToolsOfJobsAndToolFiles(t *testing.T) {
	for name, c := range map[string]struct {
		ids    string
		system unit.System
	}{
		"strainer-8in-300.toml":   {"W-07", unit.US},
		"header-dn400-pn16.toml":  {"W-11", unit.SI},
		"tools/w-11.toml":         {"W-11", unit.SI},
		"booster-dn300-pn25.toml": {"W-21 W-22", unit.SI},
	} {
		tools, system, err := LoadTools(jobs + name)
		if err != nil {
			t.Error(err)
			continue
		}
		var ids []string
		for _, tool := range tools {
			ids = append(ids, tool.ID)
			if len(tool.Chart) < 5 || tool.Gauge.Division <= 0 {
				t.Errorf("%s: %+v", name, tool)
			}
		}
		if got := strings.Join(ids, " "); got != c.ids || system != c.system {
			t.Errorf("%s: %s in %s", name, got, system)
		}
	}
	text, err := os.ReadFile(jobs + "tools/w-11.toml")
	if err != nil {
		t.Fatal(err)
	}
	psi := strings.NewReplacer(`"0 to 10 bar"`, `"0 to 160 psi"`, `"0.1 bar"`, `"2 psi"`).Replace(string(text))
	if _, system, err := ParseTools("w.toml", []byte(psi), "."); err != nil || system != unit.US {
		t.Errorf("a gauge in psi: %s, %v", system, err)
	}
	for _, c := range []struct{ old, new, want string }{
		{`"0.1 bar"`, `"0.1 N"`, "w.toml:22: gauge.division"},
		{`"178 N·m"`, `"118 N·m"`, "w.toml:11: curve: point 2 does not rise in torque"},
		{`accuracy `, `acuracy `, "w.toml:6: unknown key \"acuracy\""},
		{`id            = "W-11"`, `file = "w.toml"`, "w.toml:2: a tool file cannot name another file"},
		{`curve = [`, `curve = [[`, "w.toml:"},
		{`curve = [`, `curves = [`, "w.toml:1: joint.tag is missing"}, // neither tool nor job
	} {
		changed := strings.Replace(string(text), c.old, c.new, 1)
		if _, _, err := ParseTools("w.toml", []byte(changed), "."); changed == string(text) || err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %s", c.new, err, c.want)
		}
	}
	if _, _, err := LoadTools(t.TempDir()); err == nil || !strings.Contains(err.Error(), "job or tool file") {
		t.Errorf("a folder: %v", err)
	}
}
