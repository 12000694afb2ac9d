package report

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A job that was changed beside its card is told, and is no damage of the card.
func TestVerifyTellsChangedJob(t *testing.T) {
	o := opened(t)
	j := load(t, "../../testdata/walk/drain-4.toml")
	o.JobSHA256 = j.SHA256
	c := begin(t, o)
	c.toBolt(1, 3)
	path := c.close()
	beside := filepath.Join(filepath.Dir(path), "drain-4.toml")
	text := read(t, "../../testdata/walk/drain-4.toml")
	for _, one := range []struct{ text, want string }{{"", ""}, {text, ""}, {text + "# later\n", "the job file drain-4.toml has changed since"}, {"nonsense", "the job file drain-4.toml has changed since"}} {
		if one.text != "" {
			if err := os.WriteFile(beside, []byte(one.text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		said, ok := Verify(path)
		if !ok || strings.Contains(said, "changed") != (one.want != "") || !strings.Contains(said, one.want) {
			t.Errorf("with %.20q beside the card: %q", one.text, said)
		}
	}
}
